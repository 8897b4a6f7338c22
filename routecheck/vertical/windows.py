"""Altitude windows put to the points of a route, and what holds at each. The room itself is reckoned in heights."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.model import FIELDS
from routecheck.vertical.room import OPEN, Bounds, Gradients, Room, is_upside_down, room, with_resets

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import AltitudeWindow, PathPoint, Route


def placed(windows: Sequence[AltitudeWindow], points: Sequence[PathPoint]) -> tuple[tuple[AltitudeWindow, ...], ...]:
    """For every point the windows stated for it; () where there are none at all. A name must be there just once."""
    if not windows:
        return ()
    at: list[list[AltitudeWindow]] = [[] for _ in points]
    where = _places(points)
    for window in windows:
        indices = where.get(window.point, [])
        if len(indices) == 1:
            at[indices[0]].append(window)
    return tuple(tuple(found) for found in at)


def with_coded(
    typed: tuple[tuple[AltitudeWindow, ...], ...], coded: Sequence[tuple[AltitudeWindow, ...]]
) -> tuple[tuple[AltitudeWindow, ...], ...]:
    """For every point the windows stated and those coded; () where there are none at all."""
    if not any(coded):
        return typed
    return tuple(a + b for a, b in zip(typed or [()] * len(coded), coded, strict=True))


def unplaced(windows: Sequence[AltitudeWindow], points: Sequence[PathPoint]) -> Iterator[tuple[AltitudeWindow, str]]:
    """The windows that belong to no point, with the reason in words."""
    where = _places(points) if windows else {}
    for window in windows:
        times = len(where.get(window.point, ()))
        if times == 0:
            yield window, "the route has no such point"
        elif times > 1:
            yield window, f"the route goes by {window.point} {times} times"


def _places(points: Sequence[PathPoint]) -> dict[str, list[int]]:
    found: dict[str, list[int]] = {}
    for index, point in enumerate(points):
        found.setdefault(point.text.upper(), []).append(index)
    return found


def in_force(windows: Sequence[AltitudeWindow]) -> Bounds:
    """What holds where several windows stand at one point: all together; the stated one where they contradict.

    A stated window that is upside down by itself is a finding of its own and counts for nothing here.
    """
    if len(windows) == 1:  # as nearly everywhere
        alone = windows[0].low_ft, windows[0].high_ft
        return OPEN if is_upside_down(alone) else alone
    stated = together([w for w in windows if w.typed and not is_upside_down((w.low_ft, w.high_ft))])
    coded = together([w for w in windows if not w.typed])
    both = _cut(stated, coded)
    if not is_upside_down(both):
        return both
    return OPEN if is_upside_down(stated) else stated


def together(windows: Sequence[AltitudeWindow]) -> Bounds:
    """What several windows leave when all of them hold; upside down where they contradict."""
    bounds = OPEN
    for window in windows:
        bounds = _cut(bounds, (window.low_ft, window.high_ft))
    return bounds


def _cut(one: Bounds, other: Bounds) -> Bounds:
    lows = [bound for bound in (one[0], other[0]) if bound is not None]
    highs = [bound for bound in (one[1], other[1]) if bound is not None]
    return max(lows, default=None), min(highs, default=None)


def field_ft(point: PathPoint) -> float | None:
    """The elevation of the aerodrome at an end of the route, feet, where the data says it."""
    place = point.place
    return place.elevation_ft if place and place.kind in FIELDS else None


def bounds(route: Route, *, fields: bool = True) -> list[Bounds]:
    """What holds at every point; with `fields` the elevations of the aerodromes at both ends where they are known."""
    found = [in_force(windows) if windows else OPEN for windows in route.windows] or [OPEN] * len(route.points)
    for end in (0, len(found) - 1) if fields else ():
        feet = field_ft(route.points[end])
        if feet is not None:
            found[end] = (feet, feet)
    return found


def lengths(route: Route) -> list[float | None]:
    """The lengths of the legs, None at a gap and behind a holding: after these any height may follow."""
    held = {index + 1 for index, point in enumerate(route.points) if point.note}
    return with_resets([leg.distance_nm for leg in route.legs], held)


def gradients(route: Route) -> Gradients | None:
    """The greatest gradients of the route's Aircraft sheet; None where it does not say both."""
    sheet = route.route_input.sheet
    if sheet is None or sheet.greatest_climb_ft_nm is None or sheet.greatest_descent_ft_nm is None:
        return None
    return Gradients(sheet.greatest_climb_ft_nm, sheet.greatest_descent_ft_nm)


def room_of(route: Route) -> Room | None:
    """The room of a route from field to field, for the Side view; None where its sheet does not give the gradients."""
    greatest = gradients(route)
    return None if greatest is None else room(lengths(route), bounds(route), greatest)
