"""How plausible an aerodrome is at an end of a route: how far it lies, how the route turns there, what it publishes.

Any airport nearer a route makes it shorter and straighter, right or wrong. So airports have a table of their own: the
weights were fitted by conditional logit on 8,697 ends of published U.S. routes of January 2023, with one letter of the
airport mistyped and without, on the half of departures that weights are fitted on. They count twice: beside a far
airport that is wrong, corrections of the text win by the way they shorten what they would not against the right one.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from routecheck.corrections import sphere
from routecheck.corrections.airports import apart, beside
from routecheck.corrections.plausibility import WEIGHTS, difference
from routecheck.model import Via
from routecheck.navdata.memo import cached_per_database

if TYPE_CHECKING:
    from routecheck.corrections.plausibility import ShapeFeatures
    from routecheck.corrections.sketch import Sketch
    from routecheck.model import Place
    from routecheck.navdata.database import NavDatabase

FAR_NM, VERY_FAR_NM = 30.0, 300.0
TURN_FROM_DEG, TURN_TO_DEG = 30.0, 100.0


class Field(NamedTuple):
    """What is measured at an end of a route, or the weight of each measure."""

    far: float
    """How far the first or last named point lies from the airport: ln(1 + NM / 30)."""
    very_far: float
    """The same beyond what is usual, where more says little: ln(1 + NM / 300)."""
    turn: float
    """The turn at that point, from 0 at 30° to 1 at 100°: sharper ones are no rarer."""
    published: float
    """Whether that point is one of the airport's procedures'."""
    approaches: float
    """ln(1 + number of its coded approaches): the more there are, the more routes lead there."""


FIELD_WEIGHTS = Field(far=-10.0, very_far=8.0, turn=-7.2, published=3.9, approaches=2.8)
LINK_WEIGHTS = WEIGHTS._replace(
    length=0.0,
    length_log=0.0,
    turns=0.0,
    sharp_turns=0.0,
    end_turns=0.0,
    direct=0.0,
    unlinked=0.0,
    feeders=0.0,
    arrivals=0.0,
    departures=0.0,
    steps=0.0,
)
"""What of the general measures counts between airports: contradictions, and how procedures and airways are joined."""


def gain(before: ShapeFeatures, after: ShapeFeatures, at_end: float, cost: float) -> float:
    """What another airport wins: by how the route is linked with it, and `at_end`, its worth less the typed one's."""
    changed = difference(before, after)
    return sum(w * c for w, c in zip(LINK_WEIGHTS, changed, strict=True)) + at_end - cost


def worth(drawn: Sketch, end: int) -> float:
    """What the airport that is stop `end` (first or last) is worth there; 0 where nothing is beside it to judge by."""
    near, airport = beside(drawn, end), drawn.nodes[end]
    if near is None or airport is None:
        return 0.0
    return at_best(drawn.database, airport, near) + FIELD_WEIGHTS.turn * _turn(drawn, end, near)


def at_best(database: NavDatabase, airport: Place, near: Place) -> float:
    """What an airport would be worth if the route went straight on at `near`, the point beside it."""
    distance = apart(airport, near)
    return (
        FIELD_WEIGHTS.far * math.log1p(distance / FAR_NM)
        + FIELD_WEIGHTS.very_far * math.log1p(distance / VERY_FAR_NM)
        + FIELD_WEIGHTS.published * (near.ident in database.terminal_fixes(airport.ident)[1])
        + FIELD_WEIGHTS.approaches * _number_of_approaches(database, airport.ident)
    )


def at_most(drawn: Sketch, end: int, airport: Place, near: Place) -> float:
    """What another airport would be worth there at most: the turn at `near` is known where that is flown direct."""
    best = at_best(drawn.database, airport, near)
    at = _stands_at(drawn, end, near)
    beyond = None if at is None else at + 1 if end == 0 else at - 1
    free = drawn.ways[0 if end == 0 else -1].via in (Via.DIRECT, Via.IMPLIED)
    if at is None or beyond is None or not free or not 0 <= beyond < len(drawn.line.points):
        return best
    line = sphere.unit(airport.lat, airport.lon), drawn.line.points[at], drawn.line.points[beyond]
    return best + FIELD_WEIGHTS.turn * sum(map(_share_of_turn, sphere.measured(line)[1]))


def _turn(drawn: Sketch, end: int, near: Place) -> float:
    at = _stands_at(drawn, end, near)
    return 0.0 if at is None else _share_of_turn(drawn.line.turns[at])


def _share_of_turn(turned: float) -> float:
    return (min(max(turned, TURN_FROM_DEG), TURN_TO_DEG) - TURN_FROM_DEG) / (TURN_TO_DEG - TURN_FROM_DEG)


def _stands_at(drawn: Sketch, end: int, near: Place) -> int | None:
    """Where the point beside an airport stands in the line."""
    there = [i for i, place in enumerate(drawn.nodes) if place is near]
    return drawn.line.at[there[0] if end == 0 else there[-1]]


@cached_per_database(50_000)
def _number_of_approaches(database: NavDatabase, airport: str) -> float:
    return math.log1p(len(database.procedure_names(airport, "APPROACH")))
