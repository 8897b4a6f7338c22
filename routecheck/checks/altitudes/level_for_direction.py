"""Check level-for-direction."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.altitude_queries import FiledStretch, spans_of_stretch, stretches_with_speed_or_level
from routecheck.checks.catalogue import Family, Limit, Limits, case, check, exceeds
from routecheck.citations import OWN_CHOICE
from routecheck.earth.geo import wrap180
from routecheck.formatting import level, listing, nm
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Fact, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Leg, Route

FIRST_HALF = Limit(
    "first_half_from_deg",
    0.0,
    "°M",
    "cruising-levels",
    highest=359.0,
    why="where the half with FL310, FL330 … begins, for states that divide otherwise",
)
SHARE = Limit("share", 0.5, "of the way at that level", OWN_CHOICE, lowest=0.1, highest=1.0)
MARGIN = Limit("margin_deg", 2.0, "°", OWN_CHOICE, highest=20.0, why="tracks so near the border count for neither half")
_POLAR_DEG = 70.0
"""Beyond it, where grid tracks may be flown, nothing is judged: our choice."""
_LEVEL_FORM = re.compile(r"[FA](\d{3})")
_METRIC = re.compile(r"[SM]\d{4}")
_RVSM, _RVSM_TOP, _VFR_LOWEST, _VFR_TOP = range(290, 411), 410, 35, 285


def _stretches_with_half(route: Route) -> list[tuple[FiledStretch, int]]:
    """The stretches whose level belongs to one half of the directions, each with its half."""
    rules = route.route_input.rules
    return [
        (filed, half) for filed in stretches_with_speed_or_level(route) if (half := _half_of_level(filed.level, rules))
    ]


def _lacking_directed_level(route: Route) -> str:
    if _stretches_with_half(route):
        return ""
    if any(_METRIC.fullmatch(filed.level) for filed in stretches_with_speed_or_level(route)):
        return "only metric levels are filed: which half they belong to goes by tables of states that are not held here"
    why = preconditions.why_no_level(route)
    return f"{why} that the tables of cruising levels divide by direction" if why == preconditions.NO_LEVEL else why


@check(
    "level-for-direction",
    Weight.DOUBTFUL,
    family=Family.ALTITUDES,
    sentence="The filed level is meant for the other direction, for most of the way flown at it.",
    explanation=(
        "Magnetic tracks 000°–179° have FL310, FL330 and so on, 180°–359° FL300, FL320 and so on; levels halfway are "
        "those of VFR. Judged over all legs at the level; tracks near the border count for neither half. Doubtful "
        "where all that is filed from FL290 to FL410 runs in the other half, else a Note. Where a state divides "
        "otherwise, set where its first half begins."
    ),
    false_alarms="in controlled airspace the level is as assigned; national tables; one-way airways; polar tracks.",
    limits=[FIRST_HALF, SHARE, MARGIN],
    citations=["cruising-levels"],
    requires=(_lacking_directed_level,),
    flagged=[
        case("«N0450F360» 31S001E 31S004E 31S006E"),
        case("31S006E 31S004E 31S001E", departure="XVOR", destination="XVAL", level="F350", whole=True),
        case("N0120F075 31S001E/«N0120F085» 31S004E 31S006E", departure="", destination=""),
        case("«N0450F430» 31S001E 31S004E 31S006E"),
    ],
    quiet=[
        "N0450F350 31S001E 31S004E 31S006E",
        case("N0450F360 31S006E 31S004E 31S001E", departure="XVOR", destination="XVAL"),
        "N0450F450 31S001E 31S004E 31S006E",
        "N0120F055 31S001E 31S004E 31S006E",
        "N0450F350 31S001E/N0450F370 31S004E 31S006E",
        "31S001E 31S004E 31S006E",
        "K0830S1130 31S001E 31S004E 31S006E",
        "N0120VFR 31S001E 31S004E 31S006E",
    ],
)
def level_for_direction(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    ways = [(filed, _way_by_half(route, filed, half, limit)) for filed, half in _stretches_with_half(route)]
    high = [way for filed, way in ways if _number(filed.level) in _RVSM and filed.level.startswith("F")]
    all_wrong = not any(way.own_cruise_nm for way in high)
    for filed, way in ways:
        if way.whole_nm <= 0.0:
            yield NotChecked(
                spans_of_stretch(route, filed), f"no magnetic track is known for the way at {level(filed.level)}"
            )
        elif exceeds(way.other_nm / way.whole_nm, limit[SHARE]):
            yield _finding(route, filed, way, limit, Weight.DOUBTFUL if way in high and all_wrong else Weight.NOTE)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Way:
    """How far a level is flown: in all, in the other half than the one it is meant for, and the cruise in its own.

    What a procedure codes is climb or descent, no cruise.
    """

    half: int
    whole_nm: float
    other_nm: float
    own_cruise_nm: float


def _way_by_half(route: Route, filed: FiledStretch, half: int, limit: Limits) -> _Way:
    way_nm, own_cruise_nm = [0.0, 0.0, 0.0], 0.0  # in neither half for sure, in the first, in the second
    for leg in (route.legs[index] for index in filed.legs if not _is_polar(route, index)):
        length_nm, runs_in = leg.distance_nm or 0.0, _half_of_track(leg, limit)
        way_nm[runs_in] += length_nm
        if runs_in == half and route.resolved.connections[leg.connection].procedure is None:
            own_cruise_nm += length_nm
    return _Way(half=half, whole_nm=sum(way_nm), other_nm=way_nm[3 - half], own_cruise_nm=own_cruise_nm)


def _number(filed: str) -> int:
    """The level in hundreds of feet; 0 where it has another form."""
    match = _LEVEL_FORM.fullmatch(filed)
    return int(match[1]) if match else 0


def _half_of_level(filed: str, rules: str) -> int:
    """1 or 2, the half whose level it is; 0 where the tables do not say."""
    number = _number(filed)
    if number % 10 == 5:
        return (2, 1)[number // 10 % 2] if _VFR_LOWEST <= number <= _VFR_TOP else 0
    if not number or number % 10 or rules == "V":
        return 0
    if number <= _RVSM_TOP:
        return (2, 1)[number // 10 % 2]
    return {30: 2, 10: 1}.get((number - 400) % 40, 0)


def _right_levels(filed: str, rules: str) -> str:
    """A sentence that names the next levels below and above that are of the other half; "" where there is none."""
    half, number = _half_of_level(filed, rules), _number(filed)
    other = [filed[0] + f"{n:03d}" for n in range(number - 20, number + 21) if 0 < n < 1000]
    fitting = [one for one in other if _half_of_level(one, rules) == 3 - half and (_number(one) - number) % 10 == 0]
    below = [one for one in fitting if _number(one) < number][-1:]
    above = [one for one in fitting if _number(one) > number][:1]
    names = [level(one) for one in below + above]
    return f"That way the levels near it are {listing(names)}. " if names else ""


def _half_of_track(leg: Leg, limit: Limits) -> int:
    """1 or 2, the half in which a leg runs; 0 where that is not sure."""
    start, end = leg.course_magnetic_deg, leg.end_course_magnetic_deg
    if start is None or end is None:
        return 0
    past = (start + wrap180(end - start) / 2.0 - limit[FIRST_HALF]) % 360.0
    if min(past % 180.0, 180.0 - past % 180.0) <= limit[MARGIN]:
        return 0
    return 1 if past < 180.0 else 2


def _is_polar(route: Route, leg: int) -> bool:
    if route.legs[leg].course_magnetic_deg is None:
        return True
    start, end = route.points[leg].place, route.points[leg + 1].place
    return bool(start and abs(start.lat) > _POLAR_DEG) or bool(end and abs(end.lat) > _POLAR_DEG)


def _finding(route: Route, filed: FiledStretch, way: _Way, limit: Limits, weight: Weight) -> Finding:
    begins = round(limit[FIRST_HALF])
    halves = [f"{a % 360:03d}°–{(a + 179) % 360:03d}°M" for a in (begins, begins + 180)]
    whole, part = nm(way.whole_nm), nm(way.other_nm)
    message = (
        f"{level(filed.level)} is meant for tracks {halves[way.half - 1]}, and "
        f"{f'all {whole}' if part == whole else f'{part} of the {whole}'} filed at it run {halves[2 - way.half]}. "
        f"{_right_levels(filed.level, route.route_input.rules)}In controlled airspace the level is as assigned."
    )
    facts = Fact("in the other half", round(way.other_nm, 1), "NM"), Fact("at this level", round(way.whole_nm, 1), "NM")
    return Finding(spans_of_stretch(route, filed), message, weight, facts, points=(filed.legs[0],))
