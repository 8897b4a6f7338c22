"""Altitude windows assigned to the points of a route, and what holds at each. The room itself is computed in room."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from routecheck.model import FIELDS
from routecheck.vertical.room import UNBOUNDED, Bounds, Gradients, Room, find_room, is_upside_down, reset_lengths

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import AltitudeWindow, PathPoint, Route


def assign_windows(
    windows: Sequence[AltitudeWindow], points: Sequence[PathPoint]
) -> tuple[tuple[AltitudeWindow, ...], ...]:
    """Assign stated windows to the points they name: for every point its windows, () where there are none at all.

    A name must be there just once.
    """
    if not windows:
        return ()
    at: list[list[AltitudeWindow]] = [[] for _ in points]
    where = _indices_by_name(points)
    for window in windows:
        indices = where.get(window.point, [])
        if len(indices) == 1:
            at[indices[0]].append(window)
    return tuple(tuple(found) for found in at)


def add_coded_windows(
    typed: tuple[tuple[AltitudeWindow, ...], ...], coded: Sequence[tuple[AltitudeWindow, ...]]
) -> tuple[tuple[AltitudeWindow, ...], ...]:
    """Add to every point the windows coded there; () where there are none at all."""
    if not any(coded):
        return typed
    return tuple(a + b for a, b in zip(typed or [()] * len(coded), coded, strict=True))


def unassigned_windows(
    windows: Sequence[AltitudeWindow], points: Sequence[PathPoint]
) -> Iterator[tuple[AltitudeWindow, str]]:
    """The windows that belong to no point, with the reason in words."""
    where = _indices_by_name(points) if windows else {}
    for window in windows:
        times = len(where.get(window.point, ()))
        if times == 0:
            yield window, "the route has no such point"
        elif times > 1:
            yield window, f"the route goes by {window.point} {times} times"


def _indices_by_name(points: Sequence[PathPoint]) -> dict[str, list[int]]:
    found: dict[str, list[int]] = {}
    for index, point in enumerate(points):
        found.setdefault(point.text.upper(), []).append(index)
    return found


def effective_bounds(windows: Sequence[AltitudeWindow]) -> Bounds:
    """What holds where several windows stand at one point: all together; the stated one where they contradict.

    A stated window that is upside down by itself is a finding of its own and is ignored here.
    """
    if len(windows) == 1:  # as nearly everywhere
        alone = windows[0].low_ft, windows[0].high_ft
        return UNBOUNDED if is_upside_down(alone) else alone
    stated = intersect_windows([w for w in windows if w.typed and not is_upside_down((w.low_ft, w.high_ft))])
    coded = intersect_windows([w for w in windows if not w.typed])
    both = _intersect_bounds(stated, coded)
    if not is_upside_down(both):
        return both
    return UNBOUNDED if is_upside_down(stated) else stated


def intersect_windows(windows: Sequence[AltitudeWindow]) -> Bounds:
    """Intersect several windows; the result is upside down where they contradict."""
    bounds = UNBOUNDED
    for window in windows:
        bounds = _intersect_bounds(bounds, (window.low_ft, window.high_ft))
    return bounds


def _intersect_bounds(one: Bounds, other: Bounds) -> Bounds:
    lows = [bound for bound in (one[0], other[0]) if bound is not None]
    highs = [bound for bound in (one[1], other[1]) if bound is not None]
    return max(lows, default=None), min(highs, default=None)


def field_elevation_ft(point: PathPoint) -> float | None:
    """The elevation of the aerodrome at an end of the route, feet, where the data says it."""
    place = point.place
    return place.elevation_ft if place and place.kind in FIELDS else None


def altitude_bounds(route: Route, *, fields: bool = True) -> list[Bounds]:
    """The altitude bounds at every point; with `fields` both aerodromes' elevations where they are known."""
    found = [effective_bounds(windows) if windows else UNBOUNDED for windows in route.windows] or [UNBOUNDED] * len(
        route.points
    )
    for end in (0, len(found) - 1) if fields else ():
        feet = field_elevation_ft(route.points[end])
        if feet is not None:
            found[end] = (feet, feet)
    return found


def unbroken_lengths_nm(route: Route) -> list[float | None]:
    """The lengths of the legs, None at a gap and behind a holding: after these any altitude may follow."""
    behind_holding = {index + 1 for index, point in enumerate(route.points) if point.note}
    return reset_lengths([leg.distance_nm for leg in route.legs], behind_holding)


def greatest_gradients(route: Route) -> Gradients | None:
    """The greatest gradients of the route's Aircraft sheet; None where it does not say both."""
    sheet = route.route_input.sheet
    if sheet is None or sheet.greatest_climb_ft_nm is None or sheet.greatest_descent_ft_nm is None:
        return None
    return Gradients(sheet.greatest_climb_ft_nm, sheet.greatest_descent_ft_nm)


def ceiling_ft(route: Route) -> float:
    """The ceiling of the route's Aircraft sheet; infinite where none is given."""
    sheet = route.route_input.sheet
    return sheet.ceiling_ft if sheet and sheet.ceiling_ft else math.inf


def route_room(route: Route) -> Room | None:
    """The room of a route from field to field, for the Side view; None where its sheet does not give the gradients."""
    greatest = greatest_gradients(route)
    return None if greatest is None else find_room(unbroken_lengths_nm(route), altitude_bounds(route), greatest)
