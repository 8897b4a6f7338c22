"""Another value of a stated altitude window for one that cannot be meant. Nothing is tried here."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import accumulate, permutations
from typing import TYPE_CHECKING

from routecheck.checks.altitude_queries import highest_stretch
from routecheck.corrections.candidate import Candidate, Question
from routecheck.entry_errors.words import with_neighbours_swapped
from routecheck.formatting import LEVELS_EVERYWHERE_FT, altitudes_allowed
from routecheck.model import AltitudeWindow, FieldChange
from routecheck.vertical.windows import altitude_bounds, field_elevation_ft, intersect_windows

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Route

FACTORS = ((10.0, 1.0, "a zero was missing"), (0.1, 1.0, "a zero too many"), (100.0, 1.0, "a level typed as feet"))
"""(factor, how unlikely, in words)."""
SWAPPED, EXCHANGED, OTHER_SIDE, CODED = 1.4, 0.3, 1.5, 2.0
AS_CODED = 1.0
"""What it is worth that the data codes the very value."""
MISFIT = 2.0
"""What it costs to lie beyond the altitudes around it by twice; what lies further beyond is not tried."""
WIDE = 3.0
"""How many times its lowest the highest of a window may be before that counts as a misfit."""
ODD, ABOVE_LEVEL = 1.2, 1.5
"""What it costs a window not to be in whole thousands (below 10,000 ft: hundreds), and to lie above the filed level."""
SHALLOW_FT_NM = 100.0
"""An altitude this little above the field for every mile to it is the lowest thought of, where no window says."""
HIGHEST_FT, LEAST_FT = 60_000.0, 100.0
_Feet = tuple[float | None, float | None]
"""The lowest and the highest altitude of a window."""


# ---- altitude windows


def other_windows(question: Question) -> Iterator[Candidate]:
    """Other values of the stated windows at the points of the finding, as far as they fit what is around them."""
    around = _AltitudesAround(question.route)
    for index in question.finding.points:
        windows = question.route.windows[index] if question.route.windows else ()
        stated = [window for window in windows if window.typed and window in question.route_input.windows]
        yield from _two_windows_exchanged(stated)
        for window in stated:
            yield from _other_values(window, index, windows, around)


def _two_windows_exchanged(stated: Sequence[AltitudeWindow]) -> Iterator[Candidate]:
    """An at-or-above and an at-or-below of one point, each with the altitude of the other."""
    for above, below in permutations(stated, 2):
        if above.high_ft is below.low_ft is None and above.low_ft is not None and below.high_ft is not None:
            changes = (
                FieldChange("windows", above, replace(above, low_ft=below.high_ft)),
                FieldChange("windows", below, replace(below, high_ft=above.low_ft)),
            )
            yield Candidate("lowest and highest exchanged", EXCHANGED, beside=changes)


def _other_values(
    window: AltitudeWindow, index: int, there: Sequence[AltitudeWindow], around: _AltitudesAround
) -> Iterator[Candidate]:
    """The values that may have been meant of a window at a point, of which `there` are all windows."""
    coded = intersect_windows([other for other in there if not other.typed])
    others = _middle_ft(intersect_windows([other for other in there if other is not window]))
    for feet, cost, why in _values_near(window, coded):
        misfit = around.misfit(index, feet, others)
        if misfit is not None and feet != (window.low_ft, window.high_ft):
            is_coded = feet == coded
            evidence = f"{why}, as coded" if is_coded and cost != CODED else why
            new = replace(window, low_ft=feet[0], high_ft=feet[1])
            change = FieldChange("windows", window, new)
            yield Candidate(evidence, cost + misfit - AS_CODED * is_coded, beside=(change,))


def _values_near(window: AltitudeWindow, coded: _Feet) -> Iterator[tuple[_Feet, float, str]]:
    """(lowest and highest, how unlikely, why) of every other value that is tried."""
    low, high = window.low_ft, window.high_ft
    if low != high:
        cost = EXCHANGED if None not in (low, high) else OTHER_SIDE
        yield (high, low), cost, "lowest and highest exchanged"
    if coded != (None, None):
        yield coded, CODED, f"the data codes {altitudes_allowed(*coded, LEVELS_EVERYWHERE_FT)}"
    for factor, cost, why in FACTORS:
        scaled_low, scaled_high = _scaled_ft(low, factor), _scaled_ft(high, factor)
        yield (scaled_low, scaled_high), cost, why
        if low is not None and high is not None and low != high:
            yield (scaled_low, high), cost + 0.2, why
            yield (low, scaled_high), cost + 0.2, why
    if low == high and low is not None:
        yield from (((feet, feet), SWAPPED, "two digits swapped") for feet in _swapped_ft(low))
        return
    yield from (((feet, high), SWAPPED, "two digits swapped") for feet in _swapped_ft(low))
    yield from (((low, feet), SWAPPED, "two digits swapped") for feet in _swapped_ft(high))


def _scaled_ft(feet: float | None, factor: float) -> float | None:
    if feet is None or (factor < 1.0 and feet % 100.0):
        return feet
    return float(round(feet * factor))


def _swapped_ft(feet: float | None) -> list[float]:
    """Two neighbouring digits exchanged; of an altitude below the sea there is nothing to try."""
    if feet is None or feet < 0:
        return []
    return [float(text) for text in with_neighbours_swapped(f"{feet:.0f}") if text[0] != "0"]


class _AltitudesAround:
    """The altitudes around every point of a route: the windows before and after, else filed level and fields."""

    def __init__(self, route: Route) -> None:
        self._windows_ft = [_middle_ft(window) for window in altitude_bounds(route, fields=False)]
        self._fields_ft = field_elevation_ft(route.points[0]) or 0.0, field_elevation_ft(route.points[-1]) or 0.0
        self._flown_nm = list(accumulate((leg.least_nm or 0.0 for leg in route.legs), initial=0.0))
        self._in_second_half = [nm > self._flown_nm[-1] / 2.0 for nm in self._flown_nm]
        filed = highest_stretch(route)
        self._level_ft = (filed.level_ft if filed else None) or HIGHEST_FT

    def misfit(self, index: int, window: _Feet, others_ft: float) -> float | None:
        """What it costs a window to lie beyond the altitudes around it; None where it cannot be meant.

        Those around it are those of the other windows at the same point (0 = none), else those before and after.
        """
        altitudes = [feet for feet in window if feet is not None]
        lowest = max(self._fields_ft[self._in_second_half[index]], LEAST_FT)
        if not altitudes or min(altitudes) < lowest or max(altitudes) > HIGHEST_FT or altitudes[0] > altitudes[-1]:
            return None
        near = (others_ft, others_ft) if others_ft > 0 else self._before_and_after(index)
        middle = sum(altitudes) / len(altitudes)
        below = math.log2(min(near) / middle) if min(near) > 0 else 0.0
        beyond = max(below, math.log2(middle / max(near)), 0.0)
        if beyond > 1.0:
            return None
        wide = max(math.log2(altitudes[-1] / altitudes[0] / WIDE), 0.0)
        odd = ODD * any(map(_is_odd, altitudes))
        return MISFIT * (beyond + wide) + odd + ABOVE_LEVEL * (max(altitudes) > self._level_ft)

    def _before_and_after(self, index: int) -> tuple[float, float]:
        before = next((feet for feet in reversed(self._windows_ft[:index]) if feet > 0), None)
        after = next((feet for feet in self._windows_ft[index + 1 :] if feet > 0), None)
        late = self._in_second_half[index]
        to_field_nm = self._flown_nm[-1] - self._flown_nm[index] if late else self._flown_nm[index]
        low = min(self._fields_ft[late] + SHALLOW_FT_NM * to_field_nm, self._level_ft)
        level_or_low = (self._level_ft, low) if late else (low, self._level_ft)
        return (
            before if before is not None else level_or_low[0],
            after if after is not None else level_or_low[1],
        )


def _is_odd(feet: float) -> bool:
    return feet % (1_000.0 if feet >= 10_000.0 else 100.0) != 0.0


def _middle_ft(window: Sequence[float | None]) -> float:
    """One altitude for a window; 0 where it is open."""
    known = [bound for bound in window if bound is not None]
    return sum(known) / len(known) if known else 0.0
