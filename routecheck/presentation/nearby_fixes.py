"""What the loaded data has about a view of the Picture: places and airways to draw faintly. Plain values, no Qt.

A class of places is shown whole or not at all, so that no reader takes a missing one for one that does not exist.
"""

from __future__ import annotations

import math
from dataclasses import KW_ONLY
from itertools import islice, pairwise
from typing import TYPE_CHECKING

import numpy as np

from routecheck.earth import geo
from routecheck.frozen_dataclass import dataclass
from routecheck.model import NAVAIDS, PlaceKind
from routecheck.presentation.projected_lines import join_curves
from routecheck.presentation.symbols import Symbol, symbol_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from routecheck.arrays import Floats
    from routecheck.earth.projection import Projection
    from routecheck.model import Place, Route
    from routecheck.model.data import PlaceKey
    from routecheck.navdata.database import NavDatabase
    from routecheck.presentation.graticule import ChartBox

WIDEST_NM = 250.0
"""From the middle of a view to its corner: beyond that nothing is shown."""
_CLOSE_NM = 60.0
"""From here on airports and terminal fixes are shown too."""
_STRIPS_NM = 15.0
"""And from here on fields with a location identifier of figures and letters, most of them private strips."""
MOST_PLACES = 700
_MOST_LOOKED_AT = 12000
_MARGIN = 1.35
"""By so much more than the view is gathered, so that dragging it a little needs no new question."""


@dataclass(frozen=True, slots=True)
class NearbyFixes:
    """Places and airways about a view. Coordinates NM of the plane, shape (n, 2); `lines` breaks with NaN.

    `box` is what was gathered (west, south, east, north). `airways` are named at `airway_spots`.
    """

    projection: Projection
    _: KW_ONLY
    box: ChartBox
    fixes: tuple[Place, ...]
    places: Floats
    symbols: tuple[Symbol, ...]
    names: tuple[str, ...]
    lines: Floats
    airways: tuple[str, ...]
    airway_spots: Floats

    def covers(self, projection: Projection, box: ChartBox) -> bool:
        """Whether this was gathered for such a map, in all of that view, at about that scale."""
        west, south, east, north = self.box
        inside = west <= box[0] and south <= box[1] and east >= box[2] and north >= box[3]
        return inside and self.projection == projection and (east - west) < 2.2 * _MARGIN * (box[2] - box[0])


def find_nearby_fixes(
    database: NavDatabase, route: Route, projection: Projection, view: ChartBox
) -> NearbyFixes | None:
    """Gather what lies about a view (NM of the plane); None where it is too wide or nowhere."""
    middle = (view[0] + view[2]) / 2, (view[1] + view[3]) / 2
    half = math.hypot(view[2] - view[0], view[3] - view[1]) / 2
    centre = projection.back(*middle)
    if half > WIDEST_NM or centre is None:
        return None
    near = list(islice(database.places_within(*centre, half * _MARGIN), _MOST_LOOKED_AT))
    on_airways = {p.ident: names for p in near if _is_enroute(p) and (names := database.airways_through(p.ident))}
    worth = [place for place in near if half <= _STRIPS_NM or not _is_strip(place)]
    shown = _choose_classes(_without_repeats(worth, route), on_airways.keys(), half)
    chosen = sorted(set().union(*on_airways.values()))
    lines, spots = _airways(database, chosen, {p.key for p in near}, projection, middle)
    reach = [_MARGIN * (view[i + 2] - view[i]) / 2 for i in (0, 1)]
    return NearbyFixes(
        projection=projection,
        box=(middle[0] - reach[0], middle[1] - reach[1], middle[0] + reach[0], middle[1] + reach[1]),
        fixes=shown,
        places=projection.forward(*geo.lat_lon_columns([(p.lat, p.lon) for p in shown])),
        symbols=tuple(symbol_of(p) for p in shown),
        names=tuple(p.ident for p in shown),
        lines=lines,
        airways=tuple(spots),
        airway_spots=np.array(list(spots.values())).reshape(-1, 2),
    )


def _without_repeats(places: Iterable[Place], route: Route) -> list[Place]:
    """Every place once, without those that the route goes by; navaids first, terminal fixes last."""
    seen = {_spot(p.place) for p in route.points if p.place}
    kept = []
    for place in sorted(places, key=_rank):
        if (spot := _spot(place)) not in seen:
            seen.add(spot)
            kept.append(place)
    return kept


def _spot(place: Place) -> tuple[str, float, float]:
    return place.ident, round(place.lat, 3), round(place.lon, 3)


def _rank(place: Place) -> int:
    order = (PlaceKind.FIX, PlaceKind.AIRPORT, PlaceKind.TERMINAL_FIX)
    return order.index(place.kind) + 1 if place.kind in order else 0


def _is_enroute(place: Place) -> bool:
    return place.kind is PlaceKind.FIX or place.kind in NAVAIDS


def _is_strip(place: Place) -> bool:
    return place.kind is PlaceKind.AIRPORT and not place.ident.isalpha()


def _choose_classes(near: Sequence[Place], on_airways: Iterable[str], half_nm: float) -> tuple[Place, ...]:
    """Class after class, each whole, as long as there are not too many."""
    known = set(on_airways)
    classes: list[list[Place]] = [[], [], [], []]
    for place in near:
        rank = _rank(place)
        classes[rank if rank != 1 or place.ident in known else 2].append(place)
    if half_nm > _CLOSE_NM:
        classes[2:] = [[p for p in classes[2] if p.kind is PlaceKind.FIX], []]
    shown: list[Place] = []
    for group in classes:
        if len(shown) + len(group) > MOST_PLACES:
            break
        shown += group
    return tuple(shown)


def _airways(
    database: NavDatabase,
    designators: Iterable[str],
    near: set[PlaceKey],
    projection: Projection,
    middle: tuple[float, float],
) -> tuple[Floats, dict[str, tuple[float, float]]]:
    """The stretches of airways with an end in the neighbourhood, and where each is named: nearest to the middle."""
    ends: list[tuple[float, float]] = []
    owners: list[str] = []
    for designator in designators:
        for piece in database.airways(designator):
            flags = [p.key in near for p in piece.places]
            for (a, b), (near_a, near_b) in zip(pairwise(piece.places), pairwise(flags), strict=True):
                if near_a or near_b:
                    ends += [(a.lat, a.lon), (b.lat, b.lon)]
                    owners.append(designator)
    if not owners:
        return np.empty((0, 2)), {}
    pairs = projection.forward(*geo.lat_lon_columns(ends)).reshape(-1, 2, 2)
    middles = pairs.mean(axis=1)
    away = np.hypot(*(middles - middle).T)
    spots: dict[str, tuple[float, float]] = {}
    for i in np.argsort(away):
        spots.setdefault(owners[i], (float(middles[i, 0]), float(middles[i, 1])))
    return join_curves(list(pairs)), spots
