"""Which point of one route is which of another: survives insertions, points moved elsewhere and changed places."""

from __future__ import annotations

from difflib import SequenceMatcher
from typing import TYPE_CHECKING

from routecheck.earth import sphere
from routecheck.frozen_dataclass import dataclass
from routecheck.model import PlaceKind

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.model import PathPoint, Place, Route

_SAME_DEG = 6
"""Decimals of a degree to which two places are the same: a tenth of a metre."""
_PAIRED_WITHIN_NM = 150.0
"""Where one side has more points than the other, two this close may be one point entered otherwise (our choice)."""
_MOST_PAIRINGS = 250_000
"""So many pairs of points are weighed against each other; in longer stretches every point stands for itself."""
_LONG = 2_000
"""From so many points on, those that return all the time are not aligned by."""
PointKey = tuple[str, float, float]


@dataclass(frozen=True, slots=True)
class AlignedPoint:
    """A point of a route that is compared: its index in Route.points, and whether the text names it."""

    index: int
    name: str
    place: Place | None
    named: bool

    @property
    def key(self) -> PointKey:
        """What makes two points the same: the place, whatever way it is written; without a place the name."""
        if self.place is None:
            return self.name, 0.0, 0.0
        name = "" if self.place.kind is PlaceKind.TYPED else self.name
        longitude = 180.0 if self.place.lon == -180.0 else self.place.lon
        return name, round(self.place.lat, _SAME_DEG), round(longitude, _SAME_DEG)


@dataclass(frozen=True, slots=True)
class Block:
    """A stretch of both routes that differs, between points that are the same; either side may be empty."""

    first: tuple[AlignedPoint, ...]
    second: tuple[AlignedPoint, ...]
    before: tuple[int, int]
    """The points that are the same in front of it, by their index in each route."""
    after: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Alignment:
    """The points that are the same, in pairs, and the stretches between that differ."""

    same: tuple[tuple[AlignedPoint, AlignedPoint], ...]
    blocks: tuple[Block, ...]


def compared_points(route: Route) -> list[AlignedPoint]:
    """The points between the aerodromes; those inside a procedure are the data's and not compared."""
    return [
        AlignedPoint(index, point.text.upper(), point.place, _is_named(route, point))
        for index, point in enumerate(route.points[:-1])
        if index and (point.route_point is not None or not point.procedure)
    ]


def _is_named(route: Route, point: PathPoint) -> bool:
    return point.route_point is not None and route.resolved.route_points[point.route_point].word is not None


def align(first: Route, second: Route) -> Alignment:
    """Align the points of two routes."""
    ours, theirs = compared_points(first), compared_points(second)
    matcher = SequenceMatcher(None, [p.key for p in ours], [p.key for p in theirs], autojunk=len(ours) > _LONG)
    same: list[tuple[AlignedPoint, AlignedPoint]] = []
    blocks: list[Block] = []
    before = (0, 0)
    for tag, a, b, c, d in matcher.get_opcodes():
        if tag == "equal":
            same += zip(ours[a:b], theirs[c:d], strict=True)
            before = ours[b - 1].index, theirs[d - 1].index
        else:
            after = (
                ours[b].index if b < len(ours) else len(first.points) - 1,
                theirs[d].index if d < len(theirs) else len(second.points) - 1,
            )
            blocks.append(Block(tuple(ours[a:b]), tuple(theirs[c:d]), before, after))
    return Alignment(tuple(same), tuple(blocks))


def pair_points(
    first: Sequence[AlignedPoint], second: Sequence[AlignedPoint]
) -> list[tuple[AlignedPoint | None, AlignedPoint | None]]:
    """Pair points that differ: what stands in place of what, in order; None = nothing does.

    As many on both sides are paired one by one; else by the shortest distances that leave the order as it is.
    """
    if len(first) == len(second):
        return list(zip(first, second, strict=True))
    if len(first) * len(second) > _MOST_PAIRINGS:
        return [*((p, None) for p in first), *((None, p) for p in second)]
    costs = _cheapest_pairings(first, second)
    pairs: list[tuple[AlignedPoint | None, AlignedPoint | None]] = []
    i, j = 0, 0
    while i < len(first) and j < len(second):
        alone = _PAIRED_WITHIN_NM / 2.0
        if costs[i][j] == costs[i + 1][j + 1] + _pair_cost(first[i], second[j]):
            pairs.append((first[i], second[j]))
            i, j = i + 1, j + 1
        elif costs[i][j] == costs[i + 1][j] + alone:
            pairs.append((first[i], None))
            i += 1
        else:
            pairs.append((None, second[j]))
            j += 1
    return [*pairs, *((p, None) for p in first[i:]), *((None, p) for p in second[j:])]


def _cheapest_pairings(first: Sequence[AlignedPoint], second: Sequence[AlignedPoint]) -> list[list[float]]:
    """What pairing the rest costs at least, from every point of both sides on."""
    alone = _PAIRED_WITHIN_NM / 2.0
    left = range(len(second), -1, -1)
    costs = [[alone * (len(first) - i + j) for j in left] for i in range(len(first) + 1)]
    for i in reversed(range(len(first))):
        for j in reversed(range(len(second))):
            costs[i][j] = min(
                costs[i + 1][j] + alone,
                costs[i][j + 1] + alone,
                costs[i + 1][j + 1] + _pair_cost(first[i], second[j]),
            )
    return costs


def _pair_cost(one: AlignedPoint, other: AlignedPoint) -> float:
    if one.place is None or other.place is None:
        return _PAIRED_WITHIN_NM * 2.0
    return sphere.distance_nm(sphere.vector_of(one.place), sphere.vector_of(other.place))
