"""Check claimed-distance."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from routecheck.checks.catalogue import Family, Limit, Limits, case, check, exceeds
from routecheck.checks.claim_queries import (
    ClaimedLeg,
    StatedFigure,
    claims_some,
    follows_unknown_procedure,
    length_between,
    match_claims,
    name_astray,
    name_leg,
    position_uncertainty_nm,
    spans_of_leg,
    stated_distances,
)
from routecheck.citations import OWN_CHOICE
from routecheck.formatting import count, nm
from routecheck.model import Claim, Fact, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Route

LONG_FROM = Limit("long_from_nm", 50.0, "NM", OWN_CHOICE, why="shorter legs are held to the rounding of the claim")
LONG = Limit("long_nm", 2.0, "NM", "nat-tolerance")
SHARE = Limit("long_share", 0.005, "of the leg", OWN_CHOICE, highest=0.2, why="2 NM or this, the greater")
SHORT = Limit("short_nm", 0.05, "NM", OWN_CHOICE)
SHORT_SHARE = Limit(
    "short_share", 0.003, "of the leg", OWN_CHOICE, highest=0.2, why="plans made on a sphere differ by as much"
)
WRONG = Limit("wrong_nm", 10.0, "NM", OWN_CHOICE)


class _Departure(NamedTuple):
    """A leg of which the plan says another length than is computed."""

    leg: ClaimedLeg
    start: int
    stated: StatedFigure
    computed_nm: float
    uncertainty_nm: float

    @property
    def apart_nm(self) -> float:
        return self.stated.figure - self.computed_nm


@check(
    "claimed-distance",
    Weight.WRONG,
    family=Family.CLAIMS,
    sentence="The plan gives a leg another length than the route has there; the first such leg is named.",
    explanation=(
        "Legs over 50 NM by 2 NM or 0.5 %, shorter ones by what rounding and another figure of the earth explain. "
        "Where distances from the departure or to the destination are stated, their differences are compared too: "
        "where the plan contradicts itself, which sums says, a figure that fits will do. A leg may begin at the "
        "point of the claim before, or at the point before on the path: the one that fits better counts."
    ),
    false_alarms="lengths along a procedure that the data does not have; slant distances of a DME.",
    limits=[LONG_FROM, LONG, SHARE, SHORT, SHORT_SHARE, WRONG],
    citations=["nat-tolerance"],
    requires=(claims_some("distance_nm", "distance_so_far_nm", "distance_left_nm"),),
    flagged=[
        case(
            "31S001E 31S002E «31S003E»", claims=(Claim("31S002E", distance_nm=51.5), Claim("31S003E", distance_nm=64.0))
        ),
        case(
            "31S001E 31S002E «31S003E» 31S004E",
            claims=(
                Claim("31S002E", distance_so_far_nm=500.0),
                Claim("31S003E", distance_so_far_nm=556.5),
                Claim("31S004E", distance_so_far_nm=613.0),
            ),
        ),
    ],
    quiet=[
        case(
            "31S001E 31S002E 31S003E", claims=(Claim("31S002E", distance_nm=51.0), Claim("31S003E", distance_nm=52.9))
        ),
        case(
            "31S001E 31S002E 31S003E",
            claims=(
                Claim("31S002E", distance_so_far_nm=500.0),
                Claim("31S003E", distance_nm=15.5, distance_so_far_nm=551.5),
            ),
        ),
        case("31S001E 31S002E", claims=(Claim("31S002E", lat=-31.0, lon=2.0),)),
        "31S001E 31S002E",
    ],
)
def claimed_distance(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    departures: list[_Departure] = []
    unknown: list[ClaimedLeg] = []
    for leg in match_claims(route).legs:
        stated = stated_distances(leg)
        if not stated:
            continue
        best = _find_best(route, leg, stated)
        if best is None:
            unknown.append(leg)
        elif _is_beyond_limit(route, best, limit):
            departures.append(best)
    if departures:
        yield _make_finding(route, departures, limit)
    for leg in unknown:
        yield NotChecked(spans_of_leg(route, leg.end), f"{name_leg(route, leg.starts[0], leg.end)} has no known length")
    for because in name_astray(route):
        yield NotChecked((), because)


def _find_best(route: Route, leg: ClaimedLeg, stated: Sequence[StatedFigure]) -> _Departure | None:
    """The leg between the points that fit a stated length best; None where none of them has a length.

    Where the plan gives a leg two lengths, by itself and by its sums, either will do: sums says that they differ.
    """
    known = [
        _Departure(leg, start, one, length, one.half + _add_uncertainties(route, start, leg.end))
        for start in leg.starts
        if (length := length_between(route, start, leg.end)) is not None
        for one in stated
    ]
    return min(known, key=lambda one: abs(one.apart_nm), default=None)


def _add_uncertainties(route: Route, *points: int) -> float:
    return sum(position_uncertainty_nm(route, point) for point in points)


def _is_beyond_limit(route: Route, one: _Departure, limit: Limits) -> bool:
    length = one.computed_nm
    if one.apart_nm > 0.0 and follows_unknown_procedure(route, one.start, one.leg.end):
        return False  # the way along the procedure is longer than straight, nobody knows by how much
    if max(length, one.stated.figure) > limit[LONG_FROM]:
        allowed = max(limit[LONG], limit[SHARE] * length)
    else:
        allowed = limit[SHORT] + limit[SHORT_SHARE] * length
    return exceeds(abs(one.apart_nm), allowed, one.uncertainty_nm)


def _make_finding(route: Route, departures: list[_Departure], limit: Limits) -> Finding:
    first = departures[0]
    worst = max(departures, key=lambda one: abs(one.apart_nm))
    heavy = exceeds(abs(worst.apart_nm), limit[WRONG], worst.uncertainty_nm)
    name = name_leg(route, first.start, first.leg.end)
    message = f"The plan gives {name} {_say(first.stated.figure)}; computed it is {_say(first.computed_nm)}."
    if more := len(departures) - 1:
        message += f" It is the first that differs; {count(more, 'leg')} behind it {'does' if more == 1 else 'do'} too."
    facts = (
        Fact("stated", round(first.stated.figure, 3), "NM"),
        Fact("computed", round(first.computed_nm, 3), "NM"),
        Fact("rounding explains", round(first.uncertainty_nm, 3), "NM"),
        Fact("legs that differ", len(departures)),
    )
    weight = Weight.WRONG if heavy else Weight.DOUBTFUL
    return Finding(spans_of_leg(route, first.leg.end), message, weight, facts, points=(first.start, first.leg.end))


def _say(length_nm: float) -> str:
    """A length with the digits that show a small difference."""
    return f"{length_nm:.2f} NM" if abs(length_nm) < 50.0 else nm(length_nm)
