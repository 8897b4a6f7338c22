"""Another value of an altitude window as stated: ten times, a tenth, digits swapped, exchanged, as coded. No trying."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import accumulate, permutations
from typing import TYPE_CHECKING

from routecheck.checks.altitude_queries import highest_stretch
from routecheck.corrections.candidate import Candidate, Question
from routecheck.corrections.digits import swapped
from routecheck.formatting import altitudes_allowed
from routecheck.model import AltitudeWindow, FieldChange
from routecheck.vertical.windows import bounds, field_ft, together

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Route

FACTORS = ((10.0, 1.0, "a zero was missing"), (0.1, 1.0, "a zero too many"), (100.0, 1.0, "a level typed as feet"))
"""(factor, how unlikely, in words)."""
SWAPPED, EXCHANGED, OTHER_SIDE, CODED = 1.4, 0.3, 1.5, 2.0
AS_CODED = 1.0
"""What it is worth that the data codes the very value."""
MISFIT = 2.0
"""What it costs to lie beyond the heights around it by twice; what lies further beyond is not tried."""
WIDE = 3.0
"""How many times its lowest the highest of a window may be before that counts as a misfit."""
ODD, ABOVE_LEVEL = 1.2, 1.5
"""What it costs a window not to be in whole thousands (below 10,000 ft: hundreds), and to lie above the filed level."""
SHALLOW_FT_NM = 100.0
"""A height this little above the field for every mile to it is the lowest that is thought of, where no window says."""
HIGHEST_FT, LEAST_FT = 60_000.0, 100.0
_Value = tuple[float | None, float | None]


def window_options(asked: Question) -> Iterator[Candidate]:
    """Other values of the stated windows at the points of the finding, as far as they fit what is around them."""
    around = _Around(asked.route)
    for index in asked.finding.points:
        windows = asked.route.windows[index] if asked.route.windows else ()
        stated = [window for window in windows if window.typed and window in asked.route_input.windows]
        yield from _two_exchanged(stated)
        for window in stated:
            yield from _of(window, index, windows, around)


def _two_exchanged(stated: Sequence[AltitudeWindow]) -> Iterator[Candidate]:
    """An at-or-above and an at-or-below of one point, each with the height of the other."""
    for above, below in permutations(stated, 2):
        if above.high_ft is below.low_ft is None and above.low_ft is not None and below.high_ft is not None:
            changes = (
                FieldChange("windows", above, replace(above, low_ft=below.high_ft)),
                FieldChange("windows", below, replace(below, high_ft=above.low_ft)),
            )
            yield Candidate("lowest and highest exchanged", EXCHANGED, beside=changes)


def _of(window: AltitudeWindow, index: int, there: Sequence[AltitudeWindow], around: _Around) -> Iterator[Candidate]:
    coded = together([other for other in there if not other.typed])
    others = _middle(together([other for other in there if other is not window]))
    for low, high, cost, why in _values(window, coded):
        misfit = around.misfit(index, low, high, others)
        if misfit is not None and (low, high) != (window.low_ft, window.high_ft):
            as_coded = (low, high) == coded
            told = f"{why}, as coded" if as_coded and cost != CODED else why
            new = replace(window, low_ft=low, high_ft=high)
            yield Candidate(told, cost + misfit - AS_CODED * as_coded, beside=(FieldChange("windows", window, new),))


def _values(window: AltitudeWindow, coded: _Value) -> Iterator[tuple[float | None, float | None, float, str]]:
    """(lowest, highest, how unlikely, why) of every other value that is tried."""
    low, high = window.low_ft, window.high_ft
    if low != high:
        cost = EXCHANGED if None not in (low, high) else OTHER_SIDE
        yield high, low, cost, "lowest and highest exchanged"
    if coded != (None, None):
        yield (*coded, CODED, f"the data codes {altitudes_allowed(*coded)}")
    for factor, cost, why in FACTORS:
        a, b = _scaled(low, factor), _scaled(high, factor)
        yield from _either(window, a, b, cost, why)
    if low == high and low is not None:
        yield from ((feet, feet, SWAPPED, "two digits swapped") for feet in _swapped(low))
        return
    yield from ((feet, high, SWAPPED, "two digits swapped") for feet in _swapped(low))
    yield from ((low, feet, SWAPPED, "two digits swapped") for feet in _swapped(high))


def _either(
    window: AltitudeWindow, a: float | None, b: float | None, cost: float, why: str
) -> Iterator[tuple[float | None, float | None, float, str]]:
    """Both bounds changed, and of two different ones each alone."""
    low, high = window.low_ft, window.high_ft
    yield a, b, cost, why
    if low is not None and high is not None and low != high:
        yield a, high, cost + 0.2, why
        yield low, b, cost + 0.2, why


def _scaled(feet: float | None, factor: float) -> float | None:
    if feet is None or (factor < 1.0 and feet % 100.0):
        return feet
    return float(round(feet * factor))


def _swapped(feet: float | None) -> list[float]:
    """Two neighbouring digits exchanged; of a height below the sea there is nothing to try."""
    return [] if feet is None or feet < 0 else [float(text) for text in swapped(f"{feet:.0f}") if text[0] != "0"]


class _Around:
    """The heights around every point of a route: the windows before and after, else the filed level and the fields."""

    def __init__(self, route: Route) -> None:
        self._held = [_middle(window) for window in bounds(route, fields=False)]
        self._ends = field_ft(route.points[0]) or 0.0, field_ft(route.points[-1]) or 0.0
        self._along = list(accumulate((leg.least_nm or 0.0 for leg in route.legs), initial=0.0))
        self._second_half = [nm > self._along[-1] / 2.0 for nm in self._along]
        filed = highest_stretch(route)
        self._level = (filed.level_ft if filed else None) or HIGHEST_FT

    def misfit(self, index: int, low: float | None, high: float | None, others: float) -> float | None:
        """What it costs to lie beyond the heights around it; None where it cannot be meant.

        Those around it are those of the `others` at the same point (0 = none), else those before and after.
        """
        heights = [feet for feet in (low, high) if feet is not None]
        field = self._ends[self._second_half[index]]
        if not heights or min(heights) < max(field, LEAST_FT) or max(heights) > HIGHEST_FT or heights[0] > heights[-1]:
            return None
        near = (others, others) if others > 0 else self._near(index)
        middle = sum(heights) / len(heights)
        beyond = max(math.log2(min(near) / middle) if min(near) > 0 else 0.0, math.log2(middle / max(near)), 0.0)
        if beyond > 1.0:
            return None
        wide = max(math.log2(heights[-1] / heights[0] / WIDE), 0.0)
        return MISFIT * (beyond + wide) + ODD * any(map(_is_odd, heights)) + ABOVE_LEVEL * (max(heights) > self._level)

    def _near(self, index: int) -> tuple[float, float]:
        before = next((feet for feet in reversed(self._held[:index]) if feet > 0), None)
        after = next((feet for feet in self._held[index + 1 :] if feet > 0), None)
        late = self._second_half[index]
        to_field = self._along[-1] - self._along[index] if late else self._along[index]
        low = min(self._ends[late] + SHALLOW_FT_NM * to_field, self._level)
        first = before if before is not None else (self._level if late else low)
        last = after if after is not None else (low if late else self._level)
        return first, last


def _is_odd(feet: float) -> bool:
    return feet % (1_000.0 if feet >= 10_000.0 else 100.0) != 0.0


def _middle(window: Sequence[float | None]) -> float:
    """One height for a window; 0 where it is open."""
    known = [bound for bound in window if bound is not None]
    return sum(known) / len(known) if known else 0.0
