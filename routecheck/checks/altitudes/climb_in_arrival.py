"""Check climb-in-arrival."""

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

_ROUTE = "N0450F350 LENDU DCT PIKAR UM12 TOVIK DCT SARNO DCT {} DCT {}"


@check(
    "climb-in-arrival",
    Weight.WRONG,
    family=Family.ALTITUDES,
    sentence=(
        "In the arrival a point must be passed higher than one before it, so that the aircraft would have to climb."
    ),
    explanation=(
        "The arrival is the STAR, or the last 3 NM for every 1,000 ft of the filed level. Of 4,991 ways through the "
        "published U.S. arrivals (cycle 2301: one transition, common part and runway branch each, with two altitude "
        "windows or more) none asks for a climb. Wrong beside the user's own Aircraft sheet, else Doubtful."
    ),
    false_alarms="a low pass or a diversion that was planned so.",
    citations=["altitude-rules", "rule-of-three"],
    requires=(preconditions.lacking_windows,),
    flagged=[
        case(
            _ROUTE.format("«KEBUL»", "«RIPAS»"),
            windows=(AltitudeWindow("KEBUL", None, 9_000), AltitudeWindow("RIPAS", 10_000, 12_000)),
        )
    ],
    quiet=[
        case(
            _ROUTE.format("KEBUL", "RIPAS"),
            windows=(AltitudeWindow("KEBUL", 9_000, None), AltitudeWindow("RIPAS", 9_000, 12_000)),
        ),
        case(
            _ROUTE.format("KEBUL", "RIPAS"),
            windows=(AltitudeWindow("LENDU", None, 9_000), AltitudeWindow("RIPAS", 10_000, 12_000)),
        ),
        case("LENDU DCT PIKAR", windows=(AltitudeWindow("LENDU", None, 9_000), AltitudeWindow("PIKAR", 10_000, None))),
        "N0450F350 LENDU DCT PIKAR",
    ],
)
def climb_in_arrival(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    yield from unplaced_windows(route)
    if not route.windows or (knows_departure_and_arrival(route) and not has_windows_to_question(route)):
        return
    ends = departure_and_arrival(route)
    if ends is None:
        yield NotChecked((), "neither a STAR nor a level is filed: where the arrival begins is not known")
        return
    windows = allowed_altitudes(route)
    for first, last in rising_pairs(windows, range(ends[1], len(windows))):
        if not is_coded_in_one_procedure(route, first, last):
            one, other = (allowed_in_words(route, index, windows[index]) for index in (first, last))
            message = f"{one}, then {other}: the arrival would have to climb."
            spans = spans_of_points(route, first, last)
            yield Finding(spans, message, weight_by_sheet(route, Weight.WRONG), points=(first, last))
