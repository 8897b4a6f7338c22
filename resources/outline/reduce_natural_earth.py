"""Makes the outline map from shapefiles of Natural Earth: closed rings of land and lakes, NaN between, two scales.

    python reduce_natural_earth.py FOLDER

FOLDER holds `ne_110m_land`, `ne_50m_land`, `ne_110m_lakes` and `ne_50m_lakes` (.shp, .shx, .dbf); `pip install pyshp`
reads them. Writes `land_110m.npz` … beside this script: float32 arrays `lat` and `lon`, degrees, rounded to 0.01. The
rings are those of a flat map: where it is cut, along ±180° and the south pole, so are they. Run once; the same input
gives the same bytes.
"""

import sys
from itertools import pairwise
from pathlib import Path

import numpy as np
import shapefile

BREAK = np.full((1, 2), np.nan)
LEAST_POINTS = 4
"""Of a ring with an inside, its first point repeated."""


def rings(shapes):
    """Every ring of every polygon, outer and inner, as an array of (lon, lat)."""
    for shape in shapes:
        ends = [*shape.parts, len(shape.points)]
        for first, last in pairwise(ends):
            yield np.array(shape.points[first:last]).round(2).astype(np.float32)


def without_repeats(ring):
    """The ring without points that rounding has put on the one before."""
    return ring[np.append(True, (np.diff(ring, axis=0) != 0).any(axis=1))]


def reduce(source, target):
    with shapefile.Reader(str(source)) as reader:
        reduced = [without_repeats(ring) for ring in rings(reader.shapes())]
    kept = [part for ring in reduced if len(ring) >= LEAST_POINTS for part in (ring, BREAK)]
    points = np.concatenate(kept).astype(np.float32)
    np.savez_compressed(target, lat=points[:, 1], lon=points[:, 0])
    print(f"{target.name}: {len(points)} points, {target.stat().st_size} bytes")


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    for what in ("land", "lakes"):
        for detail in ("110m", "50m"):
            source = Path(sys.argv[1]) / f"ne_{detail}_{what}"
            reduce(source, Path(__file__).resolve().parent / f"{what}_{detail}.npz")
