"""The registry of output formats: what a run over many routes is written as."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.report.csv_rows import CsvRows
from routecheck.report.html_table import HtmlTable
from routecheck.report.jsonl import JsonLines
from routecheck.report.text import Text

if TYPE_CHECKING:
    from routecheck.report.run import Report

OUTPUT_FORMATS: dict[str, type[Report]] = {"text": Text, "jsonl": JsonLines, "csv": CsvRows, "html": HtmlTable}
"""By the name on the command line; the first is the usual one. Made with what the user asks of the output."""
