"""A resolved route as scoring needs it: nodes and ways, and what lies just outside a stretch."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.corrections import sphere
from routecheck.corrections.branches import branches
from routecheck.corrections.plausibility import CandidateConnection, ShapeFeatures, looks
from routecheck.model import BrokenAirway, OffAirway, Place, ProcedureOutOfPlace, Via
from routecheck.model.value import value

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.corrections.branches import Branches
    from routecheck.corrections.sphere import Vector
    from routecheck.model import ResolvedRoute, RoutePoint
    from routecheck.navdata.database import NavDatabase

_BARE = {via: CandidateConnection(via) for via in (Via.DIRECT, Via.IMPLIED)}
"""Ways flown direct: all alike, and nothing there contradicts the data."""


@value
class Line:
    """The points of all stops and of what lies between them, in one line that steps over stops without a place.

    `at[i]` is where stop i stands in it, None where it has no place; `along` NM flown, `turns` degrees, for each point.
    """

    points: Sequence[Vector]
    at: Sequence[int | None]
    along: Sequence[float]
    turns: Sequence[float]


@value
class Sketch:
    """`nodes[i]` is the place of `stops[i]`, `ways[i]` joins it to the next.

    `flawed` are the links that contradict the data, or a procedure that the route does not join.
    """

    resolved: ResolvedRoute
    database: NavDatabase
    nodes: tuple[Place | None, ...]
    ways: tuple[CandidateConnection, ...]
    line: Line
    flawed: frozenset[int]

    @property
    def route_points(self) -> tuple[RoutePoint, ...]:
        """The stops the nodes come from."""
        return self.resolved.route_points

    def looks(self, first: int, last: int) -> ShapeFeatures:
        """How the stretch from stop `first` to stop `last` looks as typed."""
        return self.looks_with(first, last, self.nodes[first : last + 1], self.ways[first:last])

    def looks_with(
        self, first: int, last: int, nodes: Sequence[Place | None], ways: Sequence[CandidateConnection]
    ) -> ShapeFeatures:
        """How the stretch would look with other nodes and ways in it."""
        return looks(nodes, ways, self.before(first), self.after(last), self.database)

    def inner(self, index: int) -> tuple[Place, ...]:
        """The places between the two stops of a link, inside its airway or procedure."""
        return _inner(index, self.resolved, self.nodes, self.ways)

    def before(self, node: int) -> Place | None:
        """The point of the line just before a node, inside an airway where it is one."""
        if node == 0:
            return None
        inner = self.inner(node - 1)
        return inner[-1] if inner else self.nodes[node - 1]

    def after(self, node: int) -> Place | None:
        """The point of the line just after a node."""
        if node == len(self.nodes) - 1:
            return None
        inner = self.inner(node)
        return inner[0] if inner else self.nodes[node + 1]


def sketch(resolved: ResolvedRoute, database: NavDatabase) -> Sketch:
    """Draw a resolved route as nodes and ways."""
    nodes = tuple([route_point.place for route_point in resolved.route_points])
    ways = tuple([_way(index, resolved, database) for index in range(len(resolved.connections))])
    flawed = frozenset([i for i, way in enumerate(ways) if way.name and _is_flawed(way, i, resolved)])
    return Sketch(resolved, database, nodes, ways, _line(resolved, nodes, ways), flawed)


def _line(resolved: ResolvedRoute, nodes: Sequence[Place | None], ways: Sequence[CandidateConnection]) -> Line:
    points: list[Vector] = []
    at: list[int | None] = []
    unit, connections = sphere.unit, resolved.connections
    for index, node in enumerate(nodes):
        if node is None:
            at.append(None)
        else:
            at.append(len(points))
            points.append(unit(node.lat, node.lon))
        if index < len(ways):
            inner = connections[index].inner if ways[index].branches is None else _inner(index, resolved, nodes, ways)
            if inner:
                points += [unit(place.lat, place.lon) for place in inner]
    along, turns = sphere.profile(points)
    return Line(points, at, along, turns)


def _inner(
    index: int, resolved: ResolvedRoute, nodes: Sequence[Place | None], ways: Sequence[CandidateConnection]
) -> tuple[Place, ...]:
    """The places between the two stops of a link, inside its airway or procedure."""
    branches = ways[index].branches
    join = None if branches is None else nodes[index + branches.departing]
    if branches is None or join is None:
        return resolved.connections[index].inner
    return branches.between(join)


def _is_flawed(way: CandidateConnection, index: int, resolved: ResolvedRoute) -> bool:
    """Whether a link contradicts the data: what looks() counts as a defect, or as a procedure not joined."""
    connection, start, end = (
        resolved.connections[index],
        resolved.route_points[index].place,
        resolved.route_points[index + 1].place,
    )
    if way.branches is not None:
        join = end if way.branches.departing else start
        return join is not None and not way.branches.joined_at(join)
    if way.via is Via.PROCEDURE:
        return not way.known
    return way.via is Via.AIRWAY and (connection.is_blocked or not connection.segments)


def _way(index: int, resolved: ResolvedRoute, database: NavDatabase) -> CandidateConnection:
    connection = resolved.connections[index]
    bare = _BARE.get(connection.via)
    if bare is not None:
        return bare
    if isinstance(connection.fault, OffAirway | BrokenAirway) and connection.fault.leaves_data:
        # Beyond the loaded data nothing can be called a defect.
        return CandidateConnection(Via.UNKNOWN, connection.airway)
    if connection.via is Via.AIRWAY:
        return CandidateConnection(connection.via, connection.airway, database.airways(connection.airway))
    if connection.via is Via.PROCEDURE:
        known = connection.followed is not None or isinstance(connection.fault, ProcedureOutOfPlace)
        return CandidateConnection(
            connection.via, connection.airway, known=known, branches=_branches(index, resolved, database)
        )
    return CandidateConnection(connection.via, connection.airway)


def _branches(index: int, resolved: ResolvedRoute, database: NavDatabase) -> Branches | None:
    connection = resolved.connections[index]
    if connection.followed is None:
        return None
    end = 0 if connection.kind == "SID" else -1
    found = branches(
        database, resolved.route_points[end].text, resolved.runways[end], connection.kind, connection.airway
    )
    join = resolved.route_points[1 if connection.kind == "SID" else index].place
    if found and join and index in (0, len(resolved.connections) - 1):
        found.remember(join, connection.followed.points)
    return found
