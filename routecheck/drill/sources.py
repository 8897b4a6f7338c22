"""What a drill is made from: routes of the demo region or of files, and an instructor's own cases (drill.toml)."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.drill.making import DrillSource, usable_routes
from routecheck.drill.own_cases import read_own_cases
from routecheck.reading.decoding import decode
from routecheck.reading.inputs import read_input
from routecheck.reading.samples import read_samples

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Callable, Iterable

    from routecheck.drill.cases import DrillCase
    from routecheck.model import RouteInput
    from routecheck.navdata.database import NavDatabase
    from routecheck.settings import Settings


def read_demo_source(database: NavDatabase, settings: Settings, day: dt.date) -> DrillSource:
    """The routes of the demo region."""
    routes = [one for _, one in read_samples("clean")]
    return DrillSource((), usable_routes(routes, database, settings, day), len(routes))


def read_source(
    files: Iterable[tuple[str, bytes]],
    database: NavDatabase,
    settings: Settings,
    day: dt.date,
    report: Callable[[int, int], None] = lambda _done, _of: None,
) -> DrillSource:
    """The routes and own cases of files, by name. Raises UsageError where a file of cases is wrong.

    `report` is told how many routes of how many were checked; it may raise to stop.
    """
    own: list[DrillCase] = []
    routes: list[RouteInput] = []
    given = 0
    for name, content in files:
        text = decode(content)
        if name.endswith(".toml") and text and "[[case]]" in text:
            own += read_own_cases(text, name)
        else:
            every = list(read_input(content, name))
            given += len(every)
            routes += (one for one in every if not one.unread)
    return DrillSource(own, usable_routes(routes, database, settings, day, report), given)
