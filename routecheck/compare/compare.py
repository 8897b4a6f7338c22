"""Compares two versions of a route: the one way in."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from routecheck.compare.alignment import align
from routecheck.compare.points import differing_points
from routecheck.compare.values_beside import (
    differences_at_ends,
    differing_levels,
    differing_loads,
    differing_texts,
    differing_windows,
    differing_words,
)
from routecheck.compare.ways import differing_ways
from routecheck.model import Comparison, DifferenceKind

if TYPE_CHECKING:
    from routecheck.model import Difference, Route


def compare_routes(first: Route, second: Route) -> Comparison:
    """Compare two routes that were assessed with the same navigation data."""
    alignment = align(first, second)
    along = [*differing_points(alignment), *differing_ways(first, second, alignment)]
    along.sort(key=_place_in_route)
    ends = 0, len(first.points) - 1
    same = [(one.index, other.index) for one, other in alignment.same]
    for end, there in zip(ends, (0, len(second.points) - 1), strict=True):
        if first.points[end].text == second.points[there].text:
            same.append((end, there))
    differences = (
        *differences_at_ends(first, second),
        *differing_words(first, second),
        *along,
        *differing_levels(first, second),
        *differing_windows(first, second),
        *differing_loads(first, second),
    )
    return Comparison(
        first,
        second,
        differences=differences or tuple(differing_texts(first, second)),
        same_points=tuple(sorted(same)),
        unplaced=tuple(dict.fromkeys(one.name for one, _ in alignment.same if one.place is None)),
    )


def _place_in_route(difference: Difference) -> float:
    """By the points of the first version; a stretch comes behind the points on it."""
    if difference.kind is DifferenceKind.WAY:
        return difference.points[-1] - 0.5
    return difference.points[0] if difference.points else math.inf
