"""The registry of output formats: what a run over many routes is written as."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.report import csv_rows, jsonl, text

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from routecheck.model import Assessment
    from routecheck.report.output_options import OutputOptions
    from routecheck.report.run_summary import RunSummary

    Writer = Callable[[Iterable[Assessment], RunSummary, OutputOptions], Iterator[str]]

OUTPUT_FORMATS: dict[str, Writer] = {"text": text.write, "jsonl": jsonl.write, "csv": csv_rows.write}
"""By the name on the command line. A writer takes assessments as they come, with the summary that counts them and
what is asked of the output, and gives pieces of text; the first format is the usual one."""
