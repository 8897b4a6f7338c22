"""The planned profile held within the room: windows are kept and the top of descent moves. No times, no drawing here.

Planned climb and descent know nothing of altitude windows. Held between what the windows leave at the sheet's usual
gradients the profile keeps these; between two windows where that leaves nothing, it is held between what they
leave at the greatest; where that leaves nothing either, there is no plan. Nobody climbs again in an arrival, or
descends in a departure, unless the windows ask for it.
"""

from __future__ import annotations

import math
from dataclasses import KW_ONLY
from itertools import combinations, pairwise
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from routecheck.frozen_dataclass import dataclass
from routecheck.vertical.room import room_corners

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from routecheck.arrays import Floats
    from routecheck.vertical.profile import Profile
    from routecheck.vertical.room import Bounds, Corner, Gradients

Piece = tuple[tuple[float, float], ...]
"""A line of (NM from the start, feet)."""
_SLACK_FT = 1e-6
_FAR_FT = 1e7


@dataclass(frozen=True, slots=True)
class Limits:
    """What holds a profile: windows at every point, gradients (None = not known) and a ceiling in feet.

    `departure_ends` and `arrival_begins` are NM from the start.
    """

    windows: Sequence[Bounds]
    _: KW_ONLY
    usual: Gradients
    greatest: Gradients | None
    ceiling_ft: float = math.inf
    departure_ends: float = 0.0
    arrival_begins: float = math.inf


class _Held(NamedTuple):
    """A place of the profile, NM from the start, with the lowest altitude to which it might be moved there."""

    nm: float
    feet: float
    floor_ft: float


def hold_in_room(
    profile: Profile, along: Sequence[float], lengths_nm: Sequence[float | None], limits: Limits
) -> tuple[Piece, ...]:
    """Move the planned profile into the room: pieces in order, none where there is no room or nothing carries over.

    `along[i]` is how far point i lies from the start; `lengths_nm[i]` is None where nothing carries over leg i.
    """
    usual = room_corners(lengths_nm, limits.windows, limits.usual, restarts=True)
    greatest = room_corners(lengths_nm, limits.windows, limits.greatest or limits.usual)
    pieces: list[list[_Held]] = []
    for first, last in _unbroken_stretches(lengths_nm):
        legs = range(first, last)
        inner = [one for one in profile.breaks if along[first] < one[0] < along[last]]
        plan = [(nm, profile.altitude_at(nm)) for nm in (along[first], *(nm for nm, _ in inner), along[last])]
        rooms = [
            [(along[leg] + nm, low, high) for leg in legs for nm, low, high in room[leg]] for room in (usual, greatest)
        ]
        pieces += _hold_stretch(plan, rooms[0], cut_at_ceiling(rooms[1], limits.ceiling_ft))
    descended = _never_up([list(_cut_at(piece, limits.arrival_begins)) for piece in pieces], limits.arrival_begins)
    mirrored = [[one._replace(nm=-one.nm) for one in reversed(piece)] for piece in reversed(descended)]
    mirrored = _never_up([list(_cut_at(piece, -limits.departure_ends)) for piece in mirrored], -limits.departure_ends)
    return tuple(tuple((-one.nm, one.feet) for one in reversed(piece)) for piece in reversed(mirrored))


def _unbroken_stretches(lengths_nm: Sequence[float | None]) -> Iterator[tuple[int, int]]:
    """Runs of legs over which altitudes carry over, as (first point, last point)."""
    first = 0
    for leg, length in enumerate([*lengths_nm, None]):
        if length is None:
            if leg > first:
                yield first, leg
            first = leg + 1


def cut_at_ceiling(corners: Sequence[Corner], ceiling_ft: float) -> tuple[Corner, ...]:
    """The room under a ceiling, with a corner wherever a side of it meets the ceiling."""
    found: list[Corner] = list(corners[:1])
    for a, b in pairwise(corners):
        shares = sorted(share for side in (1, 2) if (share := _share_at(a[side] - ceiling_ft, b[side] - ceiling_ft)))
        found += [_corner_between(a, b, share) for share in shares]
        found.append(b)
    return tuple((nm, low, min(high, ceiling_ft)) for nm, low, high in found)


def _share_at(over_a: float, over_b: float) -> float | None:
    """How far from one place to the next a difference passes zero; None where it does not."""
    if not (math.isfinite(over_a) and math.isfinite(over_b)) or over_a * over_b >= 0.0:
        return None
    return over_a / (over_a - over_b)


