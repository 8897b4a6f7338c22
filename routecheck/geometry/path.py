"""Stops and links unrolled into the points of the path, one after the other, with what joins them. No figures yet."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING

from routecheck.formatting import short
from routecheck.model import AltitudeWindow, Connection, ConnectionFault, PathPoint, ResolvedRoute, RoutePoint, Via

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.model import Followed, Place, ProcedureLeg, ProcedurePoint, Span

Run = tuple[int, int]
"""The indices of the placed points, or ends of the route, around a run of unplaced ones."""
_STRAIGHT = frozenset({Via.DIRECT, Via.IMPLIED})


@dataclass(slots=True)
class Path:
    """`points` with their `places`, and for each leg between two of them the index of its link and its `via`.

    What only some have is kept by their numbers: `gaps` says why leg i is not fixed, `fixed` is leg i where a procedure
    codes it, with figures of its own, and `windows` are those coded at point i. `unplaced` are runs of points.
    """

    points: list[PathPoint]
    places: list[Place | None] = field(default_factory=list)
    links: list[int] = field(default_factory=list)
    vias: list[str] = field(default_factory=list)
    gaps: dict[int, str] = field(default_factory=dict)
    fixed: dict[int, ProcedureLeg] = field(default_factory=dict)
    windows: dict[int, tuple[AltitudeWindow, ...]] = field(default_factory=dict)
    unplaced: list[Run] = field(default_factory=list)

    def lead(self, link: int, via: str, inner: Sequence[PathPoint], end: PathPoint) -> None:
        """Go on by one link to its end."""
        if inner:
            self.points += inner
            self.links += [link] * len(inner)
            self.vias += [via] * len(inner)
        self.points.append(end)
        self.links.append(link)
        self.vias.append(via)


def unroll(resolved: ResolvedRoute) -> Path:
    """All points from aerodrome to aerodrome, those inside airways and procedures included."""
    stops = _stops(resolved)
    path = Path([stops[0]])
    for index, link in enumerate(resolved.links):
        end = stops[index + 1]
        if link.followed:
            _follow(path, resolved, index, end, link.followed)
            continue
        if link.is_gap and (gap := gap_reason(link, resolved.stops[index], resolved.stops[index + 1])):
            path.gaps[len(path.links)] = gap
        via = "DCT" if link.via in _STRAIGHT else link.airway
        path.lead(index, via, _inside(resolved, link), end)
    path.places = [point.place for point in path.points]
    if not all(path.places):
        path.unplaced = _unplaced_runs(path.places)
        _open_where_unplaced(path)
    return path


def _inside(resolved: ResolvedRoute, link: Connection) -> list[PathPoint]:
    if not link.inner:
        return []
    span = _span_of_link(resolved, link)
    return [PathPoint(place.ident, span, place, None) for place in link.inner]


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
        why = ", ".join(said(end) for end in ends if end.place is None)
        if why and index not in path.gaps:
            path.gaps[index] = why


def said(point: PathPoint) -> str:
    """Why a point has no place, with its name."""
    return f"{short(point.text)}: {point.why}" if point.text and not point.why.startswith(point.text) else point.why


def _stops(resolved: ResolvedRoute) -> list[PathPoint]:
    """The stops as points; at either end the runway's threshold where it is known."""
    words = resolved.parsed.words
    places = [stop.place for stop in resolved.stops]
    departure, destination = resolved.thresholds
    places[0], places[-1] = departure or places[0], destination or places[-1]
    return [
        PathPoint(stop.text, None if stop.word is None else words[stop.word].span, place, index, stop.why)
        for index, (stop, place) in enumerate(zip(resolved.stops, places, strict=True))
    ]


def _follow(path: Path, resolved: ResolvedRoute, index: int, end: PathPoint, followed: Followed) -> None:
    """Go along a procedure: its ends are the stops that it joins, with what is coded there."""
    link, here = resolved.links[index], len(path.points) - 1
    name, span = link.airway, _span_of_link(resolved, link)
    path.points[here] = _coded(path.points[here], followed.points[0], name)
    if followed.legs:
        inner = [
            PathPoint(coded.name, span, coded.place, None, "", name, coded.speed, coded.fly_over, coded.note)
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
    return PathPoint(point.text, point.span, point.place, point.stop, point.why, name, speed, fly_over, note)


def _span_of_link(resolved: ResolvedRoute, link: Connection) -> Span | None:
    return resolved.parsed.words[link.words[-1]].span if link.words else None


def gap_reason(link: Connection, start: RoutePoint, end: RoutePoint) -> str:
    """Why the path of a link is not fixed, in words; asked only of one that is a gap."""
    if link.via is Via.UNKNOWN:
        return f"track {link.airway[-1:]} of which day? Paste its points"
    name = link.airway
    reasons = {
        ConnectionFault.UNKNOWN_AIRWAY: f"{name} is not in the data",
        ConnectionFault.OFF_ENTRY: _off(link, start),
        ConnectionFault.OFF_EXIT: _off(link, end),
        ConnectionFault.OFF_BOTH: f"neither {start.text} nor {end.text} is on {name}",
        ConnectionFault.BROKEN: _broken(link, start, end),
        ConnectionFault.APART: _apart(start, end),
        ConnectionFault.OPEN_END: f"where {name} is joined or left is not said",
        ConnectionFault.OUT_OF_PLACE: f"{name} is not at its end of the route, so that it leads nowhere",
        ConnectionFault.UNKNOWN_PROCEDURE: f"procedure {name} is not in the data",
        ConnectionFault.PROCEDURE_ELSEWHERE: f"{name} belongs to another airport",
        ConnectionFault.END_UNPLACED: f"an end of {name} could not be placed",
    }
    return reasons[link.trouble] if link.trouble else ""


def _off(link: Connection, stop: RoutePoint) -> str:
    if link.detail.get("edge"):
        return f"{link.airway} leaves the loaded data at {link.detail['edge']}"
    return f"{stop.text} is not on {link.airway}"


def _broken(link: Connection, start: RoutePoint, end: RoutePoint) -> str:
    if link.detail.get("edge"):
        return f"{link.airway} leaves the loaded data between {link.detail['edge']}"
    return f"{link.airway} is not continuous from {start.text} to {end.text}"


def _apart(start: RoutePoint, end: RoutePoint) -> str:
    joint = start if start.joins and start.place is None else end
    first, second = joint.joins or ("", "")
    return f"{first} and {second} have no point in common"
