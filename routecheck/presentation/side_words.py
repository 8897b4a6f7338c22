"""What is read out of the Side view: at a place, and of the whole. Text only; nothing is laid out here."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.presentation.side_lines import AIRWAY, GRID, altitude_on, window_label
from routecheck.presentation.tooltips import constraint_lines
from routecheck.vertical.room import UNBOUNDED, WindowPair
from routecheck.vertical.windows import altitude_bounds, greatest_gradients, unbroken_lengths_nm

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Assessment, Route
    from routecheck.presentation.side_view import SideGap, SideView
    from routecheck.vertical.room import Bounds

_FEET_A_NM = 1852.0 / 0.3048


def describe_place(view: SideView, assessment: Assessment, nm: float, point: int | None = None) -> str:
    """What is said of a place: how far along, its windows, the room, the planned altitude, minima, the gradient.

    `point` = a point of the route that lies there; its windows are read out in full.
    """
    route, leg = assessment.route, view.leg_at(nm)
    if leg is None or view.missing:
        return ""
    lines = [_place_in_words(view, route, nm, leg, point)]
    if point is not None:
        lines += constraint_lines(route, point)
    gap = view.gap_of(leg) if point is None else None
    if gap is not None:
        return "\n".join((*lines, *_of_gap(view, route, gap)))
    lines.append(_room_line(view, route, nm, leg))
    lines += [
        line for line in (_planned_line(view, nm, view.levels_from[leg]), _minima_line(view, route, nm, leg)) if line
    ]
    lines += _gradient_lines(view, route, leg, point)
    return "\n".join(lines)


def describe_side_view(view: SideView) -> str:
    """The whole Side view in sentences, for who does not see it."""
    if view.missing:
        return view.missing
    windows = [
        f"{view.points[b.point].name} {formatting.altitudes_allowed(b.low_ft, b.high_ft, view.levels_from[b.point])}"
        for b in view.brackets
    ]
    said = [f"Altitude windows: {'; '.join(windows)}." if windows else ""]
    said += [f"No room {_points_of_stretch(view, *stretch)}." for stretch in view.shut]
    return " ".join(filter(None, (*said, *view.notes)))


def gradient_words(needed_ft_nm: float, *, climbs: bool) -> str:
    """A gradient in words: "at least 318 ft/NM down (3.0°)"."""
    if math.isinf(needed_ft_nm):
        return f"a change of altitude {'up' if climbs else 'down'} with no distance for it"
    degrees = math.degrees(math.atan(needed_ft_nm / _FEET_A_NM))
    return f"{needed_ft_nm:.0f} ft/NM {'up' if climbs else 'down'} ({degrees:.1f}°)"


# ---- line by line


def _place_in_words(view: SideView, route: Route, nm: float, leg: int, point: int | None) -> str:
    along = f"{_distance_in_words(view, nm)} from {view.points[0].name}"
    if point is not None:
        name = view.points[point].name
        return f"{name}, {along}" if point else name
    ends = f"{view.points[leg].name} to {view.points[leg + 1].name}"
    return f"{ends}, {route.legs[leg].via}, {along}"


def _distance_in_words(view: SideView, nm: float) -> str:
    """How far it is from the start: at least, where gaps are on the way, and then only what can be answered for."""
    passed = [gap for gap in view.gaps if gap.begins < nm - 1e-6]
    unknown = sum(min(nm, gap.ends) - gap.begins for gap in passed if gap.least_nm is None or nm < gap.ends)
    return f"{'at least ' if passed else ''}{formatting.nm(max(nm - unknown, 0.0))}"


def _of_gap(view: SideView, route: Route, gap: SideGap) -> Iterator[str]:
    why = next((route.legs[i].gap for i in range(gap.first, gap.last) if route.legs[i].gap), "the path is not fixed")
    length = "no length is known" if gap.least_nm is None else f"at least {formatting.nm(gap.least_nm)}"
    yield f"Gap from {view.points[gap.first].name} to {view.points[gap.last].name}, {length}: {why}"
    yield "Nothing is said of altitudes in a gap"


def _room_line(view: SideView, route: Route, nm: float, leg: int) -> str:
    if any(begins <= nm <= ends for begins, ends in view.shut):
        return "No room here: the windows before and after cannot both be kept"
    for piece in view.band:
        if piece[0][0] - 1e-6 <= nm <= piece[-1][0] + 1e-6:
            return f"Room: {_room_words(*band_at(piece, nm), view.levels_from[leg])}"
    if greatest_gradients(route) is None:
        return "Room not known: no greatest gradients, choose an Aircraft sheet"
    if unbroken_lengths_nm(route)[leg] is None:
        return f"Room: behind the holding at {view.points[leg].name} any altitude may follow"
    return "Room: nothing here limits it"


def band_at(piece: tuple[tuple[float, float, float], ...], nm: float) -> Bounds:
    """The lowest and highest altitude of a piece of the band at a drawn distance; None = open."""
    low, high = piece[-1][1:]
    for (a, low_a, high_a), (b, low_b, high_b) in pairwise(piece):
        if a <= nm <= b and b > a:
            share = (nm - a) / (b - a)
            low = low_a if math.isinf(low_a) or math.isinf(low_b) else low_a + (low_b - low_a) * share
            high = high_a if math.isinf(high_a) or math.isinf(high_b) else high_a + (high_b - high_a) * share
            break
    return (low if math.isfinite(low) else None), (high if math.isfinite(high) else None)


def _room_words(low: float | None, high: float | None, levels_from_ft: float) -> str:
    low = None if low is not None and low <= 0.0 else low
    if low is not None and high is not None and high - low < 50.0:
        return f"only {formatting.altitude(high, levels_from_ft)}"
    return formatting.altitudes_allowed(low, high, levels_from_ft)


def _planned_line(view: SideView, nm: float, levels_from_ft: float) -> str:
    line = next((ln for ln in view.profile if ln[0][0] - 1e-6 <= nm <= ln[-1][0] + 1e-6), None)
    if line is None:
        step = next((s for s in view.levels if s.begins <= nm <= s.ends), None)
        filed = formatting.altitude(step.feet, levels_from_ft) if step else ""
        return f"Filed level {filed}, climb and descent not reckoned" if step else ""
    feet = altitude_on(line, nm)
    slope = next(((fb - fa) / (b - a) for (a, fa), (b, fb) in pairwise(line) if a <= nm <= b and b > a), 0.0)
    way = "level" if abs(slope) < 1.0 else gradient_words(abs(slope), climbs=slope > 0)
    return f"Planned {formatting.altitude(feet, levels_from_ft)}, {way}"


def _minima_line(view: SideView, route: Route, nm: float, leg: int) -> str:
    if not route.minima:
        return ""
    there = {step.what: step.feet for step in view.minima if step.begins <= nm <= step.ends}
    asked = [(AIRWAY, view.levels_from[leg])] if route.minima[leg].on_airway else []
    asked.append((GRID, formatting.NO_LEVELS))
    known = [(what, formatting.altitude(there[what], levels) if what in there else "") for what, levels in asked]
    said = ", ".join(f"{what} {words or 'not known'}" for what, words in known)
    return f"{said[:1].upper()}{said[1:]}"


def _gradient_lines(view: SideView, route: Route, leg: int, point: int | None) -> Iterator[str]:
    """The windows around a place and the gradient between them; at a window the one from it on."""
    windows = altitude_bounds(route)
    start = leg if point is None else point
    before = next((i for i in range(start, -1, -1) if windows[i] != UNBOUNDED), None)
    after = next((i for i in range(start + 1, len(windows)) if windows[i] != UNBOUNDED), None)
    if before is None or after is None:
        return
    ends = f"{_window_words(view, before, windows[before])} to {_window_words(view, after, windows[after])}"
    known = unbroken_lengths_nm(route)[before:after]
    if None in known:
        is_gap = any(one.distance_nm is None for one in route.legs[before:after])
        yield f"{ends}: a {'gap' if is_gap else 'holding'} lies between, no gradient is reckoned"
        return
    distance = sum(nm or 0.0 for nm in known)
    yield f"{ends} in {formatting.nm(distance)}: {_needed_gradient(route, windows[before], windows[after], distance)}"


def _window_words(view: SideView, point: int, window: Bounds) -> str:
    return f"{view.points[point].name} {window_label(*window, view.levels_from[point])}"


def _needed_gradient(route: Route, one: Bounds, other: Bounds, distance: float) -> str:
    pair = _pair(one, other, distance)
    if pair is None:
        return "can be kept in level flight"
    greatest = greatest_gradients(route)
    most = ""
    if greatest is not None:
        most = _steepest_in_words(greatest.climb_ft_nm if pair.climbs else greatest.descent_ft_nm)
    return f"needs {gradient_words(pair.needed_ft_nm, climbs=pair.climbs)}{most}"


def _steepest_in_words(ft_nm: float) -> str:
    return f", this sheet's steepest is {ft_nm:.0f}"


def _pair(one: Bounds, other: Bounds, distance: float) -> WindowPair | None:
    """The altitudes between which something must be climbed or descended at least; None where nothing must."""
    for first, last, asked in (
        (one[0], other[1], one[0] is not None and other[1] is not None and one[0] > other[1]),
        (one[1], other[0], one[1] is not None and other[0] is not None and one[1] < other[0]),
    ):
        if asked and first is not None and last is not None:
            return WindowPair(0, 1, first, last, distance)
    return None


def _points_of_stretch(view: SideView, begins: float, ends: float) -> str:
    """Where a stretch lies, by the points in it, else by those around it."""
    inside = [point.name for point in view.points if begins <= point.nm <= ends]
    if inside:
        return f"about {formatting.listing(inside)}"
    leg = view.leg_at(begins) or 0
    return f"between {view.points[leg].name} and {view.points[leg + 1].name}"
