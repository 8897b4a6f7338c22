"""What another runway or approach changes, in sentences: branch, first leg, turn and height, distance, what to look at.

A pure function of the assessments before and after. Nothing is reckoned here, and nothing is guessed across a gap.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.earth.geo import wrap180
from routecheck.frozen_dataclass import dataclass
from routecheck.presentation.time_words import known_times
from routecheck.presentation.verdict import WEIGHT_NAMES
from routecheck.vertical.room import UNBOUNDED
from routecheck.vertical.transition import levels_from_ft
from routecheck.vertical.windows import altitude_bounds, unassigned_windows

if TYPE_CHECKING:
    from routecheck.model import Assessment, Finding, Leg, Route

_LEAST_TURN_DEG = 3.0
"""What is less is no turn to speak of."""
_LEAST_OFF_RUNWAY_DEG = 15.0
"""A runway's number is its direction to ten degrees, of the year it was painted."""
_MOST_NEW = 3
_KINDS = (("SID",), ("STAR", "APPROACH"))


@dataclass(frozen=True, slots=True)
class _End:
    """One end of a route: points `first` to `last` belong to it; what differs begins at point `parts`."""

    route: Route
    which: int
    first: int
    last: int
    parts: int = 0

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(point.text for point in self.route.points[self.first : self.last + 1])

    @property
    def runway(self) -> str:
        return self.route.resolved.runways[self.which]

    @property
    def procedures(self) -> tuple[str, ...]:
        return tuple(
            connection.name
            for connection in self.route.resolved.connections
            if connection.procedure_kind in _KINDS[self.which]
        )


@dataclass(frozen=True, slots=True)
class _Answer:
    """What is said of one side of the change; `known` = it is the thing itself, not why there is none."""

    text: str
    known: bool = True


def runway_change(before: Assessment, after: Assessment) -> tuple[str, ...]:
    """The sentences about what changed between two assessments of one route; () where no runway or approach did."""
    sentences: list[str] = []
    for which in (0, 1):
        if _stated_runway(before.route, which) != _stated_runway(after.route, which):
            was, now = _align_ends(_find_end(before.route, which), _find_end(after.route, which))
            sentences += [_opening_sentence(was, now), *_difference_sentences(was, now)]
    if not sentences:
        return ()
    lost = _unplaced_sentences(before.route, after.route)
    return (
        *sentences,
        _distance_sentence(before.route, after.route),
        *_finding_sentences(before, after),
        *lost,
        _closing_sentence(before, after),
    )


def _stated_runway(route: Route, which: int) -> tuple[str, str]:
    return route.resolved.runways[which], route.route_input.approach.strip().upper() if which else ""


def _find_end(route: Route, which: int) -> _End:
    """The points of the procedures at one end, or of the last leg there."""
    own = [
        i
        for i, leg in enumerate(route.legs)
        if route.resolved.connections[leg.connection].procedure_kind in _KINDS[which]
    ]
    if which == 0:
        return _End(route, 0, 0, (own[-1] if own else 0) + 1)
    return _End(route, 1, own[0] if own else len(route.points) - 2, len(route.points) - 1)


def _align_ends(was: _End, now: _End) -> tuple[_End, _End]:
    """Both with the point from which they differ: the runway of a departure, the last common point of an arrival."""
    if was.which == 0:
        return was, now
    common = 0
    for one, other in zip(was.names, now.names, strict=False):
        if one != other:
            break
        common += 1
    common = min(common, len(was.names) - 1, len(now.names) - 1)
    apart = max(common - 1, 0)
    return (
        _End(was.route, 1, was.first, was.last, was.first + apart),
        _End(now.route, 1, now.first, now.last, now.first + apart),
    )


def _opening_sentence(was: _End, now: _End) -> str:
    side = ("Departure", "Destination")[now.which]
    airport = now.route.points[0 if now.which == 0 else -1].text
    approach = now.route.route_input.approach.strip().upper() if now.which else ""
    before = was.route.route_input.approach.strip().upper() if was.which else ""
    runway = f"runway {now.runway or 'not stated'}{f' by approach {approach}' if approach else ''}"
    earlier = f"{was.runway or 'not stated'}{f' by {before}' if before else ''}"
    return f"{side} {airport}: {runway}, was {earlier}."


def _difference_sentences(was: _End, now: _End) -> list[str]:
    """Branch, first leg, first turn, first height: each only where it differs."""
    parts = (
        ("Way", _way_flown(was), _way_flown(now)),
        ("First leg", _first_leg(was), _first_leg(now)),
        ("First turn", _first_turn(was), _first_turn(now)),
        ("First altitude", _first_window(was), _first_window(now)),
    )
    sentences = [
        f"{what}{_starting_point(now)}: {new.text}; was {old.text}." for what, old, new in parts if _differ(old, new)
    ]
    if _way_flown(was) == _way_flown(now):
        sentences.insert(0, f"{formatting.listing(now.procedures) or 'The way'}: by the same points.")
    return sentences


def _differ(old: _Answer, new: _Answer) -> bool:
    """Whether there is a change to tell of: two things that are not known are none."""
    return old != new and (old.known or new.known)


def _starting_point(now: _End) -> str:
    return "" if now.which == 0 else f" from {now.route.points[now.parts].text}"


def _way_flown(end: _End) -> _Answer:
    named = f"{' and '.join(end.procedures)}, " if end.procedures else "no procedure, "
    names = end.names if end.which == 0 else tuple(p.text for p in end.route.points[end.parts : end.last + 1])
    return _Answer(named + "–".join(formatting.short(name) or "?" for name in names))


