"""Times as checks ask for them: computed once for a route, and the fastest that anything may move along it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.per_route_cache import cached_per_route
from routecheck.performance.speeds import filed_by_leg, tas_kt
from routecheck.performance.times import route_times

if TYPE_CHECKING:
    from routecheck.model import Route
    from routecheck.performance.times import Times


@cached_per_route
def planned_times(route: Route) -> Times | None:
    """Time of the route leg by leg at the speeds filed or of the sheet; None where no leg has one."""
    times = route_times(route)
    return None if times.minutes is None else times


@cached_per_route
def airspeeds(route: Route) -> tuple[float | None, ...]:
    """For every leg the true airspeed as filed, knots, or else that of the sheet; None where neither says it."""
    sheet = route.route_input.sheet
    of_sheet = sheet.cruise_tas_kt if sheet else None
    return tuple(tas_kt(speed, level) or of_sheet for speed, level in filed_by_leg(route))
