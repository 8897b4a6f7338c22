"""A worklist: many routes read from files, their rows as they come, and what somebody accepted. No screen in here."""

from __future__ import annotations

import os
from dataclasses import replace
from itertools import islice
from typing import TYPE_CHECKING

from routecheck import files
from routecheck.reading.folders import list_folder
from routecheck.reading.inputs import read_input
from routecheck.report.output_formats import OUTPUT_FORMATS
from routecheck.report.output_options import EVERYTHING
from routecheck.report.run import Run
from routecheck.report.run_summary import RunSummary
from routecheck.worklist.acceptances import AcceptanceFile
from routecheck.worklist.processes import Work, check_in_processes
from routecheck.worklist.rows import WorklistRows

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterator
    from pathlib import Path

    from routecheck.known.choice import KnownChoice
    from routecheck.model import RouteInput
    from routecheck.navdata.choice import DataChoice
    from routecheck.report.run import Report
    from routecheck.settings import Settings
    from routecheck.worklist.rows import WorklistRow

_GROUP = 64
"""So many routes go to a process at a time: the first rows are soon there, and work that is stopped soon ends."""
_MOST_PROCESSES = 8


class Worklist:
    """The routes of a file or a folder. Rows and inputs stand in the order of the routes; a row comes when checked."""

    def __init__(
        self, path: Path, data: DataChoice, settings: Settings, today: dt.date, known: KnownChoice | None = None
    ) -> None:
        self.path = path
        self.inputs: list[RouteInput] = []
        self.rows: list[WorklistRow] = []
        self.summary = RunSummary()
        self.acceptances = AcceptanceFile(path)
        self._data, self._settings, self._today, self._known = data, settings, today, known

    def check(self, jobs: int = 0) -> Iterator[int]:
        """Read and check everything, in `jobs` processes (0 = as many as suit), and give how many rows there are.

        Closing it ends the work; the rows so far stay. Raises OSError, UsageError, DataError, LostProcessError.
        """
        self.acceptances.read()
        report = WorklistRows()
        run = Run(report, self.summary)
        for _ in check_in_processes(self._read_groups(), self._work(report), run, jobs or _suitable_processes()):
            if len(report.rows) > len(self.rows):
                self.rows += report.rows[len(self.rows) :]
                yield len(self.rows)
        self.summary.is_finished = True

    def write(self, output_format: str, jobs: int = 0) -> Iterator[str]:
        """Write everything in one of the output formats, as `routecheck proof` does. Raises like `check`."""
        report = OUTPUT_FORMATS[output_format](EVERYTHING)
        run = Run(report, RunSummary())
        inputs = self.inputs
        yield report.begin(inputs[: report.looks_ahead])
        groups = (inputs[i : i + _GROUP] for i in range(0, len(inputs), _GROUP))
        answers = check_in_processes(groups, self._work(report), run, jobs or _suitable_processes())
        yield from run.write(answers, worst_first=False)

    def input_of(self, number: int) -> RouteInput:
        """A route of the list as the window opens it, with what was accepted of it."""
        return replace(self.inputs[number], accepted=self.acceptances.of_row(self.rows[number]))

    def _work(self, report: Report) -> Work:
        return Work(data=self._data, known=self._known, settings=self._settings, today=self._today, report=report)

    def _read_groups(self) -> Iterator[list[RouteInput]]:
        """Read the routes, a group at a time, and keep them."""
        routes = self.summary.count_rows(self._read())
        while group := list(islice(routes, _GROUP)):
            self.inputs += group
            yield group

    def _read(self) -> Iterator[RouteInput]:
        paths = list_folder(self.path)[0] if self.path.is_dir() else [self.path]
        for path in paths:
            yield from read_input(files.read_bytes(path), str(path))


def _suitable_processes() -> int:
    return min(os.cpu_count() or 1, _MOST_PROCESSES)
