"""Stops and links unrolled into the points of the path, one after the other, with what joins them. No figures yet."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING

from routecheck.model import (
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

    from routecheck.model import ConnectionFault, Followed, Place, ProcedureLeg, ProcedurePoint, Span

Run = tuple[int, int]
"""The indices of the placed points, or ends of the route, around a run of unplaced ones."""
_STRAIGHT = frozenset({Via.DIRECT, Via.IMPLIED})
_GAP_REASONS: Mapping[type[ConnectionFault], str] = {
    UnknownAirway: "{name} is not in the data",
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
    """`points` with their `places`, and for each leg between two of them the index of its link and its `via`.

    What only some have is kept by their numbers: `gaps` says why leg i is not fixed, `fixed` is leg i where a procedure
    codes it, with figures of its own, and `windows` are those coded at point i. `unplaced` are runs of points.
    """

    points: list[PathPoint]
    places: list[Place | None] = field(default_factory=list)
    connections: list[int] = field(default_factory=list)
    vias: list[str] = field(default_factory=list)
    gaps: dict[int, str] = field(default_factory=dict)
    fixed: dict[int, ProcedureLeg] = field(default_factory=dict)
    windows: dict[int, tuple[AltitudeWindow, ...]] = field(default_factory=dict)
    unplaced: list[Run] = field(default_factory=list)

    def lead(self, connection: int, via: str, inner: Sequence[PathPoint], end: PathPoint) -> None:
        """Go on by one link to its end."""
        if inner:
            self.points += inner
            self.connections += [connection] * len(inner)
            self.vias += [via] * len(inner)
        self.points.append(end)
        self.connections.append(connection)
        self.vias.append(via)


def unroll(resolved: ResolvedRoute) -> Path:
    """All points from aerodrome to aerodrome, those inside airways and procedures included."""
    route_points = _stops(resolved)
    path = Path([route_points[0]])
    for index, connection in enumerate(resolved.connections):
        end = route_points[index + 1]
        if connection.followed:
            _follow(path, resolved, index, end, connection.followed)
            continue
        if connection.is_gap and (
            gap := gap_reason(connection, resolved.route_points[index], resolved.route_points[index + 1])
        ):
            path.gaps[len(path.connections)] = gap
        via = "DCT" if connection.via in _STRAIGHT else connection.airway
        path.lead(index, via, _inside(resolved, connection), end)
    path.places = [point.place for point in path.points]
    if not all(path.places):
        path.unplaced = _unplaced_runs(path.places)
        _open_where_unplaced(path)
    return path


def _inside(resolved: ResolvedRoute, connection: Connection) -> list[PathPoint]:
    if not connection.inner:
        return []
    span = _span_of_link(resolved, connection)
    return [PathPoint(place.ident, span, place, None) for place in connection.inner]


def _unplaced_runs(places: Sequence[Place | None]) -> list[Run]:
    runs = []
    start = 0
    for i, place in enumerate(places):
        if place is not None or i == len(places) - 1:
            if i - start > 1 or (i > start and (place is None or places[start] is None)):
                runs.append((start, i))
            start = i
    return runs


def _open_where_unplaced(path: Path) -> None:
    """No leg is fixed that leads to or from a point without a place."""
    for index, ends in enumerate(pairwise(path.points)):
        why = ", ".join(end.why for end in ends if end.place is None)
        if why and index not in path.gaps:
            path.gaps[index] = why


def _stops(resolved: ResolvedRoute) -> list[PathPoint]:
    """The stops as points; at either end the runway's threshold where it is known."""
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


def _follow(path: Path, resolved: ResolvedRoute, index: int, end: PathPoint, followed: Followed) -> None:
    """Go along a procedure: its ends are the stops that it joins, with what is coded there."""
    connection, here = resolved.connections[index], len(path.points) - 1
    name, span = connection.airway, _span_of_link(resolved, connection)
    path.points[here] = _coded(path.points[here], followed.points[0], name)
    if followed.legs:
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
            for coded in followed.points[1:-1]
        ]
        path.lead(index, name, inner, _coded(end, followed.points[-1], name))
    for number, leg in enumerate(followed.legs, here):
        path.fixed[number] = leg
        if leg.gap:
            path.gaps[number] = leg.gap
    for number, coded in enumerate(followed.points, here):
        if coded.window is not None:
            window = AltitudeWindow(path.points[number].text.upper(), coded.window.low_ft, coded.window.high_ft, name)
            path.windows[number] = (*path.windows.get(number, ()), window)


def _coded(point: PathPoint, coded: ProcedurePoint, name: str) -> PathPoint:
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


def _span_of_link(resolved: ResolvedRoute, connection: Connection) -> Span | None:
    return resolved.parsed.words[connection.words[-1]].span if connection.words else None


def gap_reason(connection: Connection, start: RoutePoint, end: RoutePoint) -> str:
    """Why the path of a link is not fixed, in words; asked only of one that is a gap."""
    name = connection.airway
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
            return _apart(start, end)
    return _GAP_REASONS[type(connection.fault)].format(name=name, start=start.text, end=end.text)


def _apart(start: RoutePoint, end: RoutePoint) -> str:
    joint = start if start.joins and start.place is None else end
    first, second = joint.joins or ("", "")
    return f"{first} and {second} have no point in common"
