"""Check level-unknown."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.checks.altitude_queries import (
    FiledStretch,
    spans_of_stretch,
    stretches_with_speed_or_level,
    transition_altitude_ft,
)
from routecheck.checks.catalogue import Family, Limits, case, check, exceeds
from routecheck.checks.route_queries import kinds_of_words
from routecheck.model import Finding, NotChecked, Weight, WordKind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

_RVSM_TOP, _VFR_TOP = 410, 285
_ONE_LEVEL = re.compile(r"[FA]\d{3}")


def _has_level(route: Route) -> bool:
    return bool(route.route_input.level) or WordKind.CHANGE in kinds_of_words(route)


@check(
    "level-unknown",
    Weight.DOUBTFUL,
    family=Family.READING,
    sentence="A level is in no table of cruising levels, or a flight level where altitudes are flown, or the reverse.",
    explanation=(
        "The tables have whole tens up to FL410, then 430, 450, 470 and so on; levels halfway (FL085) are for VFR "
        "below FL290 (above FL195 from memory). Below the transition altitude of the aerodrome an altitude is filed "
        "(A170), above it a flight level; where the data has none that is not judged. Metric levels are read as such "
        "and left alone."
    ),
    false_alarms="block levels and test flights; a level assigned in between.",
    citations=["cruising-levels", "field-15"],
    applies_to=_has_level,
    flagged=[
        "«N0430F385» LENDU DCT PIKAR",
        "N0430F350 LENDU/«N0430F420» DCT PIKAR",
        case("LENDU DCT PIKAR", level="F383", whole=True),
        "«N0250F170» LENDU DCT PIKAR",
        "«N0430A350» LENDU DCT PIKAR",
    ],
    quiet=[
        "N0430F410 LENDU/N0430F430 DCT PIKAR/N0430F290",
        case("N0120F085 LENDU DCT PIKAR", departure="EDDF", destination="EDDM"),
        "N0120A085 LENDU DCT PIKAR/N0250F180 DCT SARNO/N0120A180",
        "K0830S1130 LENDU DCT PIKAR/N0284A045",
        "N0430VFR LENDU DCT PIKAR",
    ],
)
def level_unknown(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    for filed in stretches_with_speed_or_level(route):
        unknown = [level for level in re.findall(r"F\d{3}", filed.level) if not _is_in_table(level)]
        message = f"FL{unknown[0][1:]} is in no table of cruising levels." if unknown else _wrong_side(route, filed)
        if message:
            yield Finding(spans_of_stretch(route, filed), message, Weight.DOUBTFUL)


def _is_in_table(level: str) -> bool:
    number = int(level[1:])
    if number % 10:
        return number % 5 == 0 and number <= _VFR_TOP
    return number <= _RVSM_TOP or number % 20 == 10


def _wrong_side(route: Route, filed: FiledStretch) -> str:
    """What to say of a flight level below the transition altitude, or an altitude above it; "" = nothing."""
    transition_ft, feet = transition_altitude_ft(route, filed), filed.level_ft
    if transition_ft is None or feet is None or not _ONE_LEVEL.fullmatch(filed.level):
        return ""
    if filed.level[0] == "F" and exceeds(transition_ft, feet):
        flown, letter = "below it altitudes are flown", "A"
    elif filed.level[0] == "A" and exceeds(feet, transition_ft):
        flown, letter = "above it flight levels are flown", "F"
    else:
        return ""
    return (
        f"{filed.level} is filed where the transition altitude is {transition_ft:,.0f} ft: {flown}, "
        f"as {letter}{filed.level[1:]}."
    )
