"""Check crosses-itself."""

from __future__ import annotations

from itertools import islice
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limit, Limits, Measured, check, exceeds
from routecheck.checks.route_queries import spans_of_point
from routecheck.citations import OWN_CHOICE
from routecheck.formatting import nm
from routecheck.geometry.crossings import Crossing, line_crossings
from routecheck.model import Fact, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

LOOP = Limit("loop_nm", 10.0, "NM", OWN_CHOICE, why="smaller loops come from a radial point typed beside its fix")
AWAY = Limit("away_nm", 30.0, "NM", OWN_CHOICE, why="crossings nearer an end than this are arrival and departure bends")

_MOST_CROSSINGS = 20
"""Crossings looked at on one route (our choice: no route flown has more than a few)."""


@check(
    "crosses-itself",
    Weight.DOUBTFUL,
    family=Family.SHAPE,
    sentence=(
        "Two legs that do not follow each other cross, away from the ends of the route and outside coded procedures."
    ),
    explanation="The finding gives the length of the loop that the route makes.",
    false_alarms="holding or surveying; a way round weather.",
    measured=Measured(doubtful=0.07),
    limits=[AWAY, LOOP],
    flagged=["«31S000E» «31S004E» 2900S00430E 29S002E «30S002E» «33S003E» 31S006E"],
    quiet=["31S000E 31S002E 30S004E 31S006E", "31S000E 31S002E 29S002E 29S004E 31S004E 31S006E"],
)
def crosses_itself(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    remaining = line_crossings(route, limit[AWAY])
    for crossing in islice(remaining, _MOST_CROSSINGS):
        near_end = exceeds(limit[AWAY], min(crossing.from_departure_nm, crossing.to_destination_nm))
        if not near_end and exceeds(crossing.loop_nm, limit[LOOP]):
            yield _finding(route, crossing)
    if next(remaining, None) is not None:
        yield NotChecked(
            (), f"the route crosses itself more than {_MOST_CROSSINGS} times: only the first crossings are looked at"
        )


def _finding(route: Route, crossing: Crossing) -> Finding:
    first = route.points[crossing.first : crossing.first + 2]
    second = route.points[crossing.second : crossing.second + 2]
    legs = [f"{a.text}–{b.text}" for a, b in (first, second)]
    loop = crossing.loop_nm
    message = f"{legs[1]} crosses {legs[0]}: the route makes a loop of {nm(loop)}."
    spans = tuple(dict.fromkeys(span for point in (*first, *second) for span in spans_of_point(point)))
    facts = (Fact("loop", round(loop, 1), "NM"),)
    return Finding(spans, message, Weight.DOUBTFUL, facts, points=(crossing.first, crossing.second))
