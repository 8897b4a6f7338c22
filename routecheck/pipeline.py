"""The pipeline composed, and the only door: text in, assessment out. No clock, no file and no screen in here."""

from __future__ import annotations

import logging
from dataclasses import replace
from itertools import islice
from typing import TYPE_CHECKING

from routecheck.accounting import find_unused_values
from routecheck.checks.catalogue import collect
from routecheck.checks.runner import run_checks
from routecheck.checks.usage_queries import weigh_findings_by_usage
from routecheck.corrections.best_edits import with_best_edits
from routecheck.corrections.cases import edit_cases, finding_cases
from routecheck.corrections.proposals import keep_most_to_the_point, propose, proven_edits
from routecheck.corrections.scoring import Thresholds
from routecheck.corrections.verify import BEST_EDIT
from routecheck.formatting import listing, short
from routecheck.geometry.legs import compute_routes
from routecheck.model import (
    Assessment,
    Connection,
    InputKind,
    Leg,
    NotUsed,
    Outcome,
    ParsedRoute,
    PathPoint,
    ResolvedRoute,
    Route,
    RoutePoint,
    Stretch,
    Totals,
    Via,
)
from routecheck.performance.alternates import alternate_inputs
from routecheck.reading.input_fields import settle_fields
from routecheck.reading.route_text import read_route
from routecheck.resolution.resolve import resolve, route_date
from routecheck.vertical.minima import add_minima

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterable, Iterator, Sequence

    from routecheck.known.known_routes import KnownRoutes
    from routecheck.model import DataSource, RouteInput
    from routecheck.navdata.database import NavDatabase
    from routecheck.settings import Settings

CHUNK = 256
OUR_FAULT = "our program failed on this route"
_LOG = logging.getLogger(__name__)


def assess_many(
    route_inputs: Iterable[RouteInput],
    database: NavDatabase,
    settings: Settings,
    today: dt.date,
    *,
    known: KnownRoutes | None = None,
    chunk: int = CHUNK,
) -> Iterator[Assessment]:
    """Assess routes in input order, `chunk` at a time. What is said of a route does not depend on the chunk.

    With known routes they are compared with those. A fault of ours costs the one route in which it happens: its
    assessment says so, and the others stand.
    """
    pipeline = _Pipeline(database, settings, today, known)
    waiting = iter(route_inputs)
    while group := list(islice(waiting, chunk)):
        for route_input, route in zip(group, pipeline.compute_each(group), strict=True):
            yield pipeline.assess(route_input, route)


def assess(
    route_input: RouteInput,
    database: NavDatabase,
    settings: Settings,
    today: dt.date,
    known: KnownRoutes | None = None,
) -> Assessment:
    """Assess one route."""
    return next(assess_many([route_input], database, settings, today, known=known))


class _Pipeline:
    """The stages, with what they need besides the routes."""

    def __init__(
        self, database: NavDatabase, settings: Settings, today: dt.date, known: KnownRoutes | None = None
    ) -> None:
        self._database, self._settings, self._today = database, settings, today
        self._known = known if known is not None and known.collections else None
        self._checks = collect()
        self._thresholds = Thresholds.in_force(settings.limits)

    def compute_each(self, group: Sequence[RouteInput]) -> list[Route | Exception]:
        """Compute a group of routes together; where that raises, one by one, so that only the faulty one fails."""
        try:
            return list(self._compute(group))
        except Exception as error:
            if len(group) == 1:
                return [error]
        return [route for route_input in group for route in self.compute_each([route_input])]

    def assess(self, route_input: RouteInput, route: Route | Exception) -> Assessment:
        """Check a route and try corrections. Never raises: what could not run is said."""
        if isinstance(route, Exception):
            return self._fail(route_input, route)
        try:
            return _with_unused_values(self._compare(self._check(route)))
        except Exception as error:
            return self._fail(route_input, error)

    def _compare(self, assessment: Assessment) -> Assessment:
        """Compare a route with its other version, where it has one."""
        other = assessment.route.route_input.other
        if other is None:
            return assessment
        from routecheck.compare.compare import compare_routes  # few have one; the start of the window does not wait

        then = _with_unused_values(self._run_checks(*self._compute([other])))
        comparison = compare_routes(assessment.route, then.route)
        return replace(assessment, comparison=comparison, other=then)

    def _compute(self, group: Sequence[RouteInput]) -> list[Route]:
        """Read, resolve and measure routes, and look up their minima."""
        group = [_with_sheet(settle_fields(route_input), self._settings) for route_input in group]
        dates = [route_date(route_input, self._today) for route_input in group]
        read = [read_route(route_input) for route_input in group]
        resolved = [resolve(words, self._database, date) for words, date in zip(read, dates, strict=True)]
        routes = [add_minima(route, self._database) for route in compute_routes(resolved, dates, self._database)]
        if self._known is not None:
            routes = [_with_usage(route, self._known) for route in routes]
        return [self._with_alternates(route) if route.route_input.alternate else route for route in routes]

    def _with_alternates(self, route: Route) -> Route:
        """Add the way from the destination on to each alternate."""
        return replace(route, alternates=tuple(self._compute(alternate_inputs(route))))

    def _check(self, route: Route) -> Assessment:
        try:
            return self._check_and_correct(route)
        except Exception as error:
            return _without_corrections(self._run_checks(route), error)

    def _check_and_correct(self, route: Route) -> Assessment:
        """Run the checks and try corrections; those that do not hold are taken back, and the checks run again."""
        known = None if route.usage is None else self._known
        edited = with_best_edits(route, self._database, self._thresholds, known)
        assessment = self._propose_edits(self._run_checks(edited))
        proven = proven_edits(assessment)
        if len(proven) < len(edited.best_edits):
            assessment = self._propose_edits(self._run_checks(replace(edited, best_edits=proven)))
        return propose(assessment, finding_cases(assessment, self._database), self._assess_again)

    def _propose_edits(self, assessment: Assessment) -> Assessment:
        cases = edit_cases(assessment, self._thresholds.worth_saying)
        return keep_most_to_the_point(propose(assessment, cases, self._assess_again), assessment)

    def _assess_again(self, corrected: Sequence[RouteInput]) -> list[Assessment]:
        """Assess corrected routes by the checks alone, without looking for corrections."""
        return [self._run_checks(route) for route in self._compute(corrected)]

    def _run_checks(self, route: Route) -> Assessment:
        return weigh_findings_by_usage(run_checks(route, self._checks, self._settings.limits))

    def _fail(self, route_input: RouteInput, error: Exception) -> Assessment:
        return failed_assessment(route_input, error, self._database.sources, self._today)


