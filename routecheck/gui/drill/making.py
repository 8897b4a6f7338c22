"""Makes a drill beside the window: checking the routes it begins with may take seconds."""

from __future__ import annotations

import logging
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from routecheck import files
from routecheck.drill.making import make_drill, training_day
from routecheck.drill.progress import DrillInHand
from routecheck.drill.sources import read_demo_source, read_source
from routecheck.faults import DataError, UsageError
from routecheck.formatting import count, listing
from routecheck.gui import persistence
from routecheck.gui.open_files import describe_trouble
from routecheck.gui.side_job import SideJob
from routecheck.navdata.database import demo_database

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.drill.making import DrillOrder, DrillSource
    from routecheck.navdata.database import NavDatabase
    from routecheck.settings import Settings

LOG = logging.getLogger(__name__)
DEMO = "demo region"


class _StoppedError(Exception):
    """The drill is no longer wanted."""


class DrillWish(NamedTuple):
    """What drill is wanted: `paths` () = of the demo region."""

    order: DrillOrder
    paths: tuple[str, ...]
    trainee: str


class DrillMaking(SideJob):
    """Makes one drill; `drill` holds it, `fault` why there is none."""

    def __init__(
        self,
        wish: DrillWish,
        database: NavDatabase | None,
        settings: Settings,
        *,
        report: Callable[[int, int], None],
        end: Callable[[DrillMaking], None],
    ) -> None:
        super().__init__("drill", end)
        self.drill: DrillInHand | None = None
        self.fault = ""
        self._wish, self._database, self._settings, self._report = wish, database, settings, report

    def work(self) -> None:
        """Make it."""
        try:
            self._make()
        except _StoppedError:
            LOG.info("making a drill was stopped")
        except (OSError, UsageError, DataError) as trouble:
            self.fault = describe_trouble(trouble)
        except Exception:
            LOG.exception("making a drill failed")
            self.fault = f"Our mistake, told in {persistence.log_file()}."

    def _make(self) -> None:
        order, paths, trainee = self._wish
        database = self._database if paths else demo_database()
        if database is None:
            self.fault = "The navigation data is still being loaded."
            return
        day = training_day(database)
        if paths:
            read = ((Path(path).name, files.read_bytes(Path(path))) for path in paths)
            source = read_source(read, database, self._settings, day, self._tell_progress)
        else:
            source = read_demo_source(database, self._settings, day)
        cases = make_drill(order, source, database, day)
        if not cases:
            self.fault = "No route of them is in order and checked in full: an error can be planted in no other."
            return
        about = describe_drill(order, paths, len(cases), source)
        self.drill = DrillInHand(cases, trainee=trainee, about=about, data=name_data(database))

    def _tell_progress(self, done: int, of: int) -> None:
        if not self.tell(lambda: self._report(done, of)):
            raise _StoppedError


def name_data(database: NavDatabase) -> str:
    """The loaded data by name and cycle."""
    return listing([f"{source.name} (cycle {source.cycle or 'not said'})" for source in database.sources])


def describe_drill(order: DrillOrder, paths: tuple[str, ...], made: int, source: DrillSource) -> str:
    """What a drill is, so that a class can have the same: "seed 7, 20 routes of the demo region, difficulty 2"."""
    origin = listing([Path(path).name for path in paths]) or f"the {DEMO}"
    used = f" ({len(source.usable):,} of {count(source.given, 'route')} usable)" if paths else ""
    return f"seed {order.seed}, {count(made, 'route')} of {origin}{used}, difficulty {order.difficulty}"
