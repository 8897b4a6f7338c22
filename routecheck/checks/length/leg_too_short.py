"""Check leg-too-short."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from routecheck.checks import preconditions
from routecheck.checks.altitude_queries import filed_stretches, stretches_with_speed_or_level
from routecheck.checks.catalogue import Family, Limit, Limits, case, check, exceeds
from routecheck.checks.route_queries import spans_of_point
from routecheck.citations import OWN_CHOICE
from routecheck.earth import air
from routecheck.formatting import nm
from routecheck.model import Fact, Finding, NotChecked, Turn, Weight
from routecheck.performance.speeds import tas_kt
from routecheck.vertical.profile import plausible_altitude_ft

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

BANK = Limit(
    "bank_deg",
    25.0,
    "°",
    OWN_CHOICE,
    lowest=5.0,
    highest=45.0,
    why="as for initial approach; 15° en route (ICAO Doc 8168 Vol II, Table I-2-3-1)",
)
SHARE = Limit("doubtful_share", 0.5, "of both turns' anticipation", OWN_CHOICE, highest=1.0)
GRAVITY_NM_PER_H2 = 68_625.0
MOST_DEG_PER_S = 3.0
"""Both ICAO Doc 8168 Vol II, I-2-3-2."""
_USUAL_ALTITUDE_FT = 10_000.0


def _lacking_speed(route: Route) -> str:
    return (
        ""
        if any(tas_kt(filed.speed, filed.level) for filed in stretches_with_speed_or_level(route))
        else preconditions.why_no_speed(route)
    )


@check(
    "leg-too-short",
    Weight.DOUBTFUL,
    family=Family.LENGTH,
    sentence="A leg is too short for the turns at its ends at the filed speed.",
    explanation=(
        "A fly-by turn begins r · tan(turn / 2) before the point (r itself beyond 90°), with r = V² / (68,625 · tan "
        "bank), and turns of no more than 3° a second. A leg shorter than half of what the turns at both ends need is "
        "Doubtful, one shorter than the whole a Note. Judged at the filed true airspeed and the bank of the Aircraft "
        "sheet, else 25°; without a speed it is not checked. The turns inside a procedure are believed; where the "
        "route leaves or joins one, its leg is judged at the coded speed limit, if there is one."
    ),
    false_alarms="speeds reduced near terminals; fly-over points.",
    limits=[BANK, SHARE],
    citations=["turn-area"],
    requires=(_lacking_speed,),
    flagged=[case("31S000E 31S002E 31S004E «31S005E» «3102S00505E» 33S005E 33S006E", speed="N0480", level="F350")],
    quiet=[
        case("31S000E 31S002E 3055S00205E 31S004E 31S006E", speed="N0120", level="F080"),
        case("LENDU DCT PIKAR UM12 TOVIK", speed="N0480", level="F350"),
        case("LENDU1 LENDU DCT SARNO SARNO2", speed="N0480", level="F350", destination_runway="27"),
        "31S000E 31S002E 3055S00201E 3056S00203E 32S002E 31S006E",
    ],
)
def leg_too_short(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    speeds = [kt for filed in filed_stretches(route) for kt in [tas_kt(filed.speed, filed.level)] * len(filed.legs)]
    sheet = route.route_input.sheet
    bank = (sheet.bank_deg if sheet else None) or limit[BANK]
    for index, leg in enumerate(route.legs):
        filed_kt = speeds[index]
        if not leg.distance_nm or not filed_kt or not 0 < index < len(route.legs) - 1:
            continue
        if leg.distance_nm >= 2.0 * _turn_radius_nm(filed_kt, bank):  # no two turns need more
            continue
        speed = _speed_to_judge_kt(route, index, filed_kt)
        if speed is None:
            continue
        radius = _turn_radius_nm(speed, bank)
        needed = _anticipation_nm(route.turns[index], radius)
        if not route.points[index + 1].fly_over:
            needed += _anticipation_nm(route.turns[index + 1], radius)
        if exceeds(needed, leg.distance_nm):
            doubtful = exceeds(limit[SHARE] * needed, leg.distance_nm)
            basis = _Basis(speed, bank, needed)
            yield _finding(route, index, leg.distance_nm, basis, Weight.DOUBTFUL if doubtful else Weight.NOTE)


def _turn_radius_nm(speed_kt: float, bank_deg: float) -> float:
    """The radius of a turn at a bank, or of one of 3° a second where that is wider."""
    banked = speed_kt**2 / (GRAVITY_NM_PER_H2 * math.tan(math.radians(bank_deg)))
    return max(banked, speed_kt / (20.0 * math.pi * MOST_DEG_PER_S))


class _Basis(NamedTuple):
    """How a leg was judged: at which true airspeed and bank, and what its turns need."""

    speed_kt: float
    bank_deg: float
    needed_nm: float


def _speed_to_judge_kt(route: Route, index: int, filed_kt: float) -> float | None:
    """The true airspeed to judge a leg at; None where none is known or the data is believed."""
    leg, ends = route.legs[index], route.points[index : index + 2]
    connection = route.resolved.connections[leg.connection]
    if connection.procedure is None:
        return None if connection.is_straight else filed_kt
    if leg.most_kt is None or all(end.route_point is None for end in ends):
        return None
    return min(filed_kt, air.cas_to_tas_kt(leg.most_kt, _altitude_ft(route, index)))


def _altitude_ft(route: Route, index: int) -> float:
    """The greatest altitude coded at the ends of a leg; 10,000 ft where there is none."""
    coded = [window for at_end in route.windows[index : index + 2] for window in at_end if not window.typed]
    altitudes = [plausible_altitude_ft(window.high_ft or window.low_ft) for window in coded]
    return max((feet for feet in altitudes if feet is not None), default=_USUAL_ALTITUDE_FT)


def _anticipation_nm(turn: Turn | None, radius_nm: float) -> float:
    if turn is None:
        return 0.0
    return radius_nm * math.tan(math.radians(min(abs(turn.turn_deg), 90.0)) / 2.0)


def _finding(route: Route, index: int, length: float, basis: _Basis, weight: Weight) -> Finding:
    start, end = route.points[index], route.points[index + 1]
    message = (
        f"{start.text}–{end.text} is {nm(length)}: the turns at its ends need {nm(basis.needed_nm)} at "
        f"{basis.speed_kt:.0f} kt and {basis.bank_deg:.0f}° of bank."
    )
    facts = (
        Fact("leg", round(length, 1), "NM"),
        Fact("needed", round(basis.needed_nm, 1), "NM"),
        Fact("speed", round(basis.speed_kt), "kt"),
    )
    spans = tuple(dict.fromkeys(spans_of_point(start) + spans_of_point(end)))
    return Finding(spans, message, weight, facts, points=(index, index + 1))
