"""Check ocean-odd-one-out."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import Family, Limit, Limits, case, check, exceeds
from routecheck.checks.route_queries import spans_of_point
from routecheck.citations import OWN_CHOICE
from routecheck.formatting import position
from routecheck.model import Fact, Finding, NotChecked, PlaceKind, Weight, WordKind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import PathPoint, Place, Route

_OCEAN = {"departure": "", "destination": ""}
LEAST_TURN = Limit("turn_deg", 15.0, "°", OWN_CHOICE, highest=180.0, why="whole and half degrees are mixed as cleared")
LEAST_DETOUR = Limit("detour_nm", 15.0, "NM", OWN_CHOICE)
_LEAST_POINTS = 4
"""So many ocean points in a row make a run, of which one can be odd."""


@check(
    "ocean-odd-one-out",
    Weight.DOUBTFUL,
    family=Family.LENGTH,
    sentence="In a run of ocean points one is a half degree among whole ones, or breaks the step of longitude.",
    explanation=(
        "A run is four and more typed positions in a row. Points in half degrees throughout stay quiet; irregular "
        "positions are no run. Whole degrees at every ten of longitude are the form of the 2010 edition of NAT Doc "
        "007; points in half degrees have been in use since 2014, and both are mixed as cleared. So the geometry must "
        "agree: a turn of 15° or a detour of 15 NM there. Constant latitude to the end is a Note: a one-degree slip in "
        "the last point cannot be seen from the route alone (the same edition, 15.3.1, has it second among the causes "
        "of gross errors)."
    ),
    false_alarms="a track that is left or joined in mid-ocean.",
    citations=["nat-errors", "nat-gross-errors", "half-degree-names"],
    limits=[LEAST_TURN, LEAST_DETOUR],
    applies_to=preconditions.has_words_of(WordKind.POSITION),
    flagged=[
        case("52N020W «5130N03000W» 52N040W 51N050W", **_OCEAN),
        case("52N020W 52N030W «53N047W» 52N050W 52N060W", **_OCEAN),
        case("57N020W 57N030W 57N040W «57N050W»", **_OCEAN),
    ],
    quiet=[
        case("52N020W 52N030W 51N040W 50N050W", **_OCEAN),
        case("5230N02000W 5330N03000W 5330N04000W 5230N05000W", **_OCEAN),
        case("2704N11627W 26N119W 2544N12000W 24N126W 22N133W 19N139W", **_OCEAN),
        case("57N020W 57N030W 57N040W 56N050W", **_OCEAN),
        case("53N020W 5330N03000W 54N040W 54N050W", **_OCEAN),
        case("52N020W 52N030W 51N045W 51N050W 50N060W", **_OCEAN),
    ],
)
def ocean_odd_one_out(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    for run in _runs(route):
        places = [place for _, _, place in run]
        half = [i for i, place in enumerate(places) if _is_half(place.lat)]
        whole = [i for i, place in enumerate(places) if place.lat == round(place.lat)]
        if len(half) == 1 and len(whole) == len(places) - 1 and _bends(route, run[half[0]], limit):
            yield _half_degree(run[half[0]])
        odd = _step_breaker(places)
        if odd is not None and _bends(route, run[odd], limit):
            yield _broken_step(run[odd])
        if len(half) + len(whole) == len(places) and len({place.lat for place in places}) == 1:
            yield _constant_latitude(run)


Run = list[tuple[int, "PathPoint", "Place"]]


def _runs(route: Route) -> Iterator[Run]:
    run: Run = []
    for index, point in enumerate(route.points):
        if point.place is not None and point.place.kind is PlaceKind.TYPED:
            run.append((index, point, point.place))
        else:
            if len(run) >= _LEAST_POINTS:
                yield run
            run = []


def _bends(route: Route, odd: tuple[int, PathPoint, Place], limit: Limits) -> bool:
    """Whether the geometry agrees that a point is the odd one: the route turns there, or goes a long way round."""
    turn = route.turns[odd[0]]
    return turn is not None and (
        exceeds(abs(turn.turn_deg), limit[LEAST_TURN]) or exceeds(turn.detour_nm, limit[LEAST_DETOUR])
    )


def _is_half(degrees: float) -> bool:
    return abs(degrees * 2 - round(degrees * 2)) < 1e-9 and degrees != round(degrees)


def _step_breaker(places: list[Place]) -> int | None:
    """The one point that breaks an otherwise even step of longitude; None where there is none, or the run is uneven."""
    steps = [(b.lon - a.lon + 540.0) % 360.0 - 180.0 for a, b in pairwise(places)]
    common = max(set(steps), key=steps.count)
    off = [i for i, step in enumerate(steps) if abs(step - common) > 1e-9]
    # A point off its meridian breaks the steps before and after it, which together still make two steps.
    if len(off) == 2 and off[1] == off[0] + 1 and abs(steps[off[0]] + steps[off[1]] - 2 * common) < 1e-9:
        return off[1] if steps.count(common) >= 2 else None
    return None


def _half_degree(odd: tuple[int, PathPoint, Place]) -> Finding:
    index, point, place = odd
    message = f"{point.text} is the only half degree of latitude in this run: 30 NM off its whole neighbours."
    facts = (Fact("position", position(place.lat, place.lon)),)
    return Finding(spans_of_point(point), message, Weight.DOUBTFUL, facts, points=(index,))


def _broken_step(odd: tuple[int, PathPoint, Place]) -> Finding:
    index, point, _ = odd
    message = f"{point.text} breaks the step of longitude that all other points of this run keep."
    return Finding(spans_of_point(point), message, Weight.DOUBTFUL, points=(index,))


def _constant_latitude(run: Run) -> Finding:
    index, point, _ = run[-1]
    message = (
        f"The latitude stays the same to {point.text}: a one-degree slip here cannot be seen from the route alone. "
        "Compare with the clearance."
    )
    return Finding(spans_of_point(point), message, Weight.NOTE, points=(index,))
