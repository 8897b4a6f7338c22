"""The lines of the Side view: planned profile, filed levels, published minima, and what is said where one is missing.

Lines are places (drawn NM, feet) in order. Only what is known is in them.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import accumulate, pairwise
from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.formatting import NO_LEVELS, as_sentence
from routecheck.frozen_dataclass import dataclass
from routecheck.performance.planned_profile import flown_lines, plan_route, reckoned_lengths_nm
from routecheck.performance.speeds import filed_by_leg
from routecheck.vertical.levels import level_ft
from routecheck.vertical.minima import has_level
from routecheck.vertical.profile import plausible_altitude_ft
from routecheck.vertical.transition import levels_along, transition_ft
from routecheck.vertical.windows import greatest_gradients

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from routecheck.model import GridCell, Route, SpeedLimit
    from routecheck.vertical.windowed_profile import Piece

    Line = tuple[tuple[float, float], ...]

NO_ALTITUDES = (
    "No altitudes are known yet. File a level in the strip, give a SID or STAR whose windows are in the data,\n"
    "or state altitude windows in the route file."
)
AIRWAY, GRID = "airway minimum", "grid MORA"
_SAME_NM = 1e-9


@dataclass(frozen=True, slots=True)
class Step:
    """One altitude from one place to another, drawn NM; `what` says of which kind it is."""

    begins: float
    ends: float
    feet: float
    what: str
    levels_from_ft: float

    @property
    def label(self) -> str:
        """What is written at it."""
        return f"{self.what} {formatting.altitude(self.feet, self.levels_from_ft)}"


@dataclass(frozen=True, slots=True)
class Planned:
    """The planned profile cut at gaps: `profile` on fixed legs, `guessed` through gaps; `notes` what it lacks."""

    profile: tuple[Line, ...] = ()
    guessed: tuple[Line, ...] = ()
    notes: tuple[str, ...] = ()


def plan_lines(route: Route, places: Sequence[float]) -> tuple[Planned, tuple[Step, ...]]:
    """The planned profile, and the levels as filed that it does not come to: all where there is no ground for it."""
    filed = [plausible_altitude_ft(level_ft(level)) for _, level in filed_by_leg(route)]
    plan = plan_route(route)
    levels_from = levels_along(route)
    notes = (plan.rests_on,) if plan.lacks_gradients else plan.unknown_elevations
    levels = _merge(
        Step(places[i], places[i + 1], feet, "filed level", levels_from[i])
        for i, feet in enumerate(filed)
        if feet is not None and _is_at_filed_level(route, i)
    )
    if plan.profile is None:
        return Planned(notes=notes), levels
    lines = Planned(*_draw_lines(route, flown_lines(route, plan.profile), places), notes)
    return lines, tuple(step for step in levels if not _is_reached(step, (*lines.profile, *lines.guessed), levels))


def minima_steps(route: Route, places: Sequence[float]) -> tuple[Step, ...]:
    """Airway minimum and grid MORA leg by leg, equal ones joined; nothing where they are not known."""
    levels_from = levels_along(route)
    airway = _merge(
        Step(places[i], places[i + 1], leg.minimum_ft, AIRWAY, levels_from[i])
        for i, leg in enumerate(route.minima)
        if leg.minimum_ft is not None
    )
    grid = _merge(
        Step(
            places[i] + a * (places[i + 1] - places[i]),
            places[i] + b * (places[i + 1] - places[i]),
            feet,
            GRID,
            NO_LEVELS,
        )
        for i, leg in enumerate(route.minima)
        for a, b, feet in _grid(leg.cells)
    )
    return airway + grid


def notes(route: Route, lines: Planned, *, gaps: int) -> Iterator[str]:
    """What is not drawn, why, and where to get it."""
    sheet = route.route_input.sheet
    if sheet is None:
        yield "No room, no climb and no descent: choose an Aircraft sheet in the strip."
    elif greatest_gradients(route) is None:
        yield f"No room: the sheet “{sheet.name}” has no greatest gradients."
    if not has_level(route):
        yield "No planned profile and no minima: file a level in the strip."
    if not any(route.windows):
        yield "No altitude windows: none is coded on this route, none is stated."
    yield from (_sentence(note) for note in lines.notes)
    if lines.profile and any(route.windows):
        yield "Planned by the sheet's usual gradients within the windows."
    unknown = sum(leg.minimum_ft is None and not leg.mora_in_full for leg in route.minima)
    if unknown:
        yield f"Minimum not known, or not in full, on {unknown} of {formatting.count(len(route.minima), 'leg')}."
    if gaps:
        yield f"{formatting.count(gaps, 'gap')}: drawn no longer than the least length, so distances are “at least”."
    yield transition_note(route)


def transition_note(route: Route) -> str:
    """From where on altitudes are written as levels, and by the transition altitude of which aerodrome."""
    levels_from = levels_along(route)
    named: dict[tuple[bool, float], list[str]] = {}
    for end, side in ((0, "departure"), (-1, "destination")):
        point = route.points[end]
        feet = transition_ft(point.place)
        name = formatting.short(point.text) or f"the {side}"
        named.setdefault((feet is not None, levels_from[end] if feet is None else feet), []).append(name)
    said = [_levels_begin(feet, names, known=known) for (known, feet), names in named.items()]
    return f"Levels are written {formatting.listing(said)}."


def _levels_begin(feet: float, names: Sequence[str], *, known: bool) -> str:
    of_whom = formatting.listing(list(dict.fromkeys(names)))
    if known:
        return f"above {feet:,.0f} ft, the transition altitude of {of_whom}"
    return f"from {feet:,.0f} ft on, as the transition altitude of {of_whom} is not known"


def _sentence(note: str) -> str:
    return as_sentence(note)


def altitude_on(line: Line, nm: float) -> float:
    """The altitude of a line at a drawn distance; beyond its ends that of the end."""
    for (a, feet_a), (b, feet_b) in pairwise(line):
        if a <= nm <= b and b > a:
            return feet_a + (feet_b - feet_a) * (nm - a) / (b - a)
    return line[-1][1] if nm >= line[-1][0] else line[0][1]


def speed_label(limit: SpeedLimit) -> str:
    """A coded speed limit, indicated: "≤ 210 kt", "≥ 180 kt", "210 kt"."""
    sign = {"+": "≥ ", "-": "≤ "}.get(limit.code, "")
    return f"{sign}{limit.kt:.0f} kt"


def window_label(low_ft: float | None, high_ft: float | None, levels_from_ft: float) -> str:
    """A window as it is written at its bracket: "≥ 11,000 ft", "≤ FL240", "9,000 ft–FL200", "at 5,000 ft"."""
    exactly = "at " if low_ft is not None and low_ft == high_ft else ""
    return exactly + formatting.altitudes_in_signs(low_ft, high_ft, levels_from_ft)


# ---- how it is done


def _is_at_filed_level(route: Route, leg: int) -> bool:
    """Whether a filed level may be drawn on a leg: it has a length, and is no part of an approach."""
    connection = route.resolved.connections[route.legs[leg].connection]
    return route.legs[leg].distance_nm is not None and connection.procedure_kind != "APPROACH"


def _is_reached(step: Step, lines: Sequence[Line], levels: Sequence[Step]) -> bool:
    """Whether the profile comes to a filed level anywhere on the way for which it is filed, over gaps."""
    same = [other for other in levels if other.feet == step.feet]
    begins, ends = min(other.begins for other in same), max(other.ends for other in same)
    altitudes = [feet for line in lines for nm, feet in line if begins - 1e-6 <= nm <= ends + 1e-6]
    return any(abs(feet - step.feet) < 1.0 for feet in altitudes)


def _draw_lines(
    route: Route, lines: Iterable[tuple[int, Piece]], places: Sequence[float]
) -> tuple[tuple[Line, ...], tuple[Line, ...]]:
    """Lines as drawn: those on legs with a fixed path, and those guessed in gaps whose least length is known."""
    along = list(accumulate(reckoned_lengths_nm(route), initial=0.0))
    fixed: list[list[tuple[float, float]]] = []
    guessed: list[list[tuple[float, float]]] = []
    for leg, piece in lines:
        moved = [(places[leg] + nm - along[leg], feet) for nm, feet in piece]
        _append_line(fixed if route.legs[leg].distance_nm is not None else guessed, moved)
    return tuple(map(tuple, fixed)), tuple(map(tuple, guessed))


def _append_line(lines: list[list[tuple[float, float]]], line: list[tuple[float, float]]) -> None:
    """Go on with the line before where it ends here, straight up or down in a holding."""
    if lines and abs(lines[-1][-1][0] - line[0][0]) < _SAME_NM:
        lines[-1] += line
    else:
        lines.append(line)


def _grid(cells: Sequence[GridCell]) -> Iterator[tuple[float, float, float]]:
    """The grid MORA from share to share of a leg: the highest of all cells there, and nothing where one is unknown."""
    cuts = sorted({share for cell in cells for share in (cell.begins, cell.ends)})
    for a, b in pairwise(cuts):
        there = [cell.mora_ft for cell in cells if cell.begins <= a and b <= cell.ends]
        known = [feet for feet in there if feet is not None]
        if known and len(known) == len(there):
            yield a, b, max(known)


def _merge(steps: Iterator[Step]) -> tuple[Step, ...]:
    merged: list[Step] = []
    for step in steps:
        last = merged[-1] if merged else None
        if last and last.feet == step.feet and step.begins - last.ends < 1e-6:
            merged[-1] = replace(last, ends=step.ends)
        else:
            merged.append(step)
    return tuple(merged)
