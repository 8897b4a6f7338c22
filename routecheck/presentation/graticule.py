"""Lines of latitude and longitude for what is in view, the words on them, and the scale bar. Plain geometry, no Qt."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from routecheck.earth.projection import RADIUS_NM

if TYPE_CHECKING:
    from routecheck.earth.projection import Floats, Projection

Box = tuple[float, float, float, float]
"""West, south, east and north edge in NM of the plane."""

_STEPS_DEG = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 15.0, 30.0)
_LON_STEPS_DEG = (*_STEPS_DEG, 45.0, 90.0)
_LINES_IN_VIEW = 6
_BARS_NM = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000)


@dataclass(frozen=True, slots=True)
class Graticule:
    """`lines`: one curve, shape (n, 2), NM, NaN where it breaks. `names`: (text, x, y) on the edges of the view."""

    lines: Floats
    names: tuple[tuple[str, float, float], ...]


def graticule(projection: Projection, box: Box) -> Graticule:
    """The lines that cross a view, at a step that suits it."""
    lats, lons = _seen(projection, box)
    step = _step(max(box[3] - box[1], 1.0) / 60.0 / _LINES_IN_VIEW, _STEPS_DEG)
    middle = projection.back((box[0] + box[2]) / 2, (box[1] + box[3]) / 2) or (projection.lat, projection.lon)
    lon_step = _step(step / math.cos(math.radians(min(abs(middle[0]), 75.0))), _LON_STEPS_DEG)
    parallels = _multiples(float(lats.min()), float(lats.max()), step)
    meridians = [float(lon) for lon in np.arange(-180.0, 180.0, lon_step) if _near(lon, lons, lon_step)]
    north = min(90.0, float(lats.max()) + step)
    south = max(-90.0, float(lats.min()) - step)
    pieces, names = [], []
    for lat in parallels:
        along = np.linspace(lons[0], lons[1], 181)
        line = projection.forward(np.full_like(along, lat), along)
        pieces.append(line)
        names += _named(line, box, _degrees(lat, step, "NS", 2), left=True)
    for lon in meridians:
        reach = 90.0 if lon % 90.0 == 0.0 else 90.0 - 2.0 * step
        up = np.linspace(max(south, -reach), min(north, reach), 91)
        line = projection.forward(up, np.full_like(up, lon))
        pieces.append(line)
        names += _named(line, box, _degrees(lon, lon_step, "EW", 3), left=False)
    return Graticule(joined(pieces), tuple(names))


def scale_bar_nm(width_nm: float) -> int:
    """The length of a bar that takes at most a fifth of a view `width_nm` wide."""
    fitting = [bar for bar in _BARS_NM if bar <= width_nm / 5]
    return fitting[-1] if fitting else _BARS_NM[0]


def joined(pieces: list[Floats]) -> Floats:
    """Several curves of shape (n, 2) as one, with a row of NaN after each."""
    if not pieces:
        return np.empty((0, 2))
    stop = np.full((1, 2), np.nan)
    return np.concatenate([part for piece in pieces for part in (piece, stop)])


def _seen(projection: Projection, box: Box) -> tuple[Floats, tuple[float, float]]:
    """Latitudes met in a view, and the longitudes it spans as (first, last), first up to 360 below last."""
    xs, ys = np.linspace(box[0], box[2], 13), np.linspace(box[1], box[3], 13)
    places = projection.back_many(np.dstack(np.meshgrid(xs, ys)).reshape(-1, 2))
    places = places[~np.isnan(places[:, 0])]
    places = places if len(places) else np.array([(projection.lat, projection.lon)])
    lats = places[:, 0]
    for pole in (90.0, -90.0):
        if _inside(projection.place(pole, 0.0), box):
            return np.append(lats, pole), (projection.lon - 180.0, projection.lon + 180.0)
    offsets = (places[:, 1] - projection.lon + 180.0) % 360.0 - 180.0
    return lats, (projection.lon + float(offsets.min()), projection.lon + float(offsets.max()))


def _near(lon: float, seen: tuple[float, float], step: float) -> bool:
    return bool((lon - seen[0] + step) % 360.0 <= seen[1] - seen[0] + 2 * step)


def _inside(point: tuple[float, float], box: Box) -> bool:
    return box[0] <= point[0] <= box[2] and box[1] <= point[1] <= box[3]


def _step(wanted: float, steps: tuple[float, ...]) -> float:
    return next((step for step in steps if step >= wanted), steps[-1])


def _multiples(low: float, high: float, step: float) -> list[float]:
    first, last = math.floor(low / step), math.ceil(high / step)
    return [n * step for n in range(first, last + 1) if abs(n * step) < 90.0]


def _named(line: Floats, box: Box, text: str, *, left: bool) -> list[tuple[str, float, float]]:
    """The name of a line where it first crosses the left (or lower) edge of the view."""
    axis, edge = (0, box[0]) if left else (1, box[1])
    before, after = line[:-1], line[1:]
    crossing = np.flatnonzero((before[:, axis] - edge) * (after[:, axis] - edge) < 0)
    for i in crossing:
        share = (edge - before[i, axis]) / (after[i, axis] - before[i, axis])
        x, y = before[i] + share * (after[i] - before[i])
        if box[0] <= x <= box[2] and box[1] <= y <= box[3] and math.hypot(x, y) < RADIUS_NM * 2:
            return [(text, float(x), float(y))]
    return []


def _degrees(value: float, step: float, letters: str, width: int) -> str:
    wrapped = (value + 180.0) % 360.0 - 180.0 if width == 3 else value
    whole = f"{abs(wrapped):0{width}.0f}" if step >= 1 else f"{abs(wrapped):0{width + 2}.1f}"
    side = "" if wrapped == 0 or abs(wrapped) == 180 else letters[wrapped < 0]
    return f"{whole}°{side}"
