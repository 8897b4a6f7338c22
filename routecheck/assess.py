"""The pipeline composed, and the only door: text in, assessment out. No clock, no file and no screen in here."""

from __future__ import annotations

import logging
from dataclasses import replace
from itertools import islice
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import collect
from routecheck.checks.run import run
from routecheck.corrections.beside import with_beside
from routecheck.corrections.best import best_edits
from routecheck.corrections.proposals import BEST_EDIT, proven, with_proposals
from routecheck.entry_errors.costs import most_tried
from routecheck.formatting import listing, short
from routecheck.geometry.legs import compute_routes
from routecheck.model import Outcome
from routecheck.reading.route_text import read_route
from routecheck.resolution.resolve import entry_date, resolve
from routecheck.vertical.minima import with_minima

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterable, Iterator, Sequence

    from routecheck.checks.catalogue import Check
    from routecheck.corrections.route_inputs import Again
    from routecheck.model import Assessment, Route, RouteInput
    from routecheck.navdata.database import NavDatabase
    from routecheck.settings import Settings

CHUNK = 256
_LOG = logging.getLogger(__name__)


def assess_many(
    route_inputs: Iterable[RouteInput], database: NavDatabase, settings: Settings, today: dt.date, *, chunk: int = CHUNK
) -> Iterator[Assessment]:
    """Assess routes in input order, `chunk` at a time. What is said of a route does not depend on the chunk."""
    checks = collect()

    def again(corrected: Sequence[RouteInput]) -> list[Assessment]:
        """Corrected routes assessed by the checks alone, without asking for corrections again."""
        return [run(route, checks, settings.limits) for route in _routes(corrected, database, today)]

    waiting = (_with_sheet(route_input, settings) for route_input in route_inputs)
    while group := list(islice(waiting, chunk)):
        for route in _routes(group, database, today):
            try:
                assessment = _corrected(route, database, checks, settings, again)
            except Exception as error:
                assessment = _without_corrections(run(route, checks, settings.limits), error)
            yield assessment


def _without_corrections(assessment: Assessment, error: Exception) -> Assessment:
    """What the checks alone say, and that our search for corrections failed."""
    _LOG.error("corrections could not be looked for", exc_info=error)
    could_not_run = (*assessment.could_not_run, (BEST_EDIT, f"{type(error).__name__}: {error}"))
    outcomes = tuple((n, Outcome.COULD_NOT_RUN if n == BEST_EDIT else outcome) for n, outcome in assessment.outcomes)
    return replace(assessment, could_not_run=could_not_run, outcomes=outcomes)


def assess(route_input: RouteInput, database: NavDatabase, settings: Settings, today: dt.date) -> Assessment:
    """Assess one route."""
    return next(assess_many([route_input], database, settings, today))


def _routes(group: Sequence[RouteInput], database: NavDatabase, today: dt.date) -> list[Route]:
    dates = [entry_date(route_input, today) for route_input in group]
    read = [read_route(route_input) for route_input in group]
    resolved = [resolve(words, database, date) for words, date in zip(read, dates, strict=True)]
    return [with_minima(route, database) for route in compute_routes(resolved, dates)]


def _with_sheet(route_input: RouteInput, settings: Settings) -> RouteInput:
    """The entry with the Aircraft sheet that it names; where there is none of that name, that is said."""
    if not route_input.aircraft_sheet or route_input.sheet:
        return route_input
    sheet = settings.sheet(route_input.aircraft_sheet)
    if sheet:
        return replace(route_input, sheet=sheet)
    there = listing([sheet.name for sheet in settings.sheets])
    remark = (
        f"Not used: the Aircraft sheet “{short(route_input.aircraft_sheet)}”; there is none of that name, only {there}."
    )
    return replace(route_input, remarks=(*route_input.remarks, remark))


def _with_edits(route: Route, database: NavDatabase) -> Route:
    """The route with the best correction of each stretch, of a very long one only the clearest or none."""
    most = most_tried(len(route.parsed.words))
    found = best_edits(route.resolved, database) if most else ()
    return replace(route, best_edits=found[:most], edits_not_tried=len(found[most:])) if found else route


def _corrected(
    route: Route, database: NavDatabase, checks: Sequence[Check], settings: Settings, again: Again
) -> Assessment:
    """Run the checks and try the corrections; what does not hold when tried is taken back, and the checks run again."""
    edited = _with_edits(route, database)
    assessment = with_proposals(run(edited, checks, settings.limits), again)
    held = proven(assessment)
    if len(held) < len(edited.best_edits):
        assessment = with_proposals(run(replace(edited, best_edits=held), checks, settings.limits), again)
    return with_beside(assessment, database, again)
