"""Routes and procedures as scoring needs them: where they go, how points are connected, what is fixed in between."""

from __future__ import annotations

from dataclasses import KW_ONLY
from typing import TYPE_CHECKING

from routecheck.corrections.plausibility import CandidateConnection, ShapeFeatures, measure_stretch
from routecheck.earth import sphere
from routecheck.earth.sphere import vector_of
from routecheck.frozen_dataclass import dataclass
from routecheck.model import FIELDS, AirwayNotCovered, BrokenAirway, OffAirway, Place, ProcedureOutOfPlace, Via
from routecheck.navdata.memo import cached_per_database
from routecheck.procedures.branch_choice import JOINS_WITHIN_NM, KINDS_WITHOUT_IDENT, is_join_point
from routecheck.procedures.flown_procedure import trace_procedure
from routecheck.procedures.route_procedures import procedure_places
from routecheck.resolution.airways import is_same_place

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from routecheck.earth.sphere import Vector
    from routecheck.model import CodedProcedure, ProcedurePoint, ResolvedRoute, RoutePoint
    from routecheck.model.data import PlaceKey
    from routecheck.navdata.database import NavDatabase

_NEAR_DEG = JOINS_WITHIN_NM / 50.0


class ProcedureShape:
    """A SID, STAR or approach for one runway ("" = not stated), with all its branches. Paths once followed are kept."""

    def __init__(self, procedure: CodedProcedure, runway: str) -> None:
        self._procedure, self._runway = procedure, runway
        self._points = {place.key: place for place in procedure_places(procedure)}
        self._inner_places: dict[PlaceKey | None, tuple[Place, ...]] = {}
        self.departing = procedure.kind == "SID"
        self.transition_idents = frozenset(branch.ident for branch in procedure.transitions)

    @property
    def points(self) -> Mapping[PlaceKey, Place]:
        """Its points, by (ident, lat, lon)."""
        return self._points

    def has_join(self, place: Place) -> bool:
        """Whether a route joins it at a place: one of its points, or a typed position within a mile of one."""
        if place.kind not in KINDS_WITHOUT_IDENT:
            return place.key in self._points
        near = (point for point in self._points.values() if abs(point.lat - place.lat) < _NEAR_DEG)
        return any(is_join_point(point.ident, point, place) for point in near)

    def keep_path(self, join: Place, points: Iterable[ProcedurePoint]) -> None:
        """Take over the path to a join as the route was resolved with it, so that it is not followed again."""
        if self.has_join(join) and join.kind not in KINDS_WITHOUT_IDENT:
            self._inner_places.setdefault(join.key, _without_ends(points, join))

    def inner_places(self, join: Place) -> tuple[Place, ...]:
        """The places between a join and the aerodrome in the order of flight, both left out.

        Where the route does not join it: those that all its branches share.
        """
        joined = self.has_join(join)
        if joined and join.kind in KINDS_WITHOUT_IDENT:
            return self._follow(join)
        key = join.key if joined else None
        known = self._inner_places.get(key)
        if known is None:
            known = self._inner_places[key] = self._follow(join if joined else None)
        return known

    def _follow(self, join: Place | None) -> tuple[Place, ...]:
        path = trace_procedure(self._procedure, self._runway, join)
        points = path.points
        if path.joined:
            points = points[:-1] if self.departing else points[1:]
        return _without_ends(points, join)


def _without_ends(points: Iterable[ProcedurePoint], join: Place | None) -> tuple[Place, ...]:
    """The places of a path without the aerodrome's and without the join."""
    places = (point.place for point in points if point.place is not None and point.place.kind not in FIELDS)
    return tuple(place for place in places if join is None or not is_same_place(place, join))


@cached_per_database(8_192)
def procedure_shape(database: NavDatabase, airport: str, runway: str, kind: str, name: str) -> ProcedureShape | None:
    """The shape of a procedure of an airport; None where the data has none."""
    procedure = database.procedure(airport, kind, name)
    return ProcedureShape(procedure, runway) if procedure else None


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
