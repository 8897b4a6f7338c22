"""Lists of known routes read and kept beside the window, each on a thread of its own. No widget is touched here."""

from __future__ import annotations

import logging
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from routecheck.gui import persistence
from routecheck.gui.open_files import describe_trouble
from routecheck.gui.side_job import SideJob
from routecheck.settings import DataError, UsageError

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Callable, Iterable, Iterator

    from routecheck.known.intake import Intake
    from routecheck.known.sources import Source
    from routecheck.model import Assessment, RouteInput
    from routecheck.navdata.database import NavDatabase
    from routecheck.settings import Settings

Item = TypeVar("Item")
LOG = logging.getLogger(__name__)
_EVERY_ROWS = 64
"""So often a reader tells how far it is."""


class _StoppedError(Exception):
    """The work is no longer wanted."""


class _FencedJob(SideJob):
    """Work on several lists: one that cannot be used costs itself, and why is kept as a sentence."""

    def __init__(self, name: str, end: Callable[..., None]) -> None:
        super().__init__(name, end)
        self._faults: list[str] = []

    @property
    def fault(self) -> str:
        """Why lists could not be used; "" where all could."""
        return " ".join(self._faults)

    def do_each(self, does: Callable[[Item], None], items: Iterable[Item]) -> None:
        """Do something with each of several things."""
        try:
            for item in items:
                self._do_within_fence(does, item)
        except _StoppedError:
            LOG.info("adding known routes was stopped")

    def _do_within_fence(self, does: Callable[[Item], None], item: Item) -> None:
        try:
            does(item)
        except _StoppedError:
            raise
        except (DataError, UsageError, OSError) as trouble:
            self._faults.append(f"Known routes not added. {describe_trouble(trouble)}")
        except Exception:
            LOG.exception("adding known routes failed")
            self._faults.append(f"Known routes not added: our mistake, told in {persistence.log_file()}.")


class ReadingJob(_FencedJob):
    """Reads and checks lists; `intakes` holds what they were found to hold."""

    def __init__(
        self,
        paths: Iterable[str],
        judge: Callable[[Iterable[RouteInput]], Iterator[Assessment]],
        database: NavDatabase,
        today: dt.date,
        *,
        report: Callable[[ReadingJob, float], None],
        end: Callable[[ReadingJob], None],
    ) -> None:
        super().__init__("known routes", end)
        self.intakes: list[Intake] = []
        self._paths, self._judge, self._database, self._today = tuple(paths), judge, database, today
        self._report = report

    def work(self) -> None:
        """Read every list."""
        from routecheck.known.sources import group_sources

        self.do_each(self._read, group_sources([Path(path) for path in self._paths]))

    def _read(self, source: Source) -> None:
        """Read the list or the route files of one collection, row by row."""
        from routecheck.files import read_bytes
        from routecheck.known.intake import Intake, take_in_files

        contents = [(path.name, read_bytes(path)) for path in source.files]
        expected = sum(data.count(b"\n") + 1 for _, data in contents)
        intake = Intake(source.name)
        for row, _ in enumerate(take_in_files(contents, intake, self._database, self._today, judge=self._judge)):
            if row % _EVERY_ROWS == 0:
                self._step(min(row / expected, 0.999))
        self.intakes.append(intake)

    def _step(self, share: float) -> None:
        if not self.tell(lambda: self._report(self, share)):
            raise _StoppedError


class KeepingJob(_FencedJob):
    """Compiles lists that were read, and keeps them for every run."""

    def __init__(self, intakes: Iterable[Intake], added: str, end: Callable[[KeepingJob], None]) -> None:
        super().__init__("known routes", end)
        self._intakes, self._added = tuple(intakes), added

    def work(self) -> None:
        """Compile and write each."""
        self.do_each(self._keep, self._intakes)

    def _keep(self, intake: Intake) -> None:
        from routecheck.known import store
        from routecheck.known.choice import compile_intake

        store.keep_collection(compile_intake(intake, self._added))


def make_judge(
    database: NavDatabase, settings: Settings, today: dt.date
) -> Callable[[Iterable[RouteInput]], Iterator[Assessment]]:
    """What checks the rows of a list, without any known routes."""
    from routecheck.pipeline import assess_many

    return lambda inputs: assess_many(inputs, database, settings, today, chunk=_EVERY_ROWS)
