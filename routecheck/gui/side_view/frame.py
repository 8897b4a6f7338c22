"""How the Side view lies in its pane: NM along the route and feet to pixels, and which altitudes are looked at."""

from __future__ import annotations

import math
from dataclasses import KW_ONLY
from itertools import chain
from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass
from routecheck.presentation.side_lines import altitude_on
from routecheck.presentation.side_view import HIGHEST_FT

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.presentation.side_view import SideView

_LEAST_TOP_FT = 3_000.0
_HEAD_SHARE = 0.10
"""So much room is left above the highest thing in view."""
_STEPS_FT = (500.0, 1_000.0, 2_000.0, 5_000.0, 10_000.0, 20_000.0)


@dataclass(frozen=True, slots=True)
class SideFrame:
    """Edges of the drawing in pixels, and what they stand for. Altitudes grow upward, pixels downward."""

    left: float
    right: float
    top: float
    bottom: float
    _: KW_ONLY
    first_nm: float
    last_nm: float
    low_ft: float
    high_ft: float

    @property
    def px_nm(self) -> float:
        """Pixels a NM."""
        return (self.right - self.left) / max(self.last_nm - self.first_nm, 1e-9)

    @property
    def px_ft(self) -> float:
        """Pixels a foot."""
        return (self.bottom - self.top) / max(self.high_ft - self.low_ft, 1e-9)

    def x(self, nm: float) -> float:
        """Where a distance is drawn."""
        return self.left + (nm - self.first_nm) * self.px_nm

    def y(self, feet: float) -> float:
        """Where an altitude is drawn; what is out of view is drawn at the rim."""
        share = (min(max(feet, self.low_ft), self.high_ft) - self.low_ft) / (self.high_ft - self.low_ft)
        return self.bottom - share * (self.bottom - self.top)

    def nm(self, x: float) -> float:
        """The distance drawn there."""
        return self.first_nm + (x - self.left) / self.px_nm

    def sees(self, nm: float) -> bool:
        """Whether a distance is in view."""
        return self.first_nm - 1e-6 <= nm <= self.last_nm + 1e-6

    def levels(self, least_px: float) -> list[float]:
        """Round altitudes at which a line is drawn, at least so many pixels apart."""
        feet_px = (self.high_ft - self.low_ft) / max(self.bottom - self.top, 1.0)
        step = next((step for step in _STEPS_FT if step >= least_px * feet_px), _STEPS_FT[-1])
        first = math.ceil(self.low_ft / step)
        return [step * i for i in range(first, math.floor(self.high_ft / step) + 1)]


def altitudes_in_view(view: SideView, first_nm: float, last_nm: float) -> tuple[float, float]:
    """The lowest and highest altitude to be shown between two distances."""
    found = [feet for feet in _altitudes(view, first_nm, last_nm) if feet <= HIGHEST_FT]
    top = max(_LEAST_TOP_FT, *found) if found else _LEAST_TOP_FT
    low = min(0.0, *found) if found else 0.0
    return low, low + (top - low) * (1.0 + _HEAD_SHARE)


def _altitudes(view: SideView, first: float, last: float) -> Iterator[float]:
    for bracket in view.brackets:
        if first <= bracket.nm <= last:
            yield from (feet for feet in (bracket.low_ft, bracket.high_ft) if feet is not None)
    yield from (ground.elevation_ft for ground in view.grounds if first <= ground.nm <= last)
    yield from (step.feet for step in chain(view.levels, view.minima) if step.begins < last and step.ends > first)
    for line in chain(view.profile, view.guessed, view.tried):
        yield from (feet for nm, feet in line if first <= nm <= last)
        if line[0][0] < last and line[-1][0] > first:
            yield from (altitude_on(line, nm) for nm in (max(first, line[0][0]), min(last, line[-1][0])))
