"""Check early-turn."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.checks.catalogue import Family, Limit, Limits, case, check, exceeds
from routecheck.checks.route_queries import distance_nm, precision_nm, spans_of_point
from routecheck.checks.runways import DEPARTURE
from routecheck.formatting import nm
from routecheck.model import AltitudeWindow, Fact, Finding, NotChecked, Via, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Place, Route

ABOVE_END = Limit("above_end_ft", 400.0, "ft above the departure end", "departure-turns", highest=3000.0)
CLIMB = Limit("climb_ft_nm", 200.0, "ft/NM", "departure-turns", lowest=50.0, highest=1000.0)
STRAIGHT = Limit(
    "straight_deg", 15.0, "°", "straight-departures", highest=90.0, why="so much a straight departure may bend"
)
_OVER_END_FT = 35.0
"""The least height at which the end of the runway is crossed: FAA AIM 5-2-9."""


def _flies_no_sid(route: Route) -> bool:
    return route.resolved.connections[0].via is not Via.PROCEDURE


def _lacking_runway(route: Route) -> str:
    return "" if route.resolved.runways[DEPARTURE] else "no departure runway is stated"


@check(
    "early-turn",
    Weight.NOTE,
    family=Family.PROCEDURES,
    sentence=(
        "No SID is flown, and the route turns at a first point that is passed less than 400 ft above the runway's end."
    ),
    explanation=(
        "How high it is passed goes by the climb from 35 ft over the end at 200 ft/NM (for which departures are "
        "surveyed) or at the Aircraft sheet's usual gradient, whichever is more; or by the altitude window stated "
        "there. A bend of up to 15° is no turn."
    ),
    false_alarms="a departure published with an earlier turn.",
    limits=[ABOVE_END, CLIMB, STRAIGHT],
    citations=["departure-turns", "straight-departures"],
    applies_to=_flies_no_sid,
    requires=(_lacking_runway,),
    flagged=[
        case("«3141S00322W» DCT BALDU DCT VAL", departure_runway="09"),
        case(
            "XVAL/09 DCT «3140S00318W» DCT BALDU DCT VAL",
            windows=(AltitudeWindow("3140S00318W", None, 500),),
        ),
    ],
    quiet=[
        case("3140S00318W DCT BALDU DCT VAL", departure_runway="09"),
        case("3141S00322W DCT TILBU DCT LENDU", departure_runway="09"),
        case("VAL3B VAL UM12 LENDU", departure_runway="09"),
        case("3141S00322W DCT BALDU DCT VAL", departure_runway="09", aircraft_sheet="Medium jet"),
        case("3141S00322W DCT BALDU DCT VAL"),
    ],
)
def early_turn(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    resolved = route.resolved
    end, first = resolved.departure_end, route.points[1].place
    if end is None or first is None or route.legs[0].distance_nm is None:
        yield NotChecked((), f"the far end of runway {resolved.runways[DEPARTURE]} is not known")
        return
    turn = route.turns[1]
    if turn is None or not exceeds(abs(turn.turn_deg), limit[STRAIGHT]) or len(route.points) < 3:
        return
    above = _above_end_ft(route, end, first, limit)
    if above is not None and exceeds(limit[ABOVE_END], above):
        yield _finding(route, turn.turn_deg, above, distance_nm(end, first), limit[ABOVE_END])


def _above_end_ft(route: Route, end: Place, first: Place, limit: Limits) -> float | None:
    """How high above the runway's end the first point is passed at most; None where nothing says it is low."""
    sheet = route.route_input.sheet
    usual = (sheet.usual_climb_ft_nm if sheet else None) or 0.0
    climbed = _OVER_END_FT + max(limit[CLIMB], usual) * (distance_nm(end, first) + precision_nm(route, 1))
    tops = [w.high_ft for w in route.windows[1] if w.high_ft is not None and w.typed] if route.windows else []
    if tops and end.elevation_ft is not None:
        return min(climbed, min(tops) - end.elevation_ft)
    return climbed


def _finding(route: Route, turn_deg: float, above_ft: float, beyond_nm: float, least_ft: float) -> Finding:
    point, runway = route.points[1], route.resolved.runways[DEPARTURE]
    turns = f"the route turns {formatting.turn(turn_deg)} there"
    message = (
        f"{point.text}, {nm(beyond_nm)} beyond the end of runway {runway}, is passed at most "
        f"{round(above_ft, -1):,.0f} ft above it, and {turns}: no turn below {least_ft:.0f} ft unless published."
    )
    facts = Fact("above the runway's end", round(above_ft), "ft"), Fact("turn", round(turn_deg), "°", is_turn=True)
    return Finding(spans_of_point(point), message, Weight.NOTE, facts, points=(1,))
