"""How likely an aerodrome is at an end of a route: how far it lies, how the route turns there, what it publishes.

Any airport nearer a route makes it shorter and straighter, right or wrong. So airports have a table of their own: the
weights were fitted by conditional logit on 8,697 ends of published U.S. routes of January 2023, with one letter of the
airport mistyped and without, on the half of departures that weights are fitted on. They count twice: beside a far
airport that is wrong, corrections of the text win by the way they shorten what they would not against the right one.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from routecheck.corrections.plausibility import WEIGHTS, difference
from routecheck.earth import sphere
from routecheck.earth.sphere import vector_of
from routecheck.model import PlaceKind, Via
from routecheck.navdata.memo import cached_per_database

if TYPE_CHECKING:
    from routecheck.corrections.outline import Outline
    from routecheck.corrections.plausibility import ShapeFeatures
    from routecheck.model import Place
    from routecheck.navdata.database import NavDatabase

FAR_NM, VERY_FAR_NM = 30.0, 300.0
TURN_FROM_DEG, TURN_TO_DEG = 30.0, 100.0


class AerodromeFeatures(NamedTuple):
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


AERODROME_WEIGHTS = AerodromeFeatures(far=-10.0, very_far=8.0, turn=-7.2, published=3.9, approaches=2.8)
STRETCH_WEIGHTS = WEIGHTS._replace(
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


def gain_by_aerodrome(before: ShapeFeatures, after: ShapeFeatures, likelier: float, cost: float) -> float:
    """What another airport wins: by how the route joins it, and by how much `likelier` it is than the typed one."""
    changed = difference(before, after)
    return sum(weight * change for weight, change in zip(STRETCH_WEIGHTS, changed, strict=True)) + likelier - cost


def likelihood(outline: Outline, end: int) -> float:
    """How likely the airport is that is route point `end`, the first or last; 0 where nothing beside it says so."""
    near, airport = neighbour(outline, end), outline.places[end]
    if near is None or airport is None:
        return 0.0
    turn = _turn_at(outline, end, near)
    return likelihood_straight_on(outline.database, airport, near) + AERODROME_WEIGHTS.turn * turn


def likelihood_straight_on(database: NavDatabase, airport: Place, near: Place) -> float:
    """How likely an airport would be if the route went straight on at `near`, the point beside it."""
    distance = distance_between(airport, near)
    return (
        AERODROME_WEIGHTS.far * math.log1p(distance / FAR_NM)
        + AERODROME_WEIGHTS.very_far * math.log1p(distance / VERY_FAR_NM)
        + AERODROME_WEIGHTS.published * (near.ident in database.terminal_fixes(airport.ident)[1])
        + AERODROME_WEIGHTS.approaches * _number_of_approaches(database, airport.ident)
    )


def most_likelihood(outline: Outline, end: int, airport: Place, near: Place) -> float:
    """How likely another airport would be there at most: the turn at `near` is known where that is flown direct."""
    most = likelihood_straight_on(outline.database, airport, near)
    at = _position_in_line(outline, end, near)
    inwards = 1 if end == 0 else -1
    beyond = None if at is None else at + inwards
    is_direct = outline.connections[0 if end == 0 else -1].via in (Via.DIRECT, Via.IMPLIED)
    points = outline.line.points
    if at is None or beyond is None or not is_direct or not 0 <= beyond < len(points):
        return most
    _, turns = sphere.legs_and_turns((vector_of(airport), points[at], points[beyond]))
    return most + AERODROME_WEIGHTS.turn * sum(map(_share_of_turn, turns))


def neighbour(outline: Outline, end: int) -> Place | None:
    """The place given next to an aerodrome: where an airway is joined near the field says nothing about the field."""
    inner = range(1, outline.last)
    for index in inner if end == 0 else reversed(inner):
        place = outline.places[index]
        if place is not None and (not outline.route_points[index].implied or place.kind is PlaceKind.COMPUTED):
            return place
    return None


def distance_between(a: Place, b: Place) -> float:
    """The distance of two places on the sphere, NM."""
    return sphere.distance_nm(vector_of(a), vector_of(b))


def _turn_at(outline: Outline, end: int, near: Place) -> float:
    at = _position_in_line(outline, end, near)
    return 0.0 if at is None else _share_of_turn(outline.line.turns_deg[at])


def _share_of_turn(turn_deg: float) -> float:
    return (min(max(turn_deg, TURN_FROM_DEG), TURN_TO_DEG) - TURN_FROM_DEG) / (TURN_TO_DEG - TURN_FROM_DEG)


def _position_in_line(outline: Outline, end: int, near: Place) -> int | None:
    """Where the point beside an airport stands in the line."""
    there = [index for index, place in enumerate(outline.places) if place is near]
    return outline.line.position[there[0] if end == 0 else there[-1]]


@cached_per_database(50_000)
def _number_of_approaches(database: NavDatabase, airport: str) -> float:
    return math.log1p(len(database.procedure_names(airport, "APPROACH")))
