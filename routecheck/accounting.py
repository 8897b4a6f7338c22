"""What stands beside a route and fits nothing in it: claims, windows, winds, alternates, acceptances, changes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.acceptances import acceptances_of
from routecheck.checks.claim_queries import match_claims
from routecheck.checks.read_across_rows import read_across_rows
from routecheck.corrections.candidate import value_in_words
from routecheck.formatting import quote, short
from routecheck.model import InputKind, NotUsed
from routecheck.performance.times import route_times
from routecheck.reading.input_fields import explain_unread
from routecheck.vertical.windows import unassigned_windows

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Assessment, Change, Claim, Route, RouteInput


def find_unused_values(assessment: Assessment) -> tuple[NotUsed, ...]:
    """What of the values beside a route is used by nothing, in the order of their kinds."""
    route_input = assessment.route.route_input
    if route_input.unread or not _has_values(route_input):
        return ()
    route = assessment.route
    return (
        *_unread_fields(route_input),
        *_unused_claims(route),
        *_unused_windows(route),
        *_unused_winds(route),
        *_unused_alternates(route),
        *_unused_read_rows(route),
        *_unused_acceptances(assessment),
        *_unused_changes(route_input),
    )


def _has_values(given: RouteInput) -> bool:
    lists = (
        given.typed,
        given.claims,
        given.windows,
        given.wind,
        given.alternate,
        given.alternate_route,
        given.read_across,
        given.accepted,
        given.changed,
    )
    return any(lists) or given.isa_deviation_c is not None


def _unread_fields(given: RouteInput) -> Iterator[NotUsed]:
    where = f"line {given.origin.line}" if given.origin.line else ""
    for name, text in given.typed:
        yield NotUsed(InputKind.FIELD, name, where, explain_unread(name, text))


def _unused_claims(route: Route) -> Iterator[NotUsed]:
    if not route.route_input.claims:
        return
    match = match_claims(route)
    placed = [*(leg.claim for leg in match.legs), *(claim for claim, _ in match.other_positions), match.at_departure]
    for number, claim in enumerate(route.route_input.claims, start=1):
        table = f"claim {number}"
        if all(claim is not one for one in placed):
            yield NotUsed(InputKind.CLAIM, table, "", _explain_astray(route, claim))
        elif half := _half_of_position(claim):
            yield NotUsed(InputKind.CLAIM, half, table, "a position is lat and lon")


def _explain_astray(route: Route, claim: Claim) -> str:
    if not claim.to:
        return "it names no point (to)"
    if any(point.text == claim.to for point in route.points):
        return f"the route does not go by {short(claim.to)} behind the point of the claim before it"
    return f"the route has no point {short(claim.to)}"


def _half_of_position(claim: Claim) -> str:
    """The one of latitude and longitude that is stated without the other; "" where there is none."""
    if (claim.lat is None) == (claim.lon is None):
        return ""
    return "lon" if claim.lat is None else "lat"


def _unused_windows(route: Route) -> Iterator[NotUsed]:
    for window, why in unassigned_windows(route.route_input.windows, route.points):
        yield NotUsed(InputKind.WINDOW, f"altitude window {short(window.point)}", "", why)


def _unused_winds(route: Route) -> Iterator[NotUsed]:
    given = route.route_input
    if not given.wind and given.isa_deviation_c is None:
        return
    if all(leg is None for leg in route_times(route).legs):
        why = "no leg has a time that it could change"
        yield from (NotUsed(InputKind.WIND, name, "", why) for name in _names_of_air(given))
        return
    ends = {point.text.upper() for point in route.points[1:]}
    for wind in given.wind:
        if wind.to and wind.to not in ends:
            yield NotUsed(InputKind.WIND, f"wind to {short(wind.to)}", "", "no leg ends there")


def _names_of_air(given: RouteInput) -> Iterator[str]:
    if given.wind:
        yield "wind"
    if given.isa_deviation_c is not None:
        yield "isa_deviation_c"


def _unused_alternates(route: Route) -> Iterator[NotUsed]:
    """Alternates that are at no known place, and a route to none."""
    given = route.route_input
    for name, onward in zip(given.alternate, route.alternates, strict=False):
        if onward.points[-1].place is None:
            why = onward.points[-1].why.removeprefix(f"{name.upper()} is ") or "its place is not known"
            yield NotUsed(InputKind.ALTERNATE, f"alternate {short(name)}", "", why)
    if given.alternate_route and not given.alternate:
        yield NotUsed(InputKind.ALTERNATE, "alternate_route", "", "no alternate is stated that it leads to")


def _unused_read_rows(route: Route) -> Iterator[NotUsed]:
    """Rows that were read across and stand nowhere any more as they were read."""
    read = route.route_input.read_across
    rows = {row.text for row in read_across_rows(route)} if read else set()
    for mark in read.marks if read else ():
        if mark.row not in rows:
            yield NotUsed(InputKind.READ_ROW, f"row read across {quote(mark.row, 40)}", "", "no row reads so now")


def _unused_acceptances(assessment: Assessment) -> Iterator[NotUsed]:
    """Acceptances of what is no finding. One of a finding that reads otherwise by now is said beside that finding."""
    given = assessment.route.route_input
    if not given.accepted:
        return
    known = {check for check, _ in assessment.outcomes}
    fitting = [one for finding in assessment.findings for one in acceptances_of(given, finding)]
    for number, accepted in enumerate(given.accepted, start=1):
        if accepted not in fitting:
            words = f" at {quote(accepted.words)}" if accepted.words else ""
            why = f"there is no finding {short(accepted.check, 40)}{words}"
            if accepted.check not in known:
                why = f"there is no check {quote(accepted.check)}"
            yield NotUsed(InputKind.ACCEPTANCE, f"accepted {number}", "", why)


def _unused_changes(given: RouteInput) -> Iterator[NotUsed]:
    for number, change in enumerate(given.changed, start=1):
        if why := _find_misfit(change, given):
            yield NotUsed(InputKind.CHANGE, f"changed {number}", "", why)


def _find_misfit(change: Change, given: RouteInput) -> str:
    """Why a change cannot have been made to this input; "" where it can. What was taken out stands nowhere."""
    new = " ".join(change.new.split())
    if not new:
        return ""
    if not change.field:
        there = change.at < 0 or new.upper() in " ".join(given.route.split()).upper()
        return "" if there else f"{quote(new)} does not stand in the route"
    value = getattr(given, change.field, "")
    stated = [value_in_words(one) for one in ((value,) if isinstance(value, str) else value)]
    return "" if new in stated else f"{change.field.replace('_', ' ')} is {quote(', '.join(stated))}"
