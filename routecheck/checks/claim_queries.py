"""What checks ask of the figures that a plan states: which leg each is about, and what rounding leaves open."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from routecheck.checks.per_route_cache import cached_per_route
from routecheck.checks.route_queries import spans_of_point
from routecheck.formatting import listing, short
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Claim, UnknownProcedure

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.checks.catalogue import Requirement
    from routecheck.model import PathPoint, Route, Span


@dataclass(frozen=True, slots=True)
class StatedFigure:
    """A figure and half of its last digit: by how much rounding alone may have moved it."""

    figure: float
    half: float


@dataclass(frozen=True, slots=True)
class ClaimedLeg:
    """A claim with the points of the path that its leg may run between.

    `starts` are the points it may begin at, likeliest first: the point of the claim before, the point before in the
    text, the point before on the path (a plan may leave out what lies inside an airway).
    """

    claim: Claim
    before: Claim | None
    """The last claim before it that the route has a point for."""
    is_next: bool
    """Whether that is the claim directly before, so that the leg begins where its leg ends."""
    starts: tuple[int, ...]
    end: int


@dataclass(frozen=True, slots=True)
class ClaimMatch:
    """All claims of a route: those about a leg or point of it, in order, and those about a point that it has not.

    `other_positions` are claims that only state another position for the point of the claim before, each with the index
    of that point.
    """

    legs: tuple[ClaimedLeg, ...]
    at_departure: Claim | None
    unplaced: tuple[Claim, ...]
    other_positions: tuple[tuple[Claim, int], ...] = ()


@cached_per_route
def match_claims(route: Route) -> ClaimMatch:
    """Find for every claim the next point of its name on the path. What has none costs the others nothing."""
    legs: list[ClaimedLeg] = []
    unplaced: list[Claim] = []
    other_positions: list[tuple[Claim, int]] = []
    at_departure: Claim | None = None
    last, before, is_next = 0, None, True
    for number, claim in enumerate(route.route_input.claims):
        at = _find_point(route.points, claim.to, last + 1 if number else 0)
        if at is None and before and _says_only_where(claim, before):
            other_positions.append((claim, last))
            continue
        if at is None:
            if not claim.is_unnamed:
                unplaced.append(claim)
            is_next = False
            continue
        if at == 0:
            at_departure = claim
        else:
            starts = _find_starts(route, last if before else None, at)
            legs.append(ClaimedLeg(claim, before, is_next=is_next, starts=starts, end=at))
        last, before, is_next = at, claim, True
    return ClaimMatch(tuple(legs), at_departure, tuple(unplaced), tuple(other_positions))


def _says_only_where(claim: Claim, before: Claim) -> bool:
    """Whether it repeats the point of the claim before with a position and nothing else."""
    return claim == Claim(before.to, lat=claim.lat, lon=claim.lon, precision_deg=claim.precision_deg)


def _find_point(points: Sequence[PathPoint], name: str, first: int) -> int | None:
    return next((i for i in range(first, len(points)) if points[i].text == name), None)


def _find_starts(route: Route, last: int | None, end: int) -> tuple[int, ...]:
    named = next((i for i in range(end - 1, -1, -1) if route.points[i].route_point is not None), 0)
    found = [named, end - 1] if last is None else [last, named, end - 1]
    return tuple(dict.fromkeys(found))


def claims_some(*names: str) -> Requirement:
    """A requirement: the plan states one of these figures of some leg."""

    def lacking(route: Route) -> str:
        claims = route.route_input.claims
        stated = any(getattr(claim, name) is not None for claim in claims for name in names)
        return "" if stated else NOTHING_CLAIMED

    return lacking


_FIT_NM, _FIT_SHARE = 0.1, 0.005
"""A length fits that is no farther off than this and its rounding (our choice)."""
NOTHING_CLAIMED = "the plan states no such figure"


def stated_distance(leg: ClaimedLeg) -> StatedFigure | None:
    """The length that the plan gives a leg: as stated, or as the difference of two distances from the departure."""
    return _stated_or_difference(leg, "distance_nm", "distance_so_far_nm", "distance_left_nm")


def count_fitting_claims(route: Route) -> int:
    """How many legs have the length that the plan states for them, by its rounding and half a percent."""
    return sum(_fits(route, leg) for leg in match_claims(route).legs) if route.route_input.claims else 0


def _fits(route: Route, leg: ClaimedLeg) -> bool:
    stated = stated_distance(leg)
    lengths = [length_between(route, start, leg.end) for start in leg.starts]
    return stated is not None and any(
        abs(length - stated.figure) <= stated.half + _FIT_NM + _FIT_SHARE * length for length in lengths if length
    )


def stated_time(leg: ClaimedLeg) -> StatedFigure | None:
    """The time that the plan gives a leg, minutes: as stated, or as the difference of two times from take-off."""
    return _stated_or_difference(leg, "time_min", "time_so_far_min", "time_left_min")


def stated_distances(leg: ClaimedLeg) -> list[StatedFigure]:
    """Every length that the plan gives a leg, its own first: where they disagree the plan contradicts itself."""
    return list(_all_stated(leg, "distance_nm", "distance_so_far_nm", "distance_left_nm"))


def _stated_or_difference(leg: ClaimedLeg, own: str, so_far: str, left: str) -> StatedFigure | None:
    return next(_all_stated(leg, own, so_far, left), None)


def _all_stated(leg: ClaimedLeg, own: str, so_far: str, left: str) -> Iterator[StatedFigure]:
    claim = leg.claim
    if (figure := getattr(claim, own)) is not None:
        yield StatedFigure(figure, _half_of_leg(claim, own, so_far, left))
    for name, sign in ((so_far, 1.0), (left, -1.0)):
        now = getattr(claim, name)
        then = getattr(leg.before, name) if leg.before else None
        if now is not None and then is not None and leg.before:
            begins = 0.0 if leg.starts[0] == 0 and not then else leg.before.half(name)  # no distance is no rounding
            yield StatedFigure(sign * (now - then), claim.half(name) + begins)
        elif now is not None and leg.before is None and name == so_far and leg.starts[0] == 0:
            yield StatedFigure(now, claim.half(name))


def _half_of_leg(claim: Claim, own: str, so_far: str, left: str) -> float:
    """What rounding may have moved the figure of a leg by: twice as much where it may be the difference of two sums."""
    half = claim.half(own)
    sums = [name for name in (so_far, left) if getattr(claim, name) is not None]
    return 2.0 * half if any(claim.half(name) >= half for name in sums) else half


def half_of_leg_time(claim: Claim) -> float:
    """What rounding may have moved the time of a leg by, minutes."""
    return _half_of_leg(claim, "time_min", "time_so_far_min", "time_left_min")


def stated_whole_distance(route: Route) -> StatedFigure | None:
    """The distance from aerodrome to aerodrome by the plan: its total, or what it states so far at the destination."""
    return _find_whole(route, "distance_nm", "distance_so_far_nm", "distance_left_nm")


def stated_whole_time(route: Route) -> StatedFigure | None:
    """The time from aerodrome to aerodrome by the plan, minutes."""
    return _find_whole(route, "time_min", "time_so_far_min", "time_left_min")


def _find_whole(route: Route, of_total: str, so_far: str, left: str) -> StatedFigure | None:
    totals, match = route.route_input.stated_totals, match_claims(route)
    if totals and (figure := getattr(totals, of_total)) is not None:
        return StatedFigure(figure, totals.half(of_total))
    last = match.legs[-1] if match.legs else None
    if last and last.end == len(route.points) - 1 and (figure := getattr(last.claim, so_far)) is not None:
        return StatedFigure(figure, last.claim.half(so_far))
    first = match.at_departure
    if first and (figure := getattr(first, left)) is not None:
        return StatedFigure(figure, first.half(left))
    return None


def follows_unknown_procedure(route: Route, start: int, end: int) -> bool:
    """Whether part of the path between two points stands for a procedure that the data does not have."""
    connections = {leg.connection for leg in route.legs[start:end]}
    faults = (route.resolved.connections[i].fault for i in connections)
    return any(isinstance(fault, UnknownProcedure) for fault in faults)


def length_between(route: Route, start: int, end: int) -> float | None:
    """The length of the path between two points; None where part of it has none."""
    lengths = [leg.distance_nm for leg in route.legs[start:end]]
    return None if None in lengths else sum(length for length in lengths if length is not None)


def position_uncertainty_nm(route: Route, point: int) -> float:
    """By how much the rounding of a typed position may have moved a point: whole minutes, half a minute each way."""
    here = route.points[point]
    number = None if here.route_point is None else route.resolved.route_points[here.route_point].word
    position = None if number is None else route.parsed.words[number].position
    if position is None or not position.precision_deg:
        return 0.0
    return 60.0 * position.precision_deg * math.hypot(1.0, math.cos(math.radians(position.lat)))


def name_leg(route: Route, start: int, end: int) -> str:
    """A leg by its ends: "LENDU–PIKAR"."""
    first, last = (route.points[i] for i in (start, end))
    return f"{short(first.text) or 'departure'}–{short(last.text) or 'destination'}"


def spans_of_leg(route: Route, end: int) -> tuple[Span, ...]:
    """The word at the end of a leg, to which a finding about its figures is pinned."""
    return spans_of_point(route.points[end])


def name_astray(route: Route) -> Iterator[str]:
    """In words, the claims that are about no point of the route."""
    unplaced = match_claims(route).unplaced
    if unplaced:
        names = listing([short(claim.to) or "no point" for claim in unplaced[:5]])
        yield f"the route has no point {names} where the plan states figures"
