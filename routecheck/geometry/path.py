"""The path of a resolved route: all its points one after the other, and what leads from one to the next. No figures."""

from __future__ import annotations

from dataclasses import KW_ONLY, dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING

from routecheck.model import (
    AirwayNotCovered,
    AirwaysApart,
    AltitudeWindow,
    BothEndsOffAirway,
    BrokenAirway,
    Connection,
    EndUnplaced,
    NoRouteGiven,
    OffAirway,
    OpenEnd,
    PathPoint,
    ProcedureElsewhere,
    ProcedureOutOfPlace,
    ResolvedRoute,
    RouteCutShort,
    RoutePoint,
    UnknownAirway,
    UnknownProcedure,
    Via,
)

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from routecheck.model import ConnectionFault, FlownProcedure, Place, ProcedureLeg, ProcedurePoint, Span

UnplacedRun = tuple[int, int]
"""The indices of the placed points, or ends of the route, around a run of unplaced ones."""
_STRAIGHT = frozenset({Via.DIRECT, Via.IMPLIED})
_GAP_REASONS: Mapping[type[ConnectionFault], str] = {
    UnknownAirway: "{name} is not in the data",
    AirwayNotCovered: "the loaded data does not cover {name} here",
    BothEndsOffAirway: "neither {start} nor {end} is on {name}",
    BrokenAirway: "{name} is not continuous from {start} to {end}",
    OpenEnd: "where {name} is joined or left is not said",
    EndUnplaced: "an end of {name} could not be placed",
    NoRouteGiven: "no route is given",
    RouteCutShort: "the route is cut short here (T): how it goes on is not in the text",
    ProcedureOutOfPlace: "{name} is not at its end of the route, so that it leads nowhere",
    UnknownProcedure: "procedure {name} is not in the data",
    ProcedureElsewhere: "{name} belongs to another airport",
}
"""By faults whose sentence needs no more than the names; the others have a sentence in `gap_reason`."""


@dataclass(slots=True)
class Path:
    """`points` with their `places`, and for each leg between two of them the index of its connection and its `via`.

    What only some have is kept by their indices: `gaps` says why a leg is not fixed, `open_by_design` are the gaps that
    are published as such, `coded_legs` are those that a
    procedure codes, with figures of their own, and `windows` are those coded at a point.
    """

    points: list[PathPoint]
    _: KW_ONLY
    places: list[Place | None] = field(default_factory=list)
    connections: list[int] = field(default_factory=list)
    vias: list[str] = field(default_factory=list)
    gaps: dict[int, str] = field(default_factory=dict)
    open_by_design: set[int] = field(default_factory=set)
    coded_legs: dict[int, ProcedureLeg] = field(default_factory=dict)
    windows: dict[int, tuple[AltitudeWindow, ...]] = field(default_factory=dict)
    unplaced: list[UnplacedRun] = field(default_factory=list)

    def extend(self, connection: int, via: str, inner: Sequence[PathPoint], end: PathPoint) -> None:
        """Extend the path by one connection to its end."""
        if inner:
            self.points += inner
            self.connections += [connection] * len(inner)
            self.vias += [via] * len(inner)
        self.points.append(end)
        self.connections.append(connection)
        self.vias.append(via)


def lay_out_path(resolved: ResolvedRoute) -> Path:
    """Lay out all points from aerodrome to aerodrome, those inside airways and procedures included."""
    route_points = _end_points(resolved)
    path = Path([route_points[0]])
    for index, connection in enumerate(resolved.connections):
        end = route_points[index + 1]
        if connection.procedure:
            _add_procedure(path, resolved, index, end, connection.procedure)
            continue
        if connection.is_gap and (
            gap := gap_reason(connection, resolved.route_points[index], resolved.route_points[index + 1])
        ):
            path.gaps[len(path.connections)] = gap
        via = "DCT" if connection.via in _STRAIGHT else connection.name
        path.extend(index, via, _inner_points(resolved, connection), end)
    path.places = [point.place for point in path.points]
    if not all(path.places):
        path.unplaced = _unplaced_runs(path.places)
        _open_where_unplaced(path)
    return path


def _inner_points(resolved: ResolvedRoute, connection: Connection) -> list[PathPoint]:
    if not connection.inner:
        return []
    span = _connection_span(resolved, connection)
    return [PathPoint(place.ident, span, place, None) for place in connection.inner]