def _with_usage(route: Route, known: KnownRoutes) -> Route:
    """Add what known routes say of a route; where they cannot be asked, that is said and the route stands."""
    try:
        return replace(route, usage=known.find_usage(route.resolved))
    except Exception as error:
        _LOG.exception("known routes could not be asked")
        mistake = f"known routes could not be asked ({_what_happened(error)})"
        return replace(route, own_mistakes=(*route.own_mistakes, mistake))


def _with_unused_values(assessment: Assessment) -> Assessment:
    """Name what stands beside a route and is used by nothing."""
    return replace(assessment, not_used=(*assessment.not_used, *find_unused_values(assessment)))


def failed_assessment(
    route_input: RouteInput, error: Exception, sources: tuple[DataSource, ...], today: dt.date
) -> Assessment:
    """Say that our program failed on a route: no check could run, and nothing of the route is known."""
    _LOG.error(OUR_FAULT, exc_info=error)
    failure = f"{OUR_FAULT} ({_what_happened(error)})"
    names = [check.name for check in collect()]
    return Assessment(
        route=_unknown_route(route_input, sources, today),
        findings=(),
        not_checked=(),
        could_not_run=tuple((name, failure) for name in names),
        outcomes=tuple((name, Outcome.COULD_NOT_RUN) for name in names),
        failure=failure,
        not_used=route_input.not_used,
    )


def _what_happened(error: Exception) -> str:
    return f"{type(error).__name__}: {error}"


def _with_sheet(route_input: RouteInput, settings: Settings) -> RouteInput:
    """Add the Aircraft sheet that a route input names; where there is none of that name, it is not used."""
    if not route_input.aircraft_sheet or route_input.sheet:
        return route_input
    sheet = settings.sheet(route_input.aircraft_sheet)
    if sheet:
        return replace(route_input, sheet=sheet)
    there = listing([sheet.name for sheet in settings.sheets])
    name = f"the Aircraft sheet “{short(route_input.aircraft_sheet)}”"
    unused = NotUsed(InputKind.FIELD, name, "", f"there is none of that name, only {there}")
    return replace(route_input, not_used=(*route_input.not_used, unused))


def _without_corrections(assessment: Assessment, error: Exception) -> Assessment:
    """What the checks alone say, and that our search for corrections failed."""
    _LOG.error("corrections could not be looked for", exc_info=error)
    could_not_run = (*assessment.could_not_run, (BEST_EDIT, _what_happened(error)))
    outcomes = tuple((n, Outcome.COULD_NOT_RUN if n == BEST_EDIT else outcome) for n, outcome in assessment.outcomes)
    return replace(assessment, could_not_run=could_not_run, outcomes=outcomes)


def _unknown_route(route_input: RouteInput, sources: tuple[DataSource, ...], today: dt.date) -> Route:
    """A route of which only the names of its aerodromes are known: one open stretch between two points not placed."""
    names = route_input.departure, route_input.destination
    resolved = ResolvedRoute(
        parsed=ParsedRoute(route_input, ()),
        route_points=tuple(RoutePoint(None, name, None, why=OUR_FAULT) for name in names),
        connections=(Connection(Via.UNKNOWN),),
        roles=(),
        sources=sources,
    )
    leg = Leg(
        Via.UNKNOWN.value,
        0,
        distance_nm=None,
        course_true_deg=None,
        end_course_true_deg=None,
        course_magnetic_deg=None,
        end_course_magnetic_deg=None,
        variation_from=None,
        least_nm=None,
        gap=OUR_FAULT,
    )
    lost = (Stretch(0, 1, None, OUR_FAULT),)
    return Route(
        resolved,
        points=tuple(PathPoint(name, None, None, index, why=OUR_FAULT) for index, name in enumerate(names)),
        legs=(leg,),
        turns=(None, None),
        totals=Totals(distance_nm=0.0, direct_nm=None, gaps=1, checked_nm=0.0, whole_nm=None, not_checked=lost),
        date=route_input.date or today,
    )
