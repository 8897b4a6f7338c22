"""Stops and links unrolled into the points of the path, one after the other, with what joins them. No figures yet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from routecheck.model import Link, Point, ResolvedRoute, Stop, Trouble, Via

if TYPE_CHECKING:
    from routecheck.model import Span


@dataclass(frozen=True, slots=True)
class Path:
    """`points`, and for each leg between two of them the index of its link, its `via` and the gap's reason ("")."""

    points: tuple[Point, ...]
    links: tuple[int, ...]
    vias: tuple[str, ...]
    gaps: tuple[str, ...]


def unroll(resolved: ResolvedRoute) -> Path:
    """All points from aerodrome to aerodrome, those inside airways included."""
    points = [_point(resolved, 0)]
    links: list[int] = []
    for index, link in enumerate(resolved.links):
        span = _span_of_link(resolved, link)
        points += [Point(place.ident, span, place, None) for place in link.inner]
        points.append(_point(resolved, index + 1))
        links += [index] * (len(link.inner) + 1)
    vias = tuple(_via(resolved.links[i]) for i in links)
    gaps = tuple(gap_reason(resolved.links[i], resolved.stops[i], resolved.stops[i + 1]) for i in links)
    return Path(tuple(points), tuple(links), vias, gaps)


def _point(resolved: ResolvedRoute, index: int) -> Point:
    stop = resolved.stops[index]
    span = None if stop.word is None else resolved.parsed.words[stop.word].span
    return Point(stop.text, span, stop.place, index, stop.why)


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
        Trouble.NOT_EXPANDED: f"{link.detail.get('kind', 'procedure')} {name} is not expanded in this version",
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
