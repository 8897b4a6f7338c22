"""Check speed-size."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.altitude_queries import (
    FiledStretch,
    level_ten_times,
    spans_of_stretch,
    stretches_with_speed_or_level,
)
from routecheck.checks.catalogue import Family, Limit, Limits, case, check
from routecheck.citations import OWN_CHOICE
from routecheck.formatting import level as level_in_words
from routecheck.model import Fact, Finding, NotChecked, Weight
from routecheck.performance.speed_bounds import (
    USUAL,
    AirSpeed,
    UsualSpeeds,
    air_speed,
    is_flown_by_none,
    sheet_cruise_kt,
)
from routecheck.performance.speeds import mach_of, tas_kt

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import AircraftSheet, Route

SHARE = Limit(
    "sheet_share",
    USUAL.sheet_share,
    "of the sheet's cruising speed",
    OWN_CHOICE,
    highest=0.5,
    why="holds slow and fast cruise",
)
MACH = Limit(
    "most_mach", USUAL.most_mach, "Mach", OWN_CHOICE, highest=1.0, why="only few business jets file more, from memory"
)
CAS = Limit(
    "most_cas_kt",
    USUAL.most_cas_kt,
    "kt indicated",
    OWN_CHOICE,
    highest=500.0,
    why="few airframes bear more, from memory",
)
HIGH_MACH = Limit(
    "least_mach_high",
    USUAL.least_mach_high,
    "Mach above FL310",
    OWN_CHOICE,
    highest=0.7,
    why="the slowest turboprops that go there, from memory",
)
MIDDLE_CAS = Limit(
    "least_cas_middle_kt", USUAL.least_cas_middle_kt, "kt indicated above FL180", OWN_CHOICE, highest=250.0
)
LOW_CAS = Limit("least_cas_low_kt", USUAL.least_cas_low_kt, "kt indicated", OWN_CHOICE, highest=150.0)


@check(
    "speed-size",
    Weight.WRONG,
    family=Family.ALTITUDES,
    sentence="A filed speed is flown by no civil aircraft at its level, or is not that of the sheet's aircraft.",
    explanation=(
        "Wrong beyond the speed of sound, above 500 kt indicated, below 90 kt indicated above FL250 and 60 above "
        "FL180: no time and no fuel is given from such a speed. Else Doubtful: with an Aircraft sheet off its cruise "
        "at that level by more than the share, without one beyond what aircraft fly there. Below half the ceiling a "
        "sheet says nothing against a slow flight. Where ten times the level is what the speed fits, level-size speaks."
    ),
    false_alarms="military aircraft, helicopters up high, a sheet of another aircraft.",
    limits=[SHARE, MACH, CAS, HIGH_MACH, MIDDLE_CAS, LOW_CAS],
    requires=(preconditions.lacking_speed,),
    flagged=[
        "«N0045F350» LENDU DCT PIKAR",
        "«N4500F350» LENDU DCT PIKAR",
        "«M820F330» LENDU DCT PIKAR",
        "N0450F350 LENDU/«N0830F350» DCT PIKAR",
        "«K0450F350» LENDU DCT PIKAR",
        "«N0540F350» LENDU DCT PIKAR",
        case("«N0340F350» LENDU DCT PIKAR", aircraft_sheet="Medium jet"),
        case("LENDU DCT PIKAR", speed="N9999", level="F310", whole=True),
    ],
    quiet=[
        "N0490F280 LENDU/N0430F410 DCT PIKAR/M086F280",
        "N0250F270 LENDU/N0330F180 DCT PIKAR/N0290F310",
        "N0100A120 LENDU/N0200A040 DCT PIKAR",
        "N0340F350 LENDU DCT PIKAR",
        "K0830S1130 LENDU DCT PIKAR",
        case("N0490F350 LENDU DCT PIKAR/N0280A080", aircraft_sheet="Medium jet"),
        case("N0110A060 LENDU DCT PIKAR", aircraft_sheet="Piston single"),
    ],
)
def speed_size(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    usual, sheet = _usual_speeds(limit), route.route_input.sheet
    for filed in stretches_with_speed_or_level(route):
        if not filed.speed or level_ten_times(route, filed):
            continue
        flown = air_speed(filed.speed, filed.level)
        if is_flown_by_none(filed.speed, filed.level):
            yield _finding(route, filed, flown, "no civil aircraft flies that", Weight.WRONG)
        elif flown is None:
            yield NotChecked(spans_of_stretch(route, filed), "the level at which the speed is flown is not known")
        elif not usual.hold(flown, sheet):
            yield _finding(route, filed, flown, _speed_compared_with(sheet, flown.feet), Weight.DOUBTFUL)


def _usual_speeds(limit: Limits) -> UsualSpeeds:
    return UsualSpeeds(
        sheet_share=limit[SHARE],
        most_mach=limit[MACH],
        most_cas_kt=limit[CAS],
        least_mach_high=limit[HIGH_MACH],
        least_cas_middle_kt=limit[MIDDLE_CAS],
        least_cas_low_kt=limit[LOW_CAS],
    )


def _speed_compared_with(sheet: AircraftSheet | None, feet: float) -> str:
    """Against what a speed is unusual."""
    cruise_kt = sheet_cruise_kt(sheet, feet) if sheet else None
    if sheet is None or cruise_kt is None:
        return "few aircraft fly that"
    return f"the sheet “{sheet.name}” cruises there at {cruise_kt:.0f} kt"


def _finding(route: Route, filed: FiledStretch, flown: AirSpeed | None, against: str, weight: Weight) -> Finding:
    at = f" at {level_in_words(filed.level)}" if flown else ""
    message = f"{filed.speed}{at} is {_in_words(filed, flown)}: {against}."
    facts = flown and (Fact("true airspeed", round(flown.tas_kt), "kt"), Fact("Mach", round(flown.mach, 2)))
    return Finding(spans_of_stretch(route, filed), message, weight, facts or (), points=(filed.legs[0],))


def _in_words(filed: FiledStretch, flown: AirSpeed | None) -> str:
    """A speed as a reader sees at once what is wrong with it."""
    if flown is None:
        mach = mach_of(filed.speed)
        return f"Mach {mach:.2f}" if mach is not None else f"{tas_kt(filed.speed, '') or 0.0:,.0f} kt"
    indicated = f", {flown.cas_kt:.0f} kt indicated" if flown.mach < 1.0 else ""
    return f"{flown.tas_kt:,.0f} kt true, Mach {flown.mach:.2f}{indicated}"
