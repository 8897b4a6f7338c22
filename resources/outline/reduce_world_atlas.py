"""Makes the outline map from an unpacked `world-atlas` 2.0.2 package: one curve of coast lines a scale, NaN between.

    python reduce_world_atlas.py FOLDER

FOLDER holds `land-110m.json` and `land-50m.json` (TopoJSON). Writes `land_110m.npz` and `land_50m.npz` beside this
script: float32 arrays `lat` and `lon`, degrees, rounded to 0.01. Run once; the same input gives the same bytes.
"""

import json
import sys
from itertools import pairwise
from pathlib import Path

import numpy as np

DATE_LINE, SOUTH_POLE = 179.99, -89.9
BREAK = (np.nan, np.nan)


def arcs_in_degrees(topology):
    """The arcs as lists of (lon, lat): stored as whole steps from the point before, scaled and shifted."""
    scale, shift = np.array(topology["transform"]["scale"]), np.array(topology["transform"]["translate"])
    return [(np.cumsum(arc, axis=0) * scale + shift).round(2) for arc in topology["arcs"]]


def rings(topology):
    """Every ring of every polygon, outer and inner, as numbers of arcs; ~n is arc n backwards."""
    for land in topology["objects"]["land"]["geometries"]:
        for polygon in land["arcs"]:
            yield from polygon


def joined(ring, arcs):
    """The points of a ring. Each arc begins where the one before ended, so its first point is left out."""
    pieces = [arcs[n] if n >= 0 else arcs[~n][::-1] for n in ring]
    return np.concatenate([pieces[0], *(piece[1:] for piece in pieces[1:])])


def cut_at_date_line(ring):
    """The ring with its leaps from one side of a flat map to the other led to ±180 first: the coast goes on there."""
    yield ring[0]
    for a, b in pairwise(ring):
        if 180 < abs(a[0] - b[0]) < 360:
            edge = np.copysign(180.0, a[0])
            share = (edge - a[0]) / (b[0] + 2 * edge - a[0])
            lat = round(a[1] + share * (b[1] - a[1]), 2)
            yield from (np.array([edge, lat]), np.array([-edge, lat]))
        yield b


def is_coast(a, b):
    """Whether a map may draw the edge: not the cut along the date line or the pole, nor from one side to the other."""
    on_date_line = abs(a[0]) > DATE_LINE and abs(b[0]) > DATE_LINE
    on_pole = a[1] < SOUTH_POLE and b[1] < SOUTH_POLE
    return not (on_date_line or on_pole or abs(a[0] - b[0]) > 180)


def from_a_cut(ring):
    """A ring that has cuts, turned to begin after one: then every line is a whole ring or runs from cut to cut."""
    cuts = [i for i, (a, b) in enumerate(pairwise(ring), start=1) if not is_coast(a, b)]
    return np.concatenate([ring[cuts[0] :], ring[1 : cuts[0]]]) if cuts else ring


def coast(ring):
    return lines(from_a_cut(np.array(list(cut_at_date_line(ring)))))


def lines(ring):
    """The ring as one list of (lon, lat) with a break wherever an edge is no coast, and one at the end."""
    yield ring[0]
    for a, b in pairwise(ring):
        if (a == b).all():
            continue
        if not is_coast(a, b):
            yield BREAK
        yield b
    yield BREAK


def without_lonely_points(points):
    """Breaks that follow one another merged, and points between two breaks, which draw nothing, dropped."""
    gone = np.isnan(points[:, 0])
    lonely = ~gone & np.append(True, gone[:-1]) & np.append(gone[1:], True)
    points = points[~lonely]
    gone = np.isnan(points[:, 0])
    return points[~(gone & np.append(True, gone[:-1]))]


def reduce(source, target):
    topology = json.loads(source.read_text("utf-8"))
    arcs = arcs_in_degrees(topology)
    points = np.array([point for ring in rings(topology) for point in coast(joined(ring, arcs))])
    points = without_lonely_points(points).astype(np.float32)
    np.savez_compressed(target, lat=points[:, 1], lon=points[:, 0])
    print(f"{target.name}: {len(points)} points, {target.stat().st_size} bytes")


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    for detail in ("110m", "50m"):
        here = Path(__file__).resolve().parent
        reduce(Path(sys.argv[1]) / f"land-{detail}.json", here / f"land_{detail}.npz")
