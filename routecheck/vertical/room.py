"""The room: which altitudes can be flown at each point, given the windows before and after it. No drawing here.

Plain functions on sequences: `lengths_nm[i]` leads from point i to point i + 1, None = nothing carries over (a gap, a
leg without a fixed end); `windows[i]` = (lowest, highest) allowed at point i in feet, None = open; gradients in ft/NM.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Iterator, Sequence

Bounds = tuple[float | None, float | None]

UNBOUNDED: Bounds = (None, None)
Corner = tuple[float, float, float]
"""NM from the start of a leg, and the lowest and highest altitude that can be flown there, feet; infinite = open."""
_SLACK_FT = 1e-3
"""Below what anybody means: keeps rounding in the sums from closing a room."""
_Interval = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Gradients:
    """The greatest change of altitude in ft/NM, both positive: climbing and descending."""

    climb_ft_nm: float
    descent_ft_nm: float


@dataclass(frozen=True, slots=True)
class WindowPair:
    """Two windows that ask for a change of altitude: `first_ft` at point `first`, `last_ft` at point `last` later on.

    They are the bounds that bind: the lowest allowed first and the highest allowed later, or the other way round.
    """

    first: int
    last: int
    first_ft: float
    last_ft: float
    distance_nm: float

    @property
    def climbs(self) -> bool:
        """Whether it is a climb that they ask for."""
        return self.last_ft > self.first_ft

    @property
    def needed_ft_nm(self) -> float:
        """The gradient needed, positive; inf where there is no distance between the two."""
        return abs(self.last_ft - self.first_ft) / self.distance_nm if self.distance_nm > 0 else math.inf


@dataclass(frozen=True, slots=True)
class Room:
    """For every point the band of altitudes that can be flown, None = none; and the pairs of windows to blame."""

    bands: tuple[Bounds | None, ...]
    conflicts: tuple[WindowPair, ...]


def is_upside_down(window: Bounds) -> bool:
    """Whether the lowest altitude allowed is above the highest."""
    low, high = window
    return low is not None and high is not None and low > high


def reset_lengths(lengths_nm: Sequence[float | None], resets: Collection[int]) -> list[float | None]:
    """Take out the lengths of the legs that lead to the points `resets`: any altitude is possible there again."""
    return [None if leg + 1 in resets else length for leg, length in enumerate(lengths_nm)]


def find_room(lengths_nm: Sequence[float | None], windows: Sequence[Bounds], gradients: Gradients) -> Room:
    """Find the room along a route: what every window before can reach and what can still reach every window after.

    A window that is upside down is taken as open: it is a mistake by itself. Where no altitude is left the band is
    None, and opens again as soon as the gradients allow. Raises ValueError for sequences of unfit length.
    """
    _require_fit(lengths_nm, windows)
    cuts = [_to_interval(window) for window in windows]
    ahead = _reachable_altitudes(lengths_nm, cuts, gradients.climb_ft_nm, gradients.descent_ft_nm)
    behind = _reachable_altitudes(lengths_nm[::-1], cuts[::-1], gradients.descent_ft_nm, gradients.climb_ft_nm)[::-1]
    bands = tuple(_band(*pair) for pair in zip(ahead, behind, strict=True))
    return Room(bands, tuple(_conflicts(lengths_nm, cuts, gradients)))


def highest_altitude_ft(lengths_nm: Sequence[float | None], windows: Sequence[Bounds], gradients: Gradients) -> float:
    """The highest altitude that can be flown anywhere on the way, between two points included; inf = no limit."""
    _require_fit(lengths_nm, windows)
    cuts = [_to_interval(window) for window in windows]
    up, down = gradients.climb_ft_nm, gradients.descent_ft_nm
    ahead = _reachable_altitudes(lengths_nm, cuts, up, down)
    behind = _reachable_altitudes(lengths_nm[::-1], cuts[::-1], down, up)[::-1]
    tops = [min(a[1], b[1]) for a, b in zip(ahead, behind, strict=True)]
    for leg, length in enumerate(lengths_nm):
        start, end = ahead[leg][1], behind[leg + 1][1]
        tops.append(math.inf if length is None else _highest_between(start, end, length, up, down))
    return max(tops)


def room_corners(
    lengths_nm: Sequence[float | None], windows: Sequence[Bounds], gradients: Gradients, *, restarts: bool = False
) -> list[tuple[Corner, ...]]:
    """The room along every leg, straight lines between its corners; () where nothing carries over.

    Where the lowest altitude is above the highest there is no room; such a stretch begins and ends with a corner. With
    `restarts` the room opens anew at a window that cannot be reached in time, at that bound of it which is nearest: two
    windows in conflict shut the room between them and nowhere else, and its bounds jump at them.
    """
    _require_fit(lengths_nm, windows)
    cuts = [_to_interval(window) for window in windows]
    up, down = gradients.climb_ft_nm, gradients.descent_ft_nm
    ahead = _reachable_altitudes(lengths_nm, cuts, up, down, restarts=restarts)
    behind = _reachable_altitudes(lengths_nm[::-1], cuts[::-1], down, up, restarts=restarts)[::-1]
    return [
        () if length is None else _leg_corners(ahead[leg], behind[leg + 1], length, up, down)
        for leg, length in enumerate(lengths_nm)
    ]


def steep_pairs(
    lengths_nm: Sequence[float | None], windows: Sequence[Bounds], least_ft_nm: float
) -> Iterator[WindowPair]:
    """Every two windows on one unbroken stretch that need at least this gradient (above 0), up or down."""
    _require_fit(lengths_nm, windows)
    cuts = [_to_interval(window) for window in windows]
    bounds = [bound for cut in cuts for bound in cut if math.isfinite(bound)]
    far = (max(bounds) - min(bounds)) / least_ft_nm if bounds else 0.0
    for first, cut in enumerate(cuts):
        if cut != _to_interval(UNBOUNDED):
            for last, distance in _points_within(lengths_nm, first, far):
                yield from _pairs_needing(first, last, cut, cuts[last], distance, least_ft_nm)


def steepest_without_overlap(found: Iterable[WindowPair]) -> list[WindowPair]:
    """Of overlapping pairs only the steepest, in route order: one stretch is named once."""
    kept: list[WindowPair] = []
    for pair in sorted(found, key=lambda p: (-p.needed_ft_nm, p.distance_nm)):
        if all(pair.last <= other.first or pair.first >= other.last for other in kept):
            kept.append(pair)
    return sorted(kept, key=lambda p: p.first)


# ---- how it is done


def _require_fit(lengths_nm: Sequence[float | None], windows: Sequence[Bounds]) -> None:
    if len(windows) != len(lengths_nm) + 1:
        raise ValueError(f"{len(lengths_nm)} legs have {len(lengths_nm) + 1} points, not {len(windows)} windows")


def _to_interval(window: Bounds) -> _Interval:
    low, high = UNBOUNDED if is_upside_down(window) else window
    return (-math.inf if low is None else low), (math.inf if high is None else high)


def _reachable_altitudes(
    lengths: Sequence[float | None], cuts: Sequence[_Interval], up: float, down: float, *, restarts: bool = False
) -> list[_Interval]:
    """The altitudes reachable going forward. The two bounds travel apart, so that a closed room may open again.

    With `restarts` they open anew at a window out of reach, at that bound of it which is nearest.
    """
    low, high = cuts[0]
    reached = [(low, high)]
    for length, (lowest, highest) in zip(lengths, cuts[1:], strict=True):
        low = lowest if length is None else max(low - down * length, lowest)
        high = highest if length is None else min(high + up * length, highest)
        if restarts:
            low, high = min(low, highest), max(high, lowest)
        reached.append((low, high))
    return reached


def _band(ahead: _Interval, behind: _Interval) -> Bounds | None:
    low, high = max(ahead[0], behind[0]), min(ahead[1], behind[1])
    if low > high + _SLACK_FT:
        return None
    return (low if low > -math.inf else None), (max(low, high) if high < math.inf else None)


@dataclass(slots=True)
class _TravellingBound:
    """A bound on its way along the route: its altitude now, the point whose window set it and at what, how far ago."""

    now_ft: float
    point: int
    set_ft: float
    flown_nm: float = 0.0

    def fly(self, length: float, change_ft_nm: float) -> None:
        self.now_ft += change_ft_nm * length
        self.flown_nm += length

    def pair(self, point: int, altitude_ft: float) -> WindowPair:
        return WindowPair(self.point, point, self.set_ft, altitude_ft, self.flown_nm)


def _conflicts(
    lengths: Sequence[float | None], cuts: Sequence[_Interval], gradients: Gradients
) -> Iterator[WindowPair]:
    """The pairs that leave nothing. After each the later window alone counts on, so that one cause is named once."""
    low, high = _TravellingBound(cuts[0][0], 0, cuts[0][0]), _TravellingBound(cuts[0][1], 0, cuts[0][1])
    for point, (lowest, highest) in enumerate(cuts[1:], start=1):
        length = lengths[point - 1]
        fresh = length is None
        if length is not None:
            low.fly(length, -gradients.descent_ft_nm)
            high.fly(length, gradients.climb_ft_nm)
            if low.now_ft > highest + _SLACK_FT:
                yield low.pair(point, highest)
                fresh = True
            elif high.now_ft < lowest - _SLACK_FT:
                yield high.pair(point, lowest)
                fresh = True
        if fresh or lowest >= low.now_ft:
            low = _TravellingBound(lowest, point, lowest)
        if fresh or highest <= high.now_ft:
            high = _TravellingBound(highest, point, highest)


def _highest_between(start: float, end: float, length: float, up: float, down: float) -> float:
    """The highest point of a leg: up from its start until the way down to its end must begin."""
    if math.isinf(start) or math.isinf(end):
        return min(start + up * length, end + down * length)
    turning = min(max((end + down * length - start) / (up + down), 0.0), length)
    return min(start + up * turning, end + down * (length - turning))


def _leg_corners(start: _Interval, end: _Interval, length: float, up: float, down: float) -> tuple[Corner, ...]:
    """The bounds carried forward from the start and backward from the end of a leg, cut with each other."""

    def at(nm: float) -> Corner:
        rest = length - nm
        return nm, max(start[0] - down * nm, end[0] - up * rest), min(start[1] + up * nm, end[1] + down * rest)

    knees = ((start[0] - end[0] + up * length), (end[1] - start[1] + down * length)) if length > 0 else ()
    places = {0.0, length, *(knee / (up + down) for knee in knees if 0.0 < knee < (up + down) * length)}
    found = [at(nm) for nm in sorted(places)]
    shut = [nm for a, b in pairwise(found) for nm in _closing_places(a, b)]
    return tuple(at(nm) for nm in sorted({*places, *shut}))


def _closing_places(a: Corner, b: Corner) -> Iterator[float]:
    """Where between two corners the lowest altitude meets the highest."""
    gap_a, gap_b = a[2] - a[1], b[2] - b[1]
    if math.isfinite(gap_a) and math.isfinite(gap_b) and gap_a * gap_b < 0.0:
        yield a[0] + (b[0] - a[0]) * gap_a / (gap_a - gap_b)


def _points_within(lengths: Sequence[float | None], first: int, far: float) -> Iterator[tuple[int, float]]:
    """The points after one with their distance from it, to the next gap or as far as matters."""
    distance = 0.0
    for leg in range(first, len(lengths)):
        length = lengths[leg]
        if length is None:
            return
        distance += length
        if distance > far:
            return
        yield leg + 1, distance


def _pairs_needing(
    first: int, last: int, a: _Interval, b: _Interval, distance: float, least: float
) -> Iterator[WindowPair]:
    for start, end, asked in ((a[0], b[1], a[0] > b[1]), (a[1], b[0], a[1] < b[0])):
        if asked:
            pair = WindowPair(first, last, start, end, distance)
            if pair.needed_ft_nm >= least:
                yield pair