def _unplaced_runs(places: Sequence[Place | None]) -> list[UnplacedRun]:
    runs = []
    start = 0
    for i, place in enumerate(places):
        if place is not None or i == len(places) - 1:
            if i - start > 1 or (i > start and (place is None or places[start] is None)):
                runs.append((start, i))
            start = i
    return runs


def _open_where_unplaced(path: Path) -> None:
    """Make every leg a gap that leads to or from a point without a place."""
    for index, ends in enumerate(pairwise(path.points)):
        why = ", ".join(end.why for end in ends if end.place is None)
        if why:
            path.gaps.setdefault(index, why)
            path.open_by_design.discard(index)


def _end_points(resolved: ResolvedRoute) -> list[PathPoint]:
    """The route points as points of the path; at either end the runway's threshold where it is known."""
    words = resolved.parsed.words
    places = [route_point.place for route_point in resolved.route_points]
    departure, destination = resolved.thresholds
    places[0], places[-1] = departure or places[0], destination or places[-1]
    return [
        PathPoint(
            route_point.text,
            None if route_point.word is None else words[route_point.word].span,
            place,
            index,
            why=route_point.why,
        )
        for index, (route_point, place) in enumerate(zip(resolved.route_points, places, strict=True))
    ]


def _add_procedure(path: Path, resolved: ResolvedRoute, index: int, end: PathPoint, procedure: FlownProcedure) -> None:
    """Add a procedure: its ends are the route points that it connects, with what is coded there."""
    connection, here = resolved.connections[index], len(path.points) - 1
    name, span = connection.name, _connection_span(resolved, connection)
    path.points[here] = _with_coded_data(path.points[here], procedure.points[0], name)
    if procedure.legs:
        inner = [
            PathPoint(
                coded.name,
                span,
                coded.place,
                None,
                why="",
                procedure=name,
                speed=coded.speed,
                fly_over=coded.fly_over,
                note=coded.note,
            )
            for coded in procedure.points[1:-1]
        ]
        path.extend(index, name, inner, _with_coded_data(end, procedure.points[-1], name))
    for number, leg in enumerate(procedure.legs, here):
        path.coded_legs[number] = leg
        if leg.gap:
            path.gaps[number] = leg.gap
        if leg.is_open_by_design:
            path.open_by_design.add(number)
    for number, coded in enumerate(procedure.points, here):
        if coded.window is not None:
            window = AltitudeWindow(path.points[number].text.upper(), coded.window.low_ft, coded.window.high_ft, name)
            path.windows[number] = (*path.windows.get(number, ()), window)


def _with_coded_data(point: PathPoint, coded: ProcedurePoint, name: str) -> PathPoint:
    """A point with what a procedure codes there."""
    speed, fly_over = coded.speed or point.speed, coded.fly_over or point.fly_over
    note = f"{point.note}; {coded.note}" if point.note and coded.note else point.note or coded.note
    return PathPoint(
        point.text,
        point.span,
        point.place,
        point.route_point,
        why=point.why,
        procedure=name,
        speed=speed,
        fly_over=fly_over,
        note=note,
    )


def _connection_span(resolved: ResolvedRoute, connection: Connection) -> Span | None:
    return resolved.parsed.words[connection.words[-1]].span if connection.words else None


def gap_reason(connection: Connection, start: RoutePoint, end: RoutePoint) -> str:
    """Why the path of a connection is not fixed, in words; asked only of one that is a gap."""
    name = connection.name
    if connection.via is Via.UNKNOWN and connection.fault is None:
        return f"track {name[-1:]} of which day? Paste its points"
    match connection.fault:
        case None:
            return ""
        case OffAirway(leaves_data=True, piece_end=edge):
            return f"{name} leaves the loaded data at {edge}"
        case OffAirway(at_entry=at_entry):
            return f"{start.text if at_entry else end.text} is not on {name}"
        case BrokenAirway(leaves_data=True, facing=facing):
            return f"{name} leaves the loaded data between {' and '.join(facing)}"
        case AirwaysApart():
            return _describe_apart(start, end)
    return _GAP_REASONS[type(connection.fault)].format(name=name, start=start.text, end=end.text)


def _describe_apart(start: RoutePoint, end: RoutePoint) -> str:
    junction = start if start.joined_lines and start.place is None else end
    first, second = junction.joined_lines or ("", "")
    return f"{first} and {second} have no point in common"
