"""The pipeline composed, and the only door: text in, assessment out. No clock, no file and no screen in here."""

from __future__ import annotations

from itertools import islice
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import collect
from routecheck.checks.run import run
from routecheck.reading.route_text import read_route
from routecheck.reckon.legs import reckon
from routecheck.reckon.resolve import entry_date, resolve

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterable, Iterator

    from routecheck.library.gazetteer import Library
    from routecheck.model import Assessment, Entry
    from routecheck.settings import Settings

CHUNK = 256


def assess_many(
    entries: Iterable[Entry], library: Library, settings: Settings, today: dt.date, *, chunk: int = CHUNK
) -> Iterator[Assessment]:
    """Assess routes in input order, `chunk` at a time. What is said of a route does not depend on the chunk."""
    checks = collect()
    waiting = iter(entries)
    while group := list(islice(waiting, chunk)):
        dates = [entry_date(entry, today) for entry in group]
        resolved = [resolve(read_route(e), library, d) for e, d in zip(group, dates, strict=True)]
        for route in reckon(resolved, dates):
            yield run(route, checks, settings.limits)


def assess(entry: Entry, library: Library, settings: Settings, today: dt.date) -> Assessment:
    """Assess one route."""
    return next(assess_many([entry], library, settings, today))