def _first_leg(end: _End) -> _Answer:
    leg = end.route.legs[end.parts]
    ends = "–".join(point.text for point in end.route.points[end.parts : end.parts + 2])
    if leg.distance_nm is None:
        return _Answer(f"{ends}, {leg.gap or 'not fixed'}")
    return _Answer(f"{ends} {formatting.course(leg.course_magnetic_deg, 'M')} {formatting.nm(leg.distance_nm)}")


def _first_turn(end: _End) -> _Answer:
    """The first turn that can be told; what lies behind a gap cannot."""
    route = end.route
    if end.which == 0 and (off := _turn_off_runway(end.runway, route.legs[0])):
        return _Answer(off)
    for index in range(max(end.parts, 1), min(end.last + 1, len(route.legs))):
        comes, goes = route.legs[index - 1].end_course_true_deg, route.legs[index].course_true_deg
        if comes is None or goes is None:
            ends = route.points[index - 1 : index + 1] if comes is None else route.points[index : index + 2]
            return _Answer(f"not known, {'–'.join(point.text for point in ends)} is not fixed", known=False)
        turned = wrap180(goes - comes)
        if abs(turned) >= _LEAST_TURN_DEG:
            return _Answer(f"{formatting.turn(turned)} at {route.points[index].text}")
    return _Answer("none")


def _turn_off_runway(runway: str, leg: Leg) -> str:
    """The turn from the runway's direction, which its number gives to ten degrees."""
    if not runway[:2].isdecimal() or leg.distance_nm is None or leg.course_magnetic_deg is None:
        return ""
    turned = wrap180(leg.course_magnetic_deg - 10.0 * int(runway[:2]))
    if abs(turned) < _LEAST_OFF_RUNWAY_DEG:
        return ""
    tens = round(turned, -1)
    return f"about {'half round' if abs(tens) == 180 else formatting.turn(tens)} after take-off"


def _first_window(end: _End) -> _Answer:
    windows = altitude_bounds(end.route, fields=False)
    for index in range(end.parts + 1, end.last + 1):
        if windows[index] != UNBOUNDED:
            allowed = formatting.altitudes_allowed(*windows[index], levels_from_ft(end.route, index))
            return _Answer(f"{end.route.points[index].text} {allowed}")
    return _Answer("none coded or stated")


def _distance_sentence(before: Route, after: Route) -> str:
    """Both lengths; their difference only where neither has a gap."""
    old, new = _length(before), _length(after)
    by = after.totals.distance_nm - before.totals.distance_nm
    open_ends = before.totals.gaps or after.totals.gaps
    which = "longer" if by > 0 else "shorter"
    compared = "" if open_ends or abs(by) < 0.05 else f", {formatting.nm(abs(by))} {which}"
    length = f"{new}, as before" if new == old and not compared else f"{new}, was {old}{compared}"
    times = [_time(route) for route in (before, after)]
    timed = f"; time {times[1]}, was {times[0]}" if all(times) and times[0] != times[1] else ""
    return f"Distance: {length}{timed}."


def _length(route: Route) -> str:
    if route.totals.gaps and not route.totals.distance_nm:
        return "not known"
    return f"{'at least ' if route.totals.gaps else ''}{formatting.nm(route.totals.distance_nm)}"


def _time(route: Route) -> str:
    times = known_times(route)
    if times is None or times.minutes is None:
        return ""
    return f"{'at least ' if times.gaps else ''}{formatting.duration(times.minutes)}"


def _finding_sentences(before: Assessment, after: Assessment) -> list[str]:
    """The findings that were not there before, and how many are gone; other figures in one are no news."""
    old, new = (
        {_finding_key(finding) for finding in before.findings},
        {_finding_key(finding) for finding in after.findings},
    )
    fresh = [finding for finding in after.findings if _finding_key(finding) not in old]
    sentences = [f"Now {WEIGHT_NAMES[f.weight]}: {f.message}" for f in fresh[:_MOST_NEW]]
    if len(fresh) > _MOST_NEW:
        sentences.append(f"And {formatting.count(len(fresh) - _MOST_NEW, 'more new finding')}.")
    if gone := len(old - new):
        sentences.append(
            f"{formatting.count(gone, 'finding')} of before no longer {'stands' if gone == 1 else 'stand'}."
        )
    return sentences


def _finding_key(finding: Finding) -> tuple[object, ...]:
    return finding.check, finding.spans, finding.weight


def _unplaced_sentences(before: Route, after: Route) -> list[str]:
    """What was stated for points that the route does not go by any more."""
    here, then = {p.text.upper() for p in after.points}, {p.text.upper() for p in before.points}
    stated = [
        window.point
        for window, _ in unassigned_windows(after.route_input.windows, after.points)
        if window.point in then
    ]
    stated += [claim.to for claim in after.route_input.claims if claim.to.upper() in then - here]
    points = list(dict.fromkeys(stated))
    return [f"What is stated for {formatting.listing(points)} belongs to no point of the route now."] if points else []


def _closing_sentence(before: Assessment, after: Assessment) -> str:
    things: list[str] = []
    for which, loaded, heights in (
        (0, "the departure", "its first turn and altitudes"),
        (1, "the arrival", "its last turns and altitudes"),
    ):
        end = _find_end(after.route, which)
        if _stated_runway(before.route, which) != _stated_runway(after.route, which):
            runway = f"for runway {end.runway}" if end.runway else "without a runway"
            things.append(f"{formatting.listing(end.procedures) or loaded} as loaded {runway}, {heights}")
    return f"Look again at {'; '.join(things)}; and at performance, which is not looked at here."
