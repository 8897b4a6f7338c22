"""The flight from the destination on to each alternate as an input of its own: direct, or by the route given."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.model import RouteInput
from routecheck.performance.speeds import filed_by_leg

if TYPE_CHECKING:
    from routecheck.model import Route


DIRECT = "DCT"


def alternate_inputs(route: Route) -> list[RouteInput]:
    """An input for each alternate, in order. The route beside the text is that to the first of them.

    Speed and level are those in force at the destination, the wind that of all levels or one level.
    """
    given = route.route_input
    if given.unread or not given.alternate:
        return []
    speed, level = filed_by_leg(route)[-1] if route.legs else (given.speed, given.level)
    return [
        RouteInput(
            (given.alternate_route if number == 0 else "").strip() or DIRECT,
            route.points[-1].text,
            name.strip().upper(),
            speed=speed,
            level=level,
            off_block=given.off_block,
            wind=tuple(wind for wind in given.wind if not wind.to),
            isa_deviation_c=given.isa_deviation_c,
            aircraft_sheet=given.aircraft_sheet,
            sheet=given.sheet,
        )
        for number, name in enumerate(given.alternate)
    ]
