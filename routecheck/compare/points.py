"""Which points of two routes differ: missing, extra, another one in its stead, re-ordered."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from routecheck.compare.alignment import pair_points
from routecheck.earth import geo
from routecheck.model import Difference, DifferenceKind

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.compare.alignment import AlignedPoint, Alignment, PointKey

    Pair = tuple[AlignedPoint | None, AlignedPoint | None]


def differing_points(alignment: Alignment) -> Iterator[Difference]:
    """Every point that differs, in the order of the first route."""
    elsewhere = _reordered_keys(alignment)
    for block in alignment.blocks:
        ours = _points_not_elsewhere(block.first, elsewhere)
        theirs = _points_not_elsewhere(block.second, elsewhere)
        for kind, group in groupby(pair_points(ours, theirs), key=_kind_of_pair):
            yield from _differences(kind, list(group))
    yield from _reordered(alignment, elsewhere)


def _reordered_keys(alignment: Alignment) -> frozenset[PointKey]:
    """The points that stand in both routes, but not at the same place of the order."""
    ours = {point.key for block in alignment.blocks for point in block.first if point.named}
    theirs = {point.key for block in alignment.blocks for point in block.second if point.named}
    return frozenset(ours & theirs)


def _points_not_elsewhere(points: Sequence[AlignedPoint], elsewhere: frozenset[PointKey]) -> list[AlignedPoint]:
    return [point for point in points if point.named and point.key not in elsewhere]


def _kind_of_pair(pair: Pair) -> DifferenceKind:
    if pair[1] is None:
        return DifferenceKind.MISSING
    return DifferenceKind.EXTRA if pair[0] is None else DifferenceKind.MOVED


def _differences(kind: DifferenceKind, pairs: list[Pair]) -> Iterator[Difference]:
    """One for each point in another's stead; one for points in a row that are missing, or extra."""
    for part in [[pair] for pair in pairs] if kind is DifferenceKind.MOVED else [pairs]:
        ours, theirs = [one for one, _ in part if one], [other for _, other in part if other]
        yield Difference(
            kind,
            "",
            tuple(point.name for point in ours),
            tuple(point.name for point in theirs),
            distance_nm=_apart_nm(ours[0], theirs[0]) if ours and theirs else None,
            points=tuple(point.index for point in ours),
            other_points=tuple(point.index for point in theirs),
        )


def _apart_nm(one: AlignedPoint, other: AlignedPoint) -> float | None:
    if one.place is None or other.place is None:
        return None
    return geo.inverse(one.place.lat, one.place.lon, other.place.lat, other.place.lon)[2]


def _reordered(alignment: Alignment, keys: frozenset[PointKey]) -> Iterator[Difference]:
    """One for each point that stands elsewhere, however often it does."""
    ours = [point for block in alignment.blocks for point in block.first if point.key in keys]
    theirs = [point for block in alignment.blocks for point in block.second if point.key in keys]
    for key in dict.fromkeys(point.key for point in ours):
        one = [point for point in ours if point.key == key]
        other = [point for point in theirs if point.key == key]
        yield Difference(
            DifferenceKind.REORDERED,
            "",
            tuple(point.name for point in one),
            tuple(point.name for point in other),
            points=tuple(point.index for point in one),
            other_points=tuple(point.index for point in other),
        )
