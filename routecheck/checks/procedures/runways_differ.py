"""Check runways-differ."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import Family, Limits, case, check
from routecheck.checks.runways import (
    ARRIVAL,
    DEPARTURE,
    aerodrome_ident,
    may_be_same_runway,
    spans_of_typed_runway,
    stated_approach,
    stated_runway,
    typed_runway,
)
from routecheck.formatting import short
from routecheck.model import Finding, NotChecked, Weight
from routecheck.procedures.wording import runway_in_approach_name

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route


@check(
    "runways-differ",
    Weight.WRONG,
    family=Family.PROCEDURES,
    sentence="What is stated of one end of the route belongs to different runways.",
    explanation=(
        "The runway typed in the text, the one stated beside it and that of the approach are compared; the branches of "
        "SID and STAR follow the runway. Wrong; Doubtful for parallels of one direction, and for an approach that is "
        "for circling."
    ),
    false_alarms="an approach to one runway with a change to its parallel, or circling, that was planned so.",
    citations=["arinc-424"],
    applies_to=preconditions.states_a_runway,
    flagged=[
        case("LENDU DCT SARNO SARNO2", destination_runway="27", approach="R09", whole=True),
        case("SARNO DCT PIKAR PIKAR2 XVAL/«09»", departure="XVOR", destination="XVAL", approach="I27"),
        case("XVAL/«09» LENDU1 LENDU DCT SARNO", departure_runway="27"),
    ],
    quiet=[
        case("LENDU DCT SARNO SARNO2", destination_runway="09", approach="R09"),
        case("SARNO DCT PIKAR PIKAR2 XVAL/27", departure="XVOR", destination="XVAL", approach="I27"),
        case("XVAL/09 LENDU1 LENDU DCT SARNO", departure_runway="RW09"),
        case("LENDU DCT SARNO SARNO2", approach="R09"),
        "LENDU DCT SARNO SARNO2",
    ],
)
def runways_differ(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    for side in (DEPARTURE, ARRIVAL):
        typed, beside = typed_runway(route, side), stated_runway(route, side)
        if typed and beside and not may_be_same_runway(typed, beside):
            aerodrome = aerodrome_ident(route, side)
            message = f"The text says runway {short(typed)} at {aerodrome}, beside it stands {short(beside)}."
            yield _finding(route, side, message, typed, beside)
    approach, stated = stated_approach(route), stated_runway(route, ARRIVAL) or typed_runway(route, ARRIVAL)
    if not approach or not stated:
        return
    approach_runway = runway_in_approach_name(approach)
    if not approach_runway and not may_be_same_runway(route.resolved.runways[ARRIVAL], stated):
        message = f"Approach {approach} is for circling; runway {short(stated)} is stated. Is that meant?"
        yield _finding(route, ARRIVAL, message, stated, stated)
    elif approach_runway and not may_be_same_runway(approach_runway, stated):
        message = f"Approach {approach} is for runway {approach_runway}, but {short(stated)} is stated for the landing."
        yield _finding(route, ARRIVAL, message, approach_runway, stated)


def _finding(route: Route, side: int, message: str, one: str, other: str) -> Finding:
    weight = Weight.DOUBTFUL if one[:2] == other[:2] else Weight.WRONG
    points = (0 if side == DEPARTURE else len(route.points) - 1,)
    return Finding(spans_of_typed_runway(route, side), message, weight, points=points)
