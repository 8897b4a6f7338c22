"""Lines of latitude and longitude for what is in view, the words on them, and the scale bar. Plain geometry, no Qt."""

from __future__ import annotations

import math
from enum import Enum
from typing import TYPE_CHECKING

import numpy as np

from routecheck.earth.projection import RADIUS_NM
from routecheck.frozen_dataclass import dataclass
from routecheck.presentation.projected_lines import break_at_leaps, join_curves

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.arrays import Floats, Indices
    from routecheck.earth.projection import Projection

ChartBox = tuple[float, float, float, float]
"""West, south, east and north edge in NM of the plane."""

_STEPS_DEG = (1 / 60, 2 / 60, 5 / 60, 10 / 60, 20 / 60, 30 / 60, 1.0, 2.0, 5.0, 10.0, 15.0, 30.0)
"""Whole minutes and whole degrees, as positions are written."""
_LON_STEPS_DEG = (*_STEPS_DEG, 45.0, 90.0)
_LINES_IN_VIEW = 6
_LEAST_SLOPE = 0.5
"""Of a line to an edge that it meets: a flatter one runs along it."""
_ABOUT = 0.4
"""By this share of the view lines are drawn beyond it, so that dragging it a little asks for no new ones."""
_NAMED_NM = 2 * RADIUS_NM
"""Farther from the centre the map is too distorted for names."""
_BARS_NM = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000)


class Edge(Enum):
    """An edge of a view: across which axis it lies, and which of the four it is in a box."""

    WEST = (0, 0)
    SOUTH = (1, 1)
    EAST = (0, 2)
    NORTH = (1, 3)


@dataclass(frozen=True, slots=True)
class EdgeName:
    """The name of a line, to be written where it meets an edge of the view: (x, y), NM of the plane."""

    text: str
    x: float
    y: float
    edge: Edge


@dataclass(frozen=True, slots=True)
class Graticule:
    """`lines`: one curve, shape (n, 2), NM, NaN where it breaks; row by row `names[line_of[row]]` is its name.

    It was drawn for views inside `box`.
    """

    lines: Floats
    line_of: Indices
    names: tuple[str, ...]
    box: ChartBox

    def covers(self, view: ChartBox) -> bool:
        """Whether lines are drawn in all of a view."""
        west, south, east, north = self.box
        return west <= view[0] and south <= view[1] and east >= view[2] and north >= view[3]

    def edge_names(self, view: ChartBox) -> tuple[EdgeName, ...]:
        """Where the lines meet the edges of a view, unless they run along an edge; each line once an edge."""
        return tuple(name for edge in Edge for name in self._names_on(edge, view))

    def _names_on(self, edge: Edge, view: ChartBox) -> Iterator[EdgeName]:
        axis, which = edge.value
        at, along = view[which], 1 - axis
        start, reach = self.lines[:-1], np.diff(self.lines, axis=0)
        before, after = start[:, axis] - at, self.lines[1:, axis] - at
        meets = np.flatnonzero(
            (before * after <= 0) & (np.abs(reach[:, axis]) > _LEAST_SLOPE * np.abs(reach[:, along]))
        )
        spots = start[meets] + (-before[meets] / reach[meets, axis])[:, None] * reach[meets]
        seen = (spots[:, along] >= view[along]) & (spots[:, along] <= view[along + 2])
        seen &= np.hypot(*spots.T) < _NAMED_NM
        lines, first = np.unique(self.line_of[meets[seen]], return_index=True)
        for line, (x, y) in zip(lines.tolist(), spots[seen][first].tolist(), strict=True):
            yield EdgeName(self.names[line], x, y, edge)


def graticule(projection: Projection, view: ChartBox) -> Graticule:
    """The lines that cross a view and what lies about it, at a step that suits the view."""
    box = grow_box(view, _ABOUT * (view[2] - view[0]), _ABOUT * (view[3] - view[1]))
    lats, lons = _degrees_in(projection, box)
    step = _choose_step(max(view[3] - view[1], 1.0) / 60.0 / _LINES_IN_VIEW, _STEPS_DEG)
    middle = projection.back((view[0] + view[2]) / 2, (view[1] + view[3]) / 2) or (projection.lat, projection.lon)
    lon_step = _choose_step(step / math.cos(math.radians(min(abs(middle[0]), 75.0))), _LON_STEPS_DEG)
    parallels = _multiples(float(lats.min()), float(lats.max()), step)
    meridians = _meridian_degrees(lons, lon_step)
    pieces = [*_parallels(projection, parallels, lons), *_meridians(projection, meridians, lats, step)]
    names = [_degrees(lat, step, "NS", 2) for lat in parallels]
    names += [_degrees(lon, lon_step, "EW", 3) for lon in meridians]
    line_of = np.repeat(np.arange(len(pieces)), [len(piece) + 1 for piece in pieces])
    return Graticule(join_curves(pieces), line_of, tuple(names), box)


