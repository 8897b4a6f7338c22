"""The turns of a batch of paths: where the course changes, by how much, and what the point adds to the way."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from routecheck.frozen_dataclass import dataclass
from routecheck.model import Turn

if TYPE_CHECKING:
    from routecheck.arrays import Flags, Floats, Indices
    from routecheck.geometry.columns import Columns

_NOWHERE = -1


@dataclass(frozen=True, slots=True)
class TurningPoints:
    """The points `at` which the route leads from a fixed leg on to the point `onward`: the next that lies elsewhere."""

    at: Indices
    onward: Indices

    @property
    def past(self) -> tuple[Indices, Indices]:
        """The geodesics past them."""
        return self.at - 1, self.onward


@dataclass(frozen=True, slots=True)
class Courses:
    """By leg: courses at both ends (degrees, NaN = none) and length (NM, NaN = not known)."""

    course: Floats
    end_course: Floats
    distance: Floats


def find_turning_points(columns: Columns) -> TurningPoints:
    """Find the points at which the route may turn. Inside a procedure there are none: the data is believed."""
    onward = _next_elsewhere(columns)
    inner = np.ones(len(columns.points), dtype=np.bool_)
    inner[columns.first_point[:-1]] = inner[columns.first_point[1:] - 1] = False
    at = np.flatnonzero(inner)
    before = columns.legs_into(at)
    inside = columns.is_coded[before] & columns.is_coded[before + 1]
    at = at[columns.is_fixed[before] & (onward[at] != _NOWHERE) & ~inside]
    return TurningPoints(at, onward[at])


def _next_elsewhere(columns: Columns) -> Indices:
    """For every point the next one that lies elsewhere (else the last); _NOWHERE where no fixed path leads there."""
    onward = np.full(len(columns.points), _NOWHERE)
    last = columns.first_point[1:] - 1
    onward[last] = last
    onward[columns.start] = np.where(columns.is_fixed, columns.end, _NOWHERE)
    for leg in np.flatnonzero(columns.is_fixed & columns.on_one_spot)[::-1].tolist():
        onward[columns.start[leg]] = onward[columns.end[leg]]
    return onward


def compute_turns(columns: Columns, where: TurningPoints, past: Floats, legs: Courses) -> list[Turn | None]:
    """For every point its turn or None; `past` are the geodesics past the turning points, shape (3, n).

    Of points on one spot the first has the turn and the others have none: no leg, no course.
    """
    before, after = columns.legs_into(where.at), columns.legs_into(where.onward)
    around, direct = legs.distance[before] + legs.distance[after], past[2]
    judged = ~np.isnan(around + direct)
    at, before, after, around, direct = (column[judged] for column in (where.at, before, after, around, direct))
    next_to_airport = _next_to_airport(columns, at)
    turn = _wrap180(legs.course[after] - legs.end_course[before])
    detour = np.maximum(0.0, around - direct)
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.where(direct > 0, detour / direct, np.inf)
    d_value = detour * np.abs(turn) / 90.0 / np.where(next_to_airport, 3.0, 1.0)
    still = np.isnan(turn)  # a leg of no length has no course
    for column in (turn, detour, share, d_value):
        column[still] = 0.0
    found: list[Turn | None] = [None] * len(columns.points)
    figures = (column.tolist() for column in (turn, detour, share, d_value, next_to_airport))
    for point, at_point in zip(at.tolist(), map(Turn, *figures), strict=True):
        found[point] = at_point
    return found


def _next_to_airport(columns: Columns, at: Indices) -> Flags:
    """Which points are the first or last between the aerodromes, of all or of those that the route names."""
    route_points = np.array([_NOWHERE if point.route_point is None else point.route_point for point in columns.points])
    first, last = columns.first_point[columns.route[at]], columns.first_point[columns.route[at] + 1] - 1
    found: Flags = (
        (at == first + 1) | (at == last - 1) | (route_points[at] == 1) | (route_points[at] == route_points[last] - 1)
    )
    return found


def _wrap180(degrees: Floats) -> Floats:
    """Differences of courses brought into (-180, 180]; NaN stays what it is."""
    degrees = np.fmod(degrees, 360.0)
    return np.where(degrees > 180.0, degrees - 360.0, np.where(degrees <= -180.0, degrees + 360.0, degrees))
