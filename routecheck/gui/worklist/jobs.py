"""Checking and writing a worklist beside its window. What a job brings is dropped once it is stopped."""

from __future__ import annotations

import logging
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from routecheck.faults import DataError, LostProcessError, UsageError
from routecheck.files import draft_in
from routecheck.gui import persistence
from routecheck.gui.open_files import describe_trouble
from routecheck.gui.side_job import SideJob

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable
    from pathlib import Path

    from routecheck.worklist.worklist import Worklist

LOG = logging.getLogger(__name__)
_TROUBLE = (OSError, UsageError, DataError, LostProcessError)


class _Job(SideJob):
    """One piece of work in steps; `fault` says why it ended early, "" where it did not."""

    def __init__(self, steps: Callable[[], Iterable[object]], end: Callable[[_Job], None]) -> None:
        super().__init__("worklist", end)
        self.fault = ""
        self._steps = steps

    def work(self) -> None:
        """Take the steps as long as somebody wants it."""
        try:
            for _ in self._steps():
                if not self.tell(lambda: None):
                    return
        except _TROUBLE as trouble:
            self.fault = describe_trouble(trouble)
        except Exception:
            LOG.exception("working through a worklist failed")
            self.fault = f"Our mistake, told in {persistence.log_file()}."


class WorklistJobs(QObject):
    """The one job at a time that a worklist's window has."""

    ended = Signal(str)
    """A job ended by itself: why early, "" where it did all."""
    _ended = Signal(object)

    def __init__(self, worklist: Worklist, parent: QObject) -> None:
        super().__init__(parent)
        self._worklist = worklist
        self._running: _Job | None = None
        self._ended.connect(self._take_end)

    @property
    def is_running(self) -> bool:
        """Whether a job is running."""
        return self._running is not None

    def check(self) -> None:
        """Check the worklist."""
        self._start(self._worklist.check)

    def write(self, path: Path, output_format: str) -> None:
        """Write the worklist to a file, whole or not at all."""
        self._start(lambda: _write(self._worklist, path, output_format))

    def stop(self) -> None:
        """Give up what is running. The rows that came stay."""
        if self._running is not None:
            self._running.abandon()
            self._running = None

    def _start(self, steps: Callable[[], Iterable[object]]) -> None:
        self.stop()
        self._running = _Job(steps, self._ended.emit)
        self._running.start()

    def _take_end(self, job: _Job) -> None:
        if job is self._running:
            self._running = None
            self.ended.emit(job.fault)


def _write(worklist: Worklist, path: Path, output_format: str) -> Iterable[object]:
    with draft_in(path.parent) as draft:
        for piece in worklist.write(output_format):
            yield draft.stream.write(piece.encode())
        draft.put_in_place(path)
