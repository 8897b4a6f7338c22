"""Check speed-limit."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.altitude_queries import FiledStretch, spans_of_stretch, stretches_with_speed_or_level
from routecheck.checks.catalogue import Family, Limit, Limits, case, check, exceeds
from routecheck.checks.route_queries import is_us_region, spans_of_connection
from routecheck.citations import OWN_CHOICE
from routecheck.earth import air
from routecheck.formatting import level
from routecheck.model import FIELDS, Fact, Finding, NotChecked, Place, PlaceKind, Weight
from routecheck.performance.speeds import tas_kt
from routecheck.vertical.profile import plausible_altitude_ft

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Route

MOST = Limit("most_kt", 250.0, "kt indicated", "speed-below-10000", lowest=100.0, highest=500.0)
BELOW = Limit("below_ft", 10_000.0, "ft", "speed-below-10000", highest=20_000.0)
WARM = Limit(
    "doubt_share",
    0.03,
    "of the speed",
    OWN_CHOICE,
    highest=0.2,
    why="what 15° off the standard temperature makes of it",
)
_US_AIRPORT = re.compile(r"K[A-Z]{3}|P[AHO][A-Z]{2}|(?=.*\d)[A-Z0-9]{3,4}")

_US = {"departure": "KPHL", "destination": "KBOS"}


def _stretches_with_speed_and_level(route: Route) -> list[FiledStretch]:
    """The stretches with both a speed and a level."""
    return [filed for filed in stretches_with_speed_or_level(route) if filed.speed and filed.level]


def _lacking_speed_and_level(route: Route) -> str:
    if _stretches_with_speed_and_level(route):
        return ""
    return preconditions.why_unread(route, "speed", "level") or "no speed and level are filed"


@check(
    "speed-limit",
    Weight.NOTE,
    family=Family.ALTITUDES,
    sentence=(
        "The filed speed is more than 250 kt indicated below 10,000 ft, or more than a procedure allows right there."
    ),
    explanation=(
        "The true airspeed is turned into an indicated one in the standard atmosphere, give or take 3 % for the "
        "temperature. In the United States that holds in every class of airspace, and lower limits near airports are "
        "not looked at; "
        "elsewhere it goes by the class of airspace, which is not known here. A coded limit is held against a speed "
        "that is filed at a point where it is in force; what is filed before is the speed of the cruise, and slowing "
        "down is left to the crew."
    ),
    false_alarms="a minimum safe speed above 250 kt; waivers.",
    limits=[MOST, BELOW, WARM],
    citations=["speed-below-10000", "airspace-classes", "arinc-424"],
    requires=(_lacking_speed_and_level,),
    flagged=[
        case("«N0330A080» DCT", **_US),
        case("N0430F240 4100N07300W/«N0320F090» DCT", **_US),
        case("DCT", speed="M055", level="A080", whole=True, **_US),
        case("HUNSA DCT TAMPU/«N0300A060» «SARNO2»", destination_runway="09"),
    ],
    quiet=[
        case("N0280A080 DCT", **_US),
        case("N0285A080 DCT", **_US),
        case("N0450F100 DCT", **_US),
        "N0330A080 LENDU DCT PIKAR",
        case("HUNSA DCT TAMPU/N0220A040 SARNO2", destination_runway="09"),
        case("N0450F350 LENDU DCT SARNO/N0330F120 SARNO2", destination_runway="09"),
        "LENDU DCT PIKAR",
    ],
)
def speed_limit(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    flown = _stretches_with_speed_and_level(route)
    low = [(filed, speed) for filed in flown if (speed := _indicated_kt(filed, limit)) is not None]
    fast = [(filed, kt) for filed, kt in low if exceeds(kt, limit[MOST], limit[WARM] * kt)]
    for filed, kt in fast:
        if _in_the_united_states(route):
            yield _finding(route, filed, kt, limit)
        else:
            because = "the limit below 10,000 ft goes by the class of airspace, which is not known"
            yield NotChecked(spans_of_stretch(route, filed), because)
    yield from _beyond_coded_limit(route, flown, limit)


def _beyond_coded_limit(route: Route, flown: Sequence[FiledStretch], limit: Limits) -> Iterator[Finding]:
    """Findings for the speeds that are filed at a point where a lower coded limit is in force."""
    for filed in flown:
        leg = route.legs[filed.legs[0]]
        feet, tas = plausible_altitude_ft(filed.level_ft), tas_kt(filed.speed, filed.level)
        if leg.most_kt is None or filed.word is None or filed.legs[0] == 0 or feet is None or tas is None:
            continue
        kt = air.tas_to_cas_kt(tas, feet)
        if exceeds(kt, leg.most_kt, limit[WARM] * kt):
            message = (
                f"{filed.speed} at {level(filed.level)} is about {kt:.0f} kt indicated; {leg.via} allows "
                f"{leg.most_kt:.0f} kt from {route.points[filed.legs[0]].text} on."
            )
            facts = Fact("indicated", round(kt), "kt"), Fact("coded limit", round(leg.most_kt), "kt")
            connection = route.resolved.connections[leg.connection]
            spans = tuple(sorted({*spans_of_stretch(route, filed), *spans_of_connection(route, connection)}))
            yield Finding(spans, message, Weight.NOTE, facts, points=(filed.legs[0],))


def _indicated_kt(filed: FiledStretch, limit: Limits) -> float | None:
    """The indicated airspeed of a stretch below the altitude of the rule; None above it or where it is not known."""
    feet, tas = filed.level_ft, tas_kt(filed.speed, filed.level)
    if feet is None or tas is None or not exceeds(limit[BELOW], feet):
        return None
    return air.tas_to_cas_kt(tas, feet)


def _in_the_united_states(route: Route) -> bool:
    """Whether every place of which that can be said lies there, and there is one."""
    answers = [_is_american(point.place) for point in route.points if point.place]
    known = [answer for answer in answers if answer is not None]
    return bool(known) and all(known)


def _is_american(place: Place) -> bool | None:
    if place.region:
        return is_us_region(place.region)
    ident = place.ident if place.kind is PlaceKind.AIRPORT else place.airport
    return bool(_US_AIRPORT.fullmatch(ident)) if place.kind in FIELDS else None


def _finding(route: Route, filed: FiledStretch, kt: float, limit: Limits) -> Finding:
    message = (
        f"{filed.speed} at {level(filed.level)} is about {kt:.0f} kt indicated; below {limit[BELOW]:,.0f} ft "
        f"{limit[MOST]:.0f} kt is the limit in the United States."
    )
    facts = (Fact("indicated", round(kt), "kt"),)
    return Finding(spans_of_stretch(route, filed), message, Weight.NOTE, facts, points=(filed.legs[0],))
