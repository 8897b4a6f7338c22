"""A resolved route as scoring needs it: its places, how they are connected, and the line through all of them."""

from __future__ import annotations

from dataclasses import KW_ONLY, dataclass
from typing import TYPE_CHECKING

from routecheck.corrections.plausibility import CandidateConnection, ShapeFeatures, measure_stretch
from routecheck.corrections.procedure_shape import procedure_shape
from routecheck.earth import sphere
from routecheck.earth.sphere import vector_of
from routecheck.model import AirwayNotCovered, BrokenAirway, OffAirway, Place, ProcedureOutOfPlace, Via

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.corrections.procedure_shape import ProcedureShape
    from routecheck.earth.sphere import Vector
    from routecheck.model import ResolvedRoute, RoutePoint
    from routecheck.navdata.database import NavDatabase

_DIRECT = {via: CandidateConnection(via) for via in (Via.DIRECT, Via.IMPLIED)}
"""Connections flown direct are all alike, and nothing in them contradicts the data."""


@dataclass(frozen=True, slots=True)
class Line:
    """All placed points of a route and what lies between them, in the order of flight.

    `position[i]` is where route point i stands in it, None where it has no place. For each point of the line
    `flown_nm` says how far it is from the first, `turns_deg` how sharply the line turns there.
    """

    points: Sequence[Vector]
    position: Sequence[int | None]
    flown_nm: Sequence[float]
    turns_deg: Sequence[float]


@dataclass(frozen=True, slots=True)
class Outline:
    """`places[i]` is where route point i is, `connections[i]` joins it to the next.

    `faulty` are the connections that contradict the data, or a procedure that the route does not join.
    """

    resolved: ResolvedRoute
    database: NavDatabase
    _: KW_ONLY
    places: tuple[Place | None, ...]
    connections: tuple[CandidateConnection, ...]
    line: Line
    faulty: frozenset[int]

    @property
    def route_points(self) -> tuple[RoutePoint, ...]:
        """The route points that the places are of."""
        return self.resolved.route_points

    @property
    def last(self) -> int:
        """The index of the last route point, the destination."""
        return len(self.places) - 1

    def measure(self, first: int, last: int) -> ShapeFeatures:
        """Measure the stretch from one route point to another as typed."""
        return self.measure_with(first, last, self.places[first : last + 1], self.connections[first:last])

    def measure_with(
        self, first: int, last: int, places: Sequence[Place | None], connections: Sequence[CandidateConnection]
    ) -> ShapeFeatures:
        """Measure the stretch with other places and connections in it."""
        return measure_stretch(places, connections, self.point_before(first), self.point_after(last), self.database)

    def point_before(self, index: int) -> Place | None:
        """The point of the line just before a route point, inside an airway or procedure where it is one."""
        if index == 0:
            return None
        inner = _inner_places(index - 1, self.resolved, self.places, self.connections)
        return inner[-1] if inner else self.places[index - 1]

    def point_after(self, index: int) -> Place | None:
        """The point of the line just after a route point."""
        if index == self.last:
            return None
        inner = _inner_places(index, self.resolved, self.places, self.connections)
        return inner[0] if inner else self.places[index + 1]


def draw_outline(resolved: ResolvedRoute, database: NavDatabase) -> Outline:
    """Draw the outline of a resolved route."""
    places = tuple([route_point.place for route_point in resolved.route_points])
    connections = tuple([_connection(index, resolved, database) for index in range(len(resolved.connections))])
    faulty = [i for i, connection in enumerate(connections) if connection.name and _is_faulty(connection, i, resolved)]
    line = _draw_line(resolved, places, connections)
    return Outline(resolved, database, places=places, connections=connections, line=line, faulty=frozenset(faulty))


def _draw_line(
    resolved: ResolvedRoute, places: Sequence[Place | None], connections: Sequence[CandidateConnection]
) -> Line:
    points: list[Vector] = []
    position: list[int | None] = []
    for index, place in enumerate(places):
        position.append(None if place is None else len(points))
        if place is not None:
            points.append(vector_of(place))
        if index < len(connections):
            points += [vector_of(inner) for inner in _inner_places(index, resolved, places, connections)]
    return Line(points, position, *sphere.miles_and_turns(points))


def _inner_places(
    index: int, resolved: ResolvedRoute, places: Sequence[Place | None], connections: Sequence[CandidateConnection]
) -> tuple[Place, ...]:
    """The places between the two ends of a connection, inside its airway or procedure."""
    shape = connections[index].shape
    join = None if shape is None else places[index + shape.departing]
    if shape is None or join is None:
        return resolved.connections[index].inner
    return shape.inner_places(join)


def _is_faulty(connection: CandidateConnection, index: int, resolved: ResolvedRoute) -> bool:
    """Whether a connection has what is measured as a defect, or is a procedure that the route does not join."""
    if connection.shape is not None:
        join = resolved.route_points[index + connection.shape.departing].place
        return join is not None and not connection.shape.has_join(join)
    if connection.via is Via.PROCEDURE:
        return not connection.known
    as_typed = resolved.connections[index]
    return connection.via is Via.AIRWAY and (as_typed.is_blocked or not as_typed.segments)


def _connection(index: int, resolved: ResolvedRoute, database: NavDatabase) -> CandidateConnection:
    as_typed = resolved.connections[index]
    if as_typed.via in _DIRECT:
        return _DIRECT[as_typed.via]
    beyond = isinstance(as_typed.fault, OffAirway | BrokenAirway) and as_typed.fault.leaves_data
    if beyond or isinstance(as_typed.fault, AirwayNotCovered):
        # Beyond the loaded data nothing can be called a defect.
        return CandidateConnection(Via.UNKNOWN, as_typed.name)
    if as_typed.via is Via.AIRWAY:
        return CandidateConnection(as_typed.via, as_typed.name, database.airways(as_typed.name))
    if as_typed.via is Via.PROCEDURE:
        known = as_typed.procedure is not None or isinstance(as_typed.fault, ProcedureOutOfPlace)
        shape = _shape(index, resolved, database)
        return CandidateConnection(as_typed.via, as_typed.name, known=known, shape=shape)
    return CandidateConnection(as_typed.via, as_typed.name)


def _shape(index: int, resolved: ResolvedRoute, database: NavDatabase) -> ProcedureShape | None:
    as_typed = resolved.connections[index]
    if as_typed.procedure is None:
        return None
    end = 0 if as_typed.procedure_kind == "SID" else -1
    airport, runway = resolved.route_points[end].text, resolved.runways[end]
    shape = procedure_shape(database, airport, runway, as_typed.procedure_kind, as_typed.name)
    join = resolved.route_points[1 if as_typed.procedure_kind == "SID" else index].place
    if shape and join and index in (0, len(resolved.connections) - 1):
        shape.keep_path(join, as_typed.procedure.points)
    return shape
