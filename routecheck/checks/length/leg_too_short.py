"""Check leg-too-short."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import UNKNOWN, Limit, Limits, case, check, exceeds
from routecheck.checks.sight import spans_of_point
from routecheck.model import Fact, Finding, Joint, NotChecked, Weight
from routecheck.reckon.speeds import in_force, tas_kt
from routecheck.wording import nm

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

BANK = Limit("bank_deg", 25.0, "°", "turn-area", lowest=5.0, highest=45.0)
SHARE = Limit("doubtful_share", 0.5, "of both turns' anticipation", highest=1.0)
GRAVITY_NM_PER_H2 = 68_625.0
"""ICAO Doc 8168 Vol II I-2-3-2."""


@check(
    "leg-too-short",
    Weight.DOUBTFUL,
    limits=[BANK, SHARE],
    citations=["turn-area"],
    yields_to=(
        *UNKNOWN,
        "position-disagrees",
        "repeated-point",
        "best-edit",
        "no-length",
        "dogleg",
        "doubling-back",
        "sharp-turn",
    ),
    fires=[case("31S000E 31S002E 31S004E «31S005E» «3102S00505E» 33S005E 33S006E", speed="N0480", level="F350")],
    clean=[
        case("31S000E 31S002E 3055S00205E 31S004E 31S006E", speed="N0120", level="F080"),
        case("LENDU DCT PIKAR UM12 TOVIK", speed="N0480", level="F350"),
        "31S000E 31S002E 3055S00201E 3056S00203E 32S002E 31S006E",
    ],
)
def leg_too_short(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    """A leg is too short for the turns at its ends at the filed speed.

    A fly-by turn begins r · tan(turn / 2) before the point (r itself beyond 90°), r = V² / (68,625 · tan bank). A leg
    shorter than half of what the turns at both ends need is Doubtful, one shorter than the whole a Note. Judged at the
    filed true airspeed and 25° of bank; without a speed it is not checked.
    Known false alarms: speeds reduced near terminals; fly-over points.
    Source: ICAO Doc 8168 Vol II, I-2-3-2 and III-2-1.
    """
    speeds = [tas_kt(speed, level) for speed, level in in_force(route)]
    if not any(speeds):
        yield NotChecked((), "no speed is filed")
        return
    for index, leg in enumerate(route.legs):
        speed = speeds[index]
        if speed is None or not leg.distance_nm or not 0 < index < len(route.legs) - 1:
            continue
        radius = speed**2 / (GRAVITY_NM_PER_H2 * math.tan(math.radians(limit[BANK])))
        needed = sum(_anticipation(joint, radius) for joint in route.joints[index : index + 2])
        if exceeds(needed, leg.distance_nm):
            doubtful = exceeds(limit[SHARE] * needed, leg.distance_nm)
            yield _finding(route, index, leg.distance_nm, needed, speed, Weight.DOUBTFUL if doubtful else Weight.NOTE)


def _anticipation(joint: Joint | None, radius_nm: float) -> float:
    if joint is None:
        return 0.0
    return radius_nm * math.tan(math.radians(min(abs(joint.turn_deg), 90.0)) / 2.0)


def _finding(route: Route, index: int, length: float, needed: float, speed: float, weight: Weight) -> Finding:
    start, end = route.points[index], route.points[index + 1]
    message = (
        f"{start.text}–{end.text} is {nm(length)}: the turns at its ends need {nm(needed)} at {speed:.0f} kt "
        "and 25° of bank."
    )
    facts = (
        Fact("leg", round(length, 1), "NM"),
        Fact("needed", round(needed, 1), "NM"),
        Fact("speed", round(speed), "kt"),
    )
    spans = tuple(dict.fromkeys(spans_of_point(start) + spans_of_point(end)))
    return Finding(spans, message, weight, facts, points=(index, index + 1))
