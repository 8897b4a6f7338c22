"""Whether the aerodromes of a sketched route are in doubt, by what costs little to ask. No candidate is made here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.corrections import sphere
from routecheck.model import PlaceKind, ProcedureElsewhere, UnknownAirway, UnknownProcedure

if TYPE_CHECKING:
    from routecheck.corrections.sketch import Sketch
    from routecheck.model import Connection, Place

LEAST_FAR_NM = 40.0
"""An airport nearer than this to the point beside it is not doubted, unless something there contradicts the data."""
LEAST_SAVED_NM = 5.0
"""What exchanging the ends must save there to be tried, unless something there contradicts the data."""


def may_be_mistaken(drawn: Sketch, end: int) -> bool:
    """Whether the aerodrome that is that stop lies oddly: no procedure of it proves it, and its neighbour is far."""
    connection = drawn.resolved.connections[min(end, len(drawn.ways) - 1)]
    if connection.followed is not None or not drawn.route_points[end].text:
        return False  # a procedure of that airport proves it
    typed, near = drawn.nodes[end], beside(drawn, end)
    if near is None:
        return False
    return typed is None or connection.fault is not None or apart(typed, near) >= LEAST_FAR_NM


def may_be_exchanged(drawn: Sketch) -> bool:
    """Whether exchanging the ends saves something at them, or may cure a trouble there."""
    departure, destination = drawn.route_points[0], drawn.route_points[-1]
    if departure.word is not None or destination.word is not None or departure.text == destination.text:
        return False
    connections = drawn.resolved.connections[0], drawn.resolved.connections[-1]
    if any(connection.followed is not None for connection in connections):
        return False
    start, finish = departure.place, destination.place
    first, last = beside(drawn, 0), beside(drawn, len(drawn.nodes) - 1)
    if start is None or finish is None or first is None or last is None:
        return False
    if may_be_cured(connections[0], destination.text) or may_be_cured(connections[1], departure.text):
        return True
    return apart(start, first) + apart(last, finish) - apart(finish, first) - apart(last, start) > LEAST_SAVED_NM


def may_be_cured(connection: Connection, airport: str) -> bool:
    """Whether a link beside an aerodrome is in a trouble that another aerodrome may cure."""
    if isinstance(connection.fault, ProcedureElsewhere):
        return airport in connection.fault.owners
    return connection.fault is not None and not isinstance(connection.fault, UnknownAirway | UnknownProcedure)


def beside(drawn: Sketch, end: int) -> Place | None:
    """The place given next to an aerodrome: where an airway is joined near the field says nothing about the field."""
    last = len(drawn.nodes) - 1
    for index in range(1, last) if end == 0 else range(last - 1, 0, -1):
        place = drawn.nodes[index]
        if place is not None and (not drawn.route_points[index].implied or place.kind is PlaceKind.COMPUTED):
            return place
    return None


def apart(a: Place, b: Place) -> float:
    """The distance of two places on the sphere, NM."""
    return sphere.apart_nm(sphere.unit(a.lat, a.lon), sphere.unit(b.lat, b.lon))