def grow_box(box: ChartBox, east_west: float, north_south: float) -> ChartBox:
    """A box larger by so much on each side."""
    west, south, east, north = box
    return west - east_west, south - north_south, east + east_west, north + north_south


def scale_bar_nm(width_nm: float) -> int:
    """The length of a bar that takes at most a fifth of a view `width_nm` wide."""
    fitting = [bar for bar in _BARS_NM if bar <= width_nm / 5]
    return fitting[-1] if fitting else _BARS_NM[0]


def join_boxes(boxes: Sequence[ChartBox]) -> ChartBox:
    """The box that holds them all."""
    wests, souths, easts, norths = zip(*boxes, strict=True)
    return min(wests), min(souths), max(easts), max(norths)


def _degrees_in(projection: Projection, box: ChartBox) -> tuple[Floats, tuple[float, float]]:
    """Latitudes met in a view, and the longitudes it spans as (first, last), first up to 360 below last."""
    xs, ys = np.linspace(box[0], box[2], 13), np.linspace(box[1], box[3], 13)
    places = projection.back_many(np.dstack(np.meshgrid(xs, ys)).reshape(-1, 2))
    places = places[~np.isnan(places[:, 0])]
    places = places if len(places) else np.array([(projection.lat, projection.lon)])
    lats = places[:, 0]
    for pole in (90.0, -90.0):
        if _is_inside(projection.place(pole, 0.0), box):
            return np.append(lats, pole), (projection.lon - 180.0, projection.lon + 180.0)
    offsets = (places[:, 1] - projection.lon + 180.0) % 360.0 - 180.0
    return lats, (projection.lon + float(offsets.min()), projection.lon + float(offsets.max()))


def _parallels(projection: Projection, lats: list[float], lons: tuple[float, float]) -> Iterator[Floats]:
    along = np.linspace(lons[0], lons[1], 181)
    for lat in lats:
        yield break_at_leaps(projection.forward(np.full_like(along, lat), along))


def _meridians(projection: Projection, lons: list[float], lats: Floats, step: float) -> Iterator[Floats]:
    """Two steps short of the poles, where they would run into one another, but for four of them."""
    north = min(90.0, float(lats.max()) + step)
    south = max(-90.0, float(lats.min()) - step)
    for lon in lons:
        reach = 90.0 if lon % 90.0 == 0.0 else 90.0 - 2.0 * step
        up = np.linspace(max(south, -reach), min(north, reach), 91)
        yield break_at_leaps(projection.forward(up, np.full_like(up, lon)))


def _meridian_degrees(lons: tuple[float, float], step: float) -> list[float]:
    """The longitudes of the lines about a view, a whole number of steps from -180 on."""
    every = -180.0 + step * np.arange(round(360.0 / step))
    near = (every - lons[0] + step) % 360.0 <= lons[1] - lons[0] + 2 * step
    return [float(lon) for lon in every[near]]


def _is_inside(point: tuple[float, float], box: ChartBox) -> bool:
    return box[0] <= point[0] <= box[2] and box[1] <= point[1] <= box[3]


def _choose_step(least: float, steps: tuple[float, ...]) -> float:
    return next((step for step in steps if step >= least), steps[-1])


def _multiples(low: float, high: float, step: float) -> list[float]:
    first, last = math.floor(low / step), math.ceil(high / step)
    return [n * step for n in range(first, last + 1) if abs(n * step) < 90.0]


def _degrees(value: float, step: float, letters: str, width: int) -> str:
    """A latitude or longitude in degrees, and in minutes where lines lie closer than a degree."""
    wrapped = (value + 180.0) % 360.0 - 180.0 if width == 3 else value
    degrees, minutes = divmod(round(abs(wrapped) * 60.0), 60)
    side = "" if (degrees, minutes) in ((0, 0), (180, 0)) else letters[wrapped < 0]
    return f"{degrees:0{width}d}°{side}" if step >= 1.0 else f"{degrees:0{width}d}°{minutes:02d}′{side}"
