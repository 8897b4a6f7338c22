"""The points and legs of a batch of paths in columns, so that all geodesics are computed in one array call.

Points stand one behind the other, path by path, and so do legs: a path has one leg less than points.
"""

from __future__ import annotations

import math
from dataclasses import KW_ONLY, dataclass, field
from itertools import chain
from typing import TYPE_CHECKING, TypeVar

import numpy as np

from routecheck.earth import geo
from routecheck.earth.magnetic import wmm_covers
from routecheck.model import VariationFrom
from routecheck.resolution.radials import compass_variation, variation_nearby

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterable, Iterator, Sequence

    from routecheck.arrays import Flags, Floats, Indices
    from routecheck.geometry.path import Path
    from routecheck.model import Place
    from routecheck.navdata.database import NavDatabase


T = TypeVar("T")


_PlaceFigures = tuple[float, float, float, VariationFrom | None]
"""A position, degrees, and its magnetic variation with what that rests on; NaN and None = there is none."""


@dataclass(slots=True)
class _PlaceTable:
    """The places of a batch, each entered once a day.

    Places are told apart by identity, which is safe while the paths of the batch hold them.
    """

    database: NavDatabase | None
    _: KW_ONLY
    entries: list[_PlaceFigures] = field(default_factory=list)
    rows: dict[dt.date, dict[int, int]] = field(default_factory=dict)

    def rows_of(self, places: Sequence[Place | None], date: dt.date) -> Iterator[int]:
        """The row of the table in which each place is entered."""
        rows, which = self.rows.setdefault(date, {}), list(map(id, places))
        for key, place in zip(which, places, strict=True):
            if key not in rows:
                rows[key] = len(self.entries)
                self.entries.append(self._figures(place, date))
        return map(rows.__getitem__, which)

    def _figures(self, place: Place | None, date: dt.date) -> _PlaceFigures:
        if place is None:
            return math.nan, math.nan, math.nan, None
        found = compass_variation(place, date)
        if found is None and self.database and not wmm_covers(date):
            nearby = variation_nearby(self.database, place)
            found = None if nearby is None else (nearby, VariationFrom.NEARBY)
        return place.lat, place.lon, *(found or (math.nan, None))


class Columns:
    """A batch of paths: by point `points`, `lat`, `lon` and `variation` (degrees, NaN = none), `sources` and `route`.

    By leg `start` and `end`, the numbers of its points, and flags: `both_placed`, `on_one_spot`, `is_coded` by a
    procedure, `has_figures` from it, `is_fixed`. `coded_legs` and `gaps` hold what few legs have, by number. Path r
    begins at `first_point[r]` and `first_leg[r]`; behind the last stands where all end.
    """

    def __init__(self, paths: Sequence[Path], dates: Sequence[dt.date], database: NavDatabase | None = None) -> None:
        self.points = list(chain.from_iterable(path.points for path in paths))
        table = _PlaceTable(database)
        rows = chain.from_iterable(table.rows_of(path.places, date) for path, date in zip(paths, dates, strict=True))
        self._rows: Indices = np.fromiter(rows, dtype=np.intp, count=len(self.points))
        *figures, sources = zip(*table.entries, strict=True)
        self.lat, self.lon, self.variation = (np.array(column)[self._rows] for column in figures)
        self.sources = np.array(sources, dtype=object)[self._rows]
        self._number(paths)
        begins = self.first_leg.tolist()
        self.coded_legs = _merge_by_number((path.coded_legs for path in paths), begins)
        self.gaps = _merge_by_number((path.gaps for path in paths), begins)
        self.open_by_design = {
            begin + leg for begin, path in zip(begins, paths, strict=False) for leg in path.open_by_design
        }
        self.is_placed = ~np.isnan(self.lat)
        self.both_placed = self.is_placed[self.start] & self.is_placed[self.end]
        self.on_one_spot = self._on_one_spot()
        self.is_coded = self.mark_legs(self.coded_legs)
        self.has_figures = self.mark_legs(i for i, leg in self.coded_legs.items() if leg.distance_nm is not None)
        self.is_fixed = self.has_figures | (self.both_placed & ~self.mark_legs(self.gaps))

    def _number(self, paths: Sequence[Path]) -> None:
        routes = np.arange(len(paths) + 1)
        self.first_point: Indices = np.cumsum([0, *(len(path.points) for path in paths)])
        self.first_leg: Indices = self.first_point - routes
        self.route: Indices = np.repeat(routes[:-1], np.diff(self.first_point))
        self.start: Indices = np.arange(self.first_leg[-1]) + np.repeat(routes[:-1], np.diff(self.first_leg))
        self.end: Indices = self.start + 1

    def _on_one_spot(self) -> Flags:
        """Flag the legs whose ends are one spot: 180° east is 180° west, and at a pole all longitudes meet."""
        same_lat = self.lat[self.start] == self.lat[self.end]
        same_lon = (self.lon[self.start] - self.lon[self.end]) % 360.0 == 0.0
        at_pole = np.abs(self.lat[self.start]) == 90.0
        flags: Flags = same_lat & (same_lon | at_pole)
        return flags

    def mark_legs(self, legs: Iterable[int]) -> Flags:
        """Flag the legs with these numbers."""
        marks = np.zeros(len(self.start), dtype=np.bool_)
        marks[list(legs)] = True
        return marks

    def legs_into(self, points: Indices) -> Indices:
        """The leg that comes into each of these points, by number; no first point may be among them."""
        return points - self.route[points] - 1

    def distinct_pairs(self, starts: Indices, ends: Indices) -> tuple[Indices, Indices]:
        """The indices of pairs of places that are each named once, and for every pair which of these it is."""
        asked = self._rows[starts] * len(self._rows) + self._rows[ends]
        _, once, answers = np.unique(asked, return_index=True, return_inverse=True)
        return once, answers

    def geodesics(self, *pairs: tuple[Indices, Indices]) -> list[Floats]:
        """Compute in one call the (course, end course, distance) between arrays of points, each of shape (n,).

        Each of shape (3, n), degrees and NM; NaN where an end is not placed. What several routes ask is computed once.
        """
        starts, ends = (np.concatenate(side) for side in zip(*pairs, strict=True))
        once, answers = self.distinct_pairs(starts, ends)
        there = self.is_placed[starts[once]] & self.is_placed[ends[once]]
        computed = np.full((3, len(once)), np.nan)
        a, b = starts[once[there]], ends[once[there]]
        computed[:, there] = geo.inverse_many(self.lat[a], self.lon[a], self.lat[b], self.lon[b])
        figures = computed[:, answers]
        return np.split(figures, np.cumsum([len(start) for start, _ in pairs])[:-1], axis=1)


def _merge_by_number(parts: Iterable[dict[int, T]], begins: Sequence[int]) -> dict[int, T]:
    """Merge what few legs of each path have, by their number in the path, into one by their number in the batch."""
    return {begin + i: found for begin, part in zip(begins, parts, strict=False) for i, found in part.items()}


def column_to_list(column: Floats, there: Flags) -> list[float | None]:
    """A column as a list, None where there is nothing."""
    return np.where(there, column, None).tolist()  # type: ignore[call-overload, no-any-return]