def _corner_between(a: Corner, b: Corner, share: float) -> Corner:
    low, high = (
        a[side] if math.isinf(a[side]) or math.isinf(b[side]) else a[side] + (b[side] - a[side]) * share
        for side in (1, 2)
    )
    return a[0] + (b[0] - a[0]) * share, low, high


def _hold_stretch(
    plan: Sequence[tuple[float, float]], usual: Sequence[Corner], greatest: Sequence[Corner]
) -> Iterator[list[_Held]]:
    """The plan along one stretch, cut where the room at the greatest gradients is shut."""
    lines = [_columns(plan), *(_columns(room, side) for room in (usual, greatest) for side in (1, 2))]
    places = np.unique(np.concatenate([nm for nm, _ in lines]))
    probes = np.unique(np.concatenate([places, *(_places_before_jumps(*line) for line in lines)]))
    places = np.unique(np.concatenate([places, *_meetings(probes, _values(lines, probes))]))
    feet, low_usual, high_usual, low, high = _values(lines, places)
    gently = np.median([feet, low_usual, high_usual], axis=0), np.minimum(low_usual, high_usual)
    held, floor = (np.clip(one, low, np.maximum(low, high)) for one in gently)
    piece: list[_Held] = []
    columns = [column.tolist() for column in (low > high + _SLACK_FT, places, held, floor)]
    for is_shut, *place in zip(*columns, strict=True):
        if not is_shut:
            piece.append(_Held(*place))
        elif piece:
            yield piece
            piece = []
    yield from [piece] if piece else []


def _columns(line: Sequence[tuple[float, ...]], side: int = 1) -> tuple[Floats, Floats]:
    """A line as its places and altitudes; what is open lies far beyond any altitude."""
    table = np.array(line)
    return table[:, 0], np.clip(table[:, side], -_FAR_FT, _FAR_FT)


def _places_before_jumps(places: Floats, values: Floats) -> Floats:
    """Where a line has two values, the place just before: between its places a line is then straight."""
    before_jumps: Floats = places[:-1][(np.diff(places) == 0.0) & (np.diff(values) != 0.0)]
    return np.nextafter(before_jumps, -np.inf, dtype=np.float64)


def _values(lines: Sequence[tuple[Floats, Floats]], places: Floats) -> list[Floats]:
    return [np.interp(places, *line) for line in lines]


def _meetings(places: Floats, values: Sequence[Floats]) -> Iterator[Floats]:
    """Where between the places, at which all lines have their corners, two of the lines meet."""
    for one, other in combinations(values, 2):
        apart = one - other
        at = np.flatnonzero(apart[:-1] * apart[1:] < 0.0)
        yield places[at] + (places[at + 1] - places[at]) * apart[at] / (apart[at] - apart[at + 1])


# ---- no climb in an arrival


def _cut_at(piece: Sequence[_Held], nm: float) -> Iterator[_Held]:
    """A piece with a place put in at a distance that lies within it."""
    yield piece[0]
    for a, b in pairwise(piece):
        if a.nm < nm < b.nm:
            yield _Held(nm, *(x + (y - x) * (nm - a.nm) / (b.nm - a.nm) for x, y in zip(a[1:], b[1:], strict=True)))
        yield b


def _never_up(pieces: Iterable[Sequence[_Held]], begins: float) -> list[list[_Held]]:
    """Pieces that from a distance on never rise again, but where the lowest altitude asks for it."""
    lowest = math.inf
    found = []
    for piece in pieces:
        levelled: list[_Held] = []
        for i, one in enumerate(piece):
            if one.nm < begins:
                levelled.append(one)
                continue
            if i and piece[i - 1].nm >= begins:
                levelled += _corners_between(piece[i - 1], one, lowest)
            lowest = min(lowest, one.feet)
            levelled.append(one._replace(feet=max(lowest, one.floor_ft)))
        found.append(levelled)
    return found


def _corners_between(a: _Held, b: _Held, lowest: float) -> Iterator[_Held]:
    """Where between two places the profile leaves the level it had come to, or meets the lowest altitude."""
    level = min(lowest, a.feet)
    pairs = (a.feet - level, b.feet - level), (a.floor_ft - level, b.floor_ft - level)
    shares = [share for pair in pairs if (share := _share_at(*pair)) is not None]
    for share in sorted(shares):
        feet, floor_ft = (x + (y - x) * share for x, y in zip(a[1:], b[1:], strict=True))
        yield _Held(a.nm + (b.nm - a.nm) * share, max(min(level, feet), floor_ft), floor_ft)
