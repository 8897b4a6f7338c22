"""What the Picture is made of, as plain values: drawn legs, points, names and marks in NM of the plane."""

from __future__ import annotations

import math
from dataclasses import KW_ONLY, replace
from typing import TYPE_CHECKING

import numpy as np

from routecheck.earth import geo
from routecheck.earth.projection import Projection
from routecheck.frozen_dataclass import dataclass
from routecheck.presentation.outline import outline_about

if TYPE_CHECKING:
    from collections.abc import Iterable

    from routecheck.arrays import Floats
    from routecheck.model import LostChoice, Place, Weight
    from routecheck.presentation.graticule import ChartBox
    from routecheck.presentation.outline import Outline
    from routecheck.presentation.symbols import Symbol

LEAST_BOX_NM = 40.0


@dataclass(frozen=True, slots=True)
class DrawnPoint:
    """A placed point of the path: `index` into Route.points; `minor` = inside an airway, not named by the text.

    `turned` is which way its symbol lies, degrees clockwise from right, whole; `limits` the altitudes and speeds
    allowed there, to be written where there is room.
    """

    index: int
    x: float
    y: float
    _: KW_ONLY
    symbol: Symbol
    name: str
    minor: bool
    turned: int = 0
    limits: str = ""


@dataclass(frozen=True, slots=True)
class DrawnOther:
    """A place of the same name as the point `point` that was not chosen."""

    point: int
    x: float
    y: float
    _: KW_ONLY
    symbol: Symbol
    name: str
    lost: LostChoice


@dataclass(frozen=True, slots=True)
class OpenEnd:
    """Where the drawing of a gap stops: `towards` is the unit vector on into the gap, `text` says whose gap it is."""

    x: float
    y: float
    towards: tuple[float, float]
    text: str


@dataclass(frozen=True, slots=True)
class DrawnLeg:
    """From point `index` to the next placed one, `last`. `curve`: shape (n, 2), NM, broken by NaN.

    A gap is drawn as a stub at each end and is no path; `ends` are where the stubs stop. Past one word without a place
    it is one line, and `figures` is the word.
    """

    index: int
    last: int
    _: KW_ONLY
    curve: Floats
    weight: Weight | None
    is_gap: bool
    figures: str
    ends: tuple[OpenEnd, ...] = ()

    def is_about(self, legs: Iterable[int]) -> bool:
        """Whether one of these legs of the route is drawn here."""
        return any(self.index <= leg < self.last for leg in legs)


@dataclass(frozen=True, slots=True)
class Mark:
    """The mark of a finding on the spot; `index` into Assessment.findings, its number is one more."""

    index: int
    weight: Weight
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Picture:
    """Everything to draw. `box` holds the route (west, south, east, north, NM); None where no point could be placed."""

    projection: Projection
    _: KW_ONLY
    box: ChartBox | None
    legs: tuple[DrawnLeg, ...]
    points: tuple[DrawnPoint, ...]
    others: tuple[DrawnOther, ...]
    marks: tuple[Mark, ...]
    direct: Floats
    islands: tuple[Floats, ...]
    note: str = ""
    """Why it is drawn otherwise than asked for, in a sentence; "" = it is not."""

    def outline(self, view: ChartBox) -> Outline:
        """Coast, land and lakes about a view."""
        return outline_about(self.projection, view)

    @property
    def north(self) -> float:
        """Which way north lies at the centre of the map: degrees clockwise from up."""
        here = self.projection.lat, self.projection.lon
        (x, y), (x0, y0) = self.projection.place(*geo.direct(*here, 0.0, 1.0)), self.projection.place(*here)
        return math.degrees(math.atan2(x - x0, y - y0))

    def looks_like(self, other: Picture) -> bool:
        """Whether the same is drawn, so that nothing of it needs painting again."""
        return self._comparable_values() == other._comparable_values()

    def _comparable_values(self) -> tuple[object, ...]:
        """Values that compare; curves by their bytes, because NaN is equal to nothing. Coasts go by projection."""
        legs = [(g.index, g.last, g.weight, g.is_gap, g.figures, g.ends, g.curve.tobytes()) for g in self.legs]
        plane = self.projection, self.note, len(self.islands), self.direct.tobytes()
        return *plane, self.points, self.others, self.marks, legs


def empty_picture() -> Picture:
    """A picture of nothing, for when there is no assessment."""
    nothing = np.empty((0, 2))
    return Picture(Projection(0.0, 0.0), box=None, legs=(), points=(), others=(), marks=(), direct=nothing, islands=())


def picture_of_place(place: Place) -> Picture:
    """The map about one place, with nothing else on it."""
    half = LEAST_BOX_NM / 2
    return replace(empty_picture(), projection=Projection(place.lat, place.lon), box=(-half, -half, half, half))
