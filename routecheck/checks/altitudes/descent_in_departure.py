"""Check descent-in-departure."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.altitude_queries import (
    allowed_altitudes,
    allowed_in_words,
    departure_and_arrival,
    has_windows_to_question,
    is_coded_in_one_procedure,
    knows_departure_and_arrival,
    rising_pairs,
    spans_of_points,
    unplaced_windows,
    weight_by_sheet,
)
from routecheck.checks.catalogue import Family, Limits, case, check
from routecheck.model import AltitudeWindow, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

_ROUTE = "N0450F350 {} {} 31S002E 31S006E"
_FIRST, _SECOND = "3140S00300W", "3138S00200W"


@check(
    "descent-in-departure",
    Weight.WRONG,
    family=Family.ALTITUDES,
    sentence=(
        "In the departure a point must be passed lower than one before it, so that the aircraft would have to descend."
    ),
    explanation=(
        "The departure is the SID, or the first 3 NM for every 1,000 ft of the filed level. Of 2,197 ways through the "
        "published U.S. departures (cycle 2301: one runway branch, common part and transition each, with two altitude "
        "windows or more) none asks for a descent. Wrong beside the user's own Aircraft sheet, else Doubtful."
    ),
    false_alarms="a flight between two fields so near that it is arrival already.",
    citations=["departure-altitudes", "rule-of-three"],
    requires=(preconditions.lacking_windows,),
    flagged=[
        case(
            _ROUTE.format(f"«{_FIRST}»", f"«{_SECOND}»"),
            windows=(AltitudeWindow(_FIRST, 9_000, None), AltitudeWindow(_SECOND, None, 8_000)),
        )
    ],
    quiet=[
        case(
            _ROUTE.format(_FIRST, _SECOND),
            windows=(AltitudeWindow(_FIRST, 9_000, None), AltitudeWindow(_SECOND, None, 9_000)),
        ),
        case(
            _ROUTE.format(_FIRST, _SECOND),
            windows=(AltitudeWindow(_FIRST, 9_000, None), AltitudeWindow("31S006E", None, 8_000)),
        ),
        case("LENDU DCT PIKAR", windows=(AltitudeWindow("LENDU", 9_000, None), AltitudeWindow("PIKAR", None, 8_000))),
        "N0450F350 LENDU DCT PIKAR",
    ],
)
def descent_in_departure(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    yield from unplaced_windows(route)
    if not route.windows or (knows_departure_and_arrival(route) and not has_windows_to_question(route)):
        return
    ends = departure_and_arrival(route)
    if ends is None:
        yield NotChecked((), "neither a SID nor a level is filed: where the departure ends is not known")
        return
    windows = allowed_altitudes(route)
    for last, first in rising_pairs(windows, range(ends[0], -1, -1)):
        if not is_coded_in_one_procedure(route, first, last):
            one, other = (allowed_in_words(route, index, windows[index]) for index in (first, last))
            message = f"{one}, then {other}: the departure would have to descend."
            spans = spans_of_points(route, first, last)
            yield Finding(spans, message, weight_by_sheet(route, Weight.WRONG), points=(first, last))
