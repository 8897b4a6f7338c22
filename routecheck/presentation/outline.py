"""The outline map behind the Picture: coast lines from the resources, projected. Nothing here is data for a check."""

from __future__ import annotations

import json
from functools import lru_cache
from importlib.resources import files
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

    from routecheck.arrays import Floats
    from routecheck.earth.projection import Projection
    from routecheck.presentation.graticule import ChartBox

COARSE, FINE = "land_110m.npz", "land_50m.npz"
_FARTHEST_NM = 9000.0


@lru_cache(maxsize=8)
def cut_coast(projection: Projection, detail: str, box: ChartBox) -> Floats:
    """The coast inside a box of the plane as one curve: shape (n, 2), NM, rows of NaN where it breaks.

    Empty where the map is not installed.
    """
    curve = _projected_coast(projection, detail)
    west, south, east, north = box
    x, y = curve.T
    beyond = (x < west) | (x > east) | (y < south) | (y > north)
    return _without_runs_of_nan(np.where(beyond[:, None], np.nan, curve))


@lru_cache(maxsize=4)
def _projected_coast(projection: Projection, detail: str) -> Floats:
    """All of it but what lies near the point opposite the centre: there a step is a leap across the map."""
    curve = projection.forward(*_read_coast(detail))
    curve[np.hypot(*curve.T) > _FARTHEST_NM] = np.nan
    return curve


@lru_cache(maxsize=4)
def project_islands(projection: Projection) -> tuple[Floats, ...]:
    """The islands of the invented region, each a closed ring of shape (n, 2), NM; none where they are not installed."""
    return tuple(projection.forward(ring[:, 0], ring[:, 1]) for ring in _read_rings())


def load_coast() -> None:
    """Read the coast lines once, so that no view waits for them."""
    for detail in (FINE, COARSE):
        _read_coast(detail)


@lru_cache(maxsize=2)
def _read_coast(detail: str) -> tuple[Floats, Floats]:
    source = _resource("outline", detail)
    if source is None:
        return np.empty(0), np.empty(0)
    with source.open("rb") as stream, np.load(stream) as arrays:
        return arrays["lat"].astype(np.float64), arrays["lon"].astype(np.float64)


@lru_cache(maxsize=1)
def _read_rings() -> tuple[Floats, ...]:
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
