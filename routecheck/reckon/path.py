"""Stops and links unrolled into the points of the path, one after the other, with what joins them. No figures yet."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from routecheck.model import Link, Point, ResolvedRoute, Stop, Trouble, Via, Window

if TYPE_CHECKING:
    from routecheck.model import Followed, PathLeg, PathPoint, Span


@dataclass(slots=True)
class Path:
    """`points`, and for each leg between two of them the index of its link, its `via` and the gap's reason ("").

    `fixed[i]` is leg i where a procedure codes it, with figures of its own; `windows[i]` are those coded at point i.
    """

    points: list[Point]
    windows: list[tuple[Window, ...]] = field(default_factory=lambda: [()])
    links: list[int] = field(default_factory=list)
    vias: list[str] = field(default_factory=list)
    gaps: list[str] = field(default_factory=list)
    fixed: list[PathLeg | None] = field(default_factory=list)

    def lead(self, link: int, via: str, gap: str, point: Point, fixed: PathLeg | None = None) -> None:
        """Go on to one more point."""
        self.points.append(point)
        self.windows.append(())
        self.links.append(link)
        self.vias.append(via)
        self.gaps.append(gap)
        self.fixed.append(fixed)


def unroll(resolved: ResolvedRoute) -> Path:
    """All points from aerodrome to aerodrome, those inside airways and procedures included."""
    path = Path([_point(resolved, 0)])
    for index, link in enumerate(resolved.links):
        if link.followed:
            _follow(path, resolved, index, link, link.followed)
            continue
        gap = gap_reason(link, resolved.stops[index], resolved.stops[index + 1])
        via, span = _via(link), _span_of_link(resolved, link)
        for place in link.inner:
            path.lead(index, via, gap, Point(place.ident, span, place, None))
        path.lead(index, via, gap, _point(resolved, index + 1))
    return path


def _follow(path: Path, resolved: ResolvedRoute, index: int, link: Link, followed: Followed) -> None:
    """Go along a procedure: its ends are the stops that it joins, with what is coded there."""
    name, span = link.airway, _span_of_link(resolved, link)
    path.points[-1] = _coded(path.points[-1], followed.points[0], name)
    path.windows[-1] += _windows(path.points[-1], followed.points[0], name)
    last = len(followed.legs) - 1
    for number, (leg, coded) in enumerate(zip(followed.legs, followed.points[1:], strict=True)):
        bare = _point(resolved, index + 1) if number == last else Point(coded.name, span, coded.place, None)
        path.lead(index, name, leg.gap, _coded(bare, coded, name), leg)
        path.windows[-1] = _windows(path.points[-1], coded, name)


def _coded(point: Point, coded: PathPoint, name: str) -> Point:
    """A point with what a procedure codes there."""
    speed, fly_over = coded.speed or point.speed, coded.fly_over or point.fly_over
    note = f"{point.note}; {coded.note}" if point.note and coded.note else point.note or coded.note
    return Point(point.text, point.span, point.place, point.stop, point.why, name, speed, fly_over, note)


def _windows(point: Point, coded: PathPoint, name: str) -> tuple[Window, ...]:
    if coded.window is None:
        return ()
    return (Window(point.text.upper(), coded.window.low_ft, coded.window.high_ft, name),)


def _point(resolved: ResolvedRoute, index: int) -> Point:
    stop = resolved.stops[index]
    span = None if stop.word is None else resolved.parsed.words[stop.word].span
    last = len(resolved.stops) - 1
    threshold = resolved.thresholds[0 if index == 0 else 1] if index in (0, last) else None
    return Point(stop.text, span, threshold or stop.place, index, stop.why)


def _span_of_link(resolved: ResolvedRoute, link: Link) -> Span | None:
    return resolved.parsed.words[link.words[-1]].span if link.words else None


def _via(link: Link) -> str:
    if link.via in (Via.DIRECT, Via.IMPLIED):
        return "DCT"
    return link.airway


def gap_reason(link: Link, start: Stop, end: Stop) -> str:
    """Why the path of a link is not fixed, in words; "" where it is."""
    if not link.is_gap:
        return ""
    if link.via is Via.UNKNOWN:
        return f"track {link.airway[-1:]} of which day? Paste its points"
    name = link.airway
    reasons = {
        Trouble.UNKNOWN_AIRWAY: f"{name} is not in the data",
        Trouble.OFF_ENTRY: _off(link, start),
        Trouble.OFF_EXIT: _off(link, end),
        Trouble.OFF_BOTH: f"neither {start.text} nor {end.text} is on {name}",
        Trouble.BROKEN: _broken(link, start, end),
        Trouble.APART: _apart(start, end),
        Trouble.OPEN_END: f"where {name} is joined or left is not said",
        Trouble.OUT_OF_PLACE: f"{name} is not at its end of the route, so that it leads nowhere",
        Trouble.UNKNOWN_PROCEDURE: f"procedure {name} is not in the data",
        Trouble.PROCEDURE_ELSEWHERE: f"{name} belongs to another airport",
        Trouble.END_UNPLACED: f"an end of {name} could not be placed",
    }
    return reasons[link.trouble] if link.trouble else ""


def _off(link: Link, stop: Stop) -> str:
    if link.detail.get("edge"):
        return f"{link.airway} leaves the loaded data at {link.detail['edge']}"
    return f"{stop.text} is not on {link.airway}"


def _broken(link: Link, start: Stop, end: Stop) -> str:
    if link.detail.get("edge"):
        return f"{link.airway} leaves the loaded data between {link.detail['edge']}"
    return f"{link.airway} is not continuous from {start.text} to {end.text}"


def _apart(start: Stop, end: Stop) -> str:
    joint = start if start.joins and start.place is None else end
    first, second = joint.joins or ("", "")
    return f"{first} and {second} have no point in common"
