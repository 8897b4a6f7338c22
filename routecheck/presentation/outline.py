"""The outline map behind the Picture: coast, land and lakes from the resources, projected. No data for any check."""

from __future__ import annotations

import json
import math
from functools import lru_cache
from importlib.resources import files
from typing import TYPE_CHECKING

import numpy as np

from routecheck.frozen_dataclass import dataclass
from routecheck.presentation.graticule import grow_box
from routecheck.presentation.map_areas import DRAWN_SHARE, cut_rings, is_inside, project_rings, share_of_rim

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

    from routecheck.arrays import Flags, Floats
    from routecheck.earth.projection import Projection
    from routecheck.presentation.graticule import ChartBox

_COARSE, _FINE = "110m", "50m"
_FINE_NM = 3000.0
"""From its middle to its corner: a larger view takes the coarse map."""
_LEAST_ABOUT_NM, _MOST_ABOUT_NM = 64.0, 1500.0
"""The map is cut so far beyond the view: about half as far as the view is wide, in steps of two."""
_TILES = 3
"""It is cut at whole tiles, of which so many fit into that: views nearby share one map."""
_DATE_LINE_DEG, _SOUTH_POLE_DEG = 179.99, -89.9


@dataclass(frozen=True, slots=True, eq=False)
class Outline:
    """What is drawn behind a view, NM of the plane, shape (n, 2), with a row of NaN after each line or ring.

    `land` and `lakes` are closed rings to be filled, a ring inside another being a hole; `coast` is the shores of both.
    """

    coast: Floats
    land: Floats
    lakes: Floats


@dataclass(frozen=True, slots=True)
class _Rings:
    """Closed rings in degrees: one column after the other with NaN after each ring, as they are kept in the file."""

    lat: Floats
    lon: Floats

    def is_seam(self) -> Flags:
        """Whether the edge to the next point is none of the earth but a cut of the flat map that the rings are from."""
        lat, lon = self.lat, self.lon
        on_date_line = np.abs(lon) > _DATE_LINE_DEG
        at_pole = lat < _SOUTH_POLE_DEG
        leaps = np.abs(np.diff(lon)) > 180.0
        seam = (on_date_line[:-1] & on_date_line[1:]) | (at_pole[:-1] & at_pole[1:]) | leaps
        return np.append(seam, False)


@dataclass(frozen=True, slots=True)
class _Areas:
    """Areas of one kind in the plane, uncut: rings to be filled, and their shores."""

    coast: Floats
    rings: Floats


NO_OUTLINE = Outline(np.empty((0, 2)), np.empty((0, 2)), np.empty((0, 2)))


def outline_about(projection: Projection, view: ChartBox) -> Outline:
    """The map about a view, projected when it is first looked at: no answer waits. The same one for views nearby."""
    half_nm = math.hypot(view[2] - view[0], view[3] - view[1]) / 2
    about = min(max(2.0 ** math.ceil(math.log2(max(half_nm, 1.0))), _LEAST_ABOUT_NM), _MOST_ABOUT_NM)
    tile = about / _TILES
    west, south, east, north = grow_box(view, about, about)
    tiled = (
        *(tile * math.floor(v / tile) for v in (west, south)),
        *(tile * math.ceil(v / tile) for v in (east, north)),
    )
    return cut_outline(projection, _FINE if half_nm <= _FINE_NM else _COARSE, tiled)


@lru_cache(maxsize=8)
def cut_outline(projection: Projection, detail: str, box: ChartBox) -> Outline:
    """The map inside a box of the plane; empty where it is not installed."""
    land, lakes = _project(projection, "land", detail), _project(projection, "lakes", detail)
    coast = np.concatenate([_cut_line(areas.coast, box) for areas in (land, lakes)])
    return Outline(coast, cut_rings(land.rings, box), cut_rings(lakes.rings, box))


@lru_cache(maxsize=4)
def project_islands(projection: Projection) -> tuple[Floats, ...]:
    """The islands of the invented region, each a closed ring of shape (n, 2), NM; none where they are not installed."""
    return tuple(projection.forward(ring[:, 0], ring[:, 1]) for ring in _read_islands())


def load_outline() -> None:
    """Read the map once, so that no view waits for it."""
    for kind in ("land", "lakes"):
        for detail in (_FINE, _COARSE):
            _read_rings(kind, detail)


@lru_cache(maxsize=8)
def _project(projection: Projection, kind: str, detail: str) -> _Areas:
    rings = _read_rings(kind, detail)
    curve = projection.forward(rings.lat, rings.lon)
    has_centre = is_inside(rings.lat, rings.lon, projection.lat, projection.lon)
    areas = project_rings(curve, projection.rim_nm, has_centre=has_centre)
    return _Areas(_draw_coast(curve, rings.is_seam(), projection.rim_nm), areas)


def _draw_coast(curve: Floats, is_seam: Flags, rim_nm: tuple[float, float]) -> Floats:
    """The shores of projected rings but those near the rim of the globe: there a step is a leap across the map."""
    curve = np.where((share_of_rim(curve, rim_nm) > DRAWN_SHARE)[:, None], np.nan, curve)
    curve = np.insert(curve, np.flatnonzero(is_seam) + 1, np.nan, axis=0)
    gone = np.isnan(curve[:, 0])
    alone = ~gone & np.append(True, gone[:-1]) & np.append(gone[1:], True)
    return np.asarray(curve[~alone])


def _cut_line(curve: Floats, box: ChartBox) -> Floats:
    west, south, east, north = box
    x, y = curve.T
    beyond = (x < west) | (x > east) | (y < south) | (y > north)
    return _without_runs_of_nan(np.where(beyond[:, None], np.nan, curve))


@lru_cache(maxsize=4)
def _read_rings(kind: str, detail: str) -> _Rings:
    source = _resource("outline", f"{kind}_{detail}.npz")
    if source is None:
        return _Rings(np.empty(0), np.empty(0))
    with source.open("rb") as stream, np.load(stream) as arrays:
        return _Rings(arrays["lat"].astype(np.float64), arrays["lon"].astype(np.float64))


@lru_cache(maxsize=1)
def _read_islands() -> tuple[Floats, ...]:
    source = _resource("demo", "islands.json")
    if source is None:
        return ()
    islands_given = json.loads(source.read_text("utf-8"))["islands"]
    return tuple(np.array(island["outline"], dtype=np.float64).reshape(-1, 2) for island in islands_given)


def _resource(folder: str, name: str) -> Traversable | None:
    found = files("routecheck.resources").joinpath(folder, name)
    return found if found.is_file() else None


def _without_runs_of_nan(curve: Floats) -> Floats:
    gone = np.isnan(curve[:, 0])
    return curve[~(gone & np.roll(gone, 1))] if curve.size else curve
