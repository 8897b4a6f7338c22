"""The room as the Side view draws it: a band with its corners, and where it is shut. No lines of plans."""

from __future__ import annotations

import math
from itertools import groupby, pairwise
from typing import TYPE_CHECKING

from routecheck.vertical.room import room_corners
from routecheck.vertical.windowed_profile import cut_at_ceiling
from routecheck.vertical.windows import altitude_bounds, ceiling_ft, greatest_gradients, unbroken_lengths_nm

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.model import Route
    from routecheck.vertical.room import Corner

    Stretch = tuple[float, float]


def lay_out_room(route: Route, places: Sequence[float]) -> tuple[tuple[tuple[Corner, ...], ...], tuple[Stretch, ...]]:
    """The band and where it is shut, on the stretches on which anything is known of altitudes."""
    greatest = greatest_gradients(route)
    if greatest is None:
        return (), ()
    windows, ceiling = altitude_bounds(route), ceiling_ft(route)
    band: list[list[Corner]] = []
    shut: list[Stretch] = []
    for leg, corners in enumerate(room_corners(unbroken_lengths_nm(route), windows, greatest)):
        if not any(math.isfinite(low) or math.isfinite(high) for _, low, high in corners):
            continue
        drawn = [(places[leg] + nm, low, high) for nm, low, high in cut_at_ceiling(corners, ceiling)]
        for is_shut, pieces in groupby(pairwise(drawn), key=_is_shut):
            line = _join(list(pieces))
            if is_shut:
                shut.append((line[0][0], line[-1][0]))
            else:
                _append_piece(band, [(nm, low, max(low, high)) for nm, low, high in line])
    return tuple(map(tuple, band)), tuple(_merge(shut))


def _append_piece(band: list[list[Corner]], line: list[Corner]) -> None:
    """Go on with the piece before where it ends here."""
    if band and abs(band[-1][-1][0] - line[0][0]) < 1e-9:
        band[-1] += line[1:]
    else:
        band.append(line)


def _is_shut(piece: tuple[Corner, Corner]) -> bool:
    (_, low_a, high_a), (_, low_b, high_b) = piece
    return low_a + low_b > high_a + high_b + 1e-3


def _join(pieces: list[tuple[Corner, Corner]]) -> list[Corner]:
    return [pieces[0][0], *(end for _, end in pieces)]


def _merge(stretches: Sequence[Stretch]) -> list[Stretch]:
    merged: list[Stretch] = []
    for begins, ends in stretches:
        if merged and begins - merged[-1][1] < 1e-6:
            merged[-1] = (merged[-1][0], ends)
        else:
            merged.append((begins, ends))
    return merged
