"""Check windows-conflict."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.altitude_queries import (
    allowed_in_words,
    distance_doubt_nm,
    is_coded_in_one_procedure,
    missing_sheet,
    pair_facts,
    spans_of_points,
    unplaced_windows,
    weight_by_sheet,
)
from routecheck.checks.catalogue import Family, Limits, case, check, exceeds
from routecheck.formatting import distinct_figures, nm
from routecheck.model import AltitudeWindow, Finding, NotChecked, Weight
from routecheck.vertical.room import Bounds, Gradients, WindowPair, find_room
from routecheck.vertical.windows import altitude_bounds, greatest_gradients, unbroken_lengths_nm

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Route

_ROUTE = "LENDU DCT PIKAR UM12 TOVIK DCT SARNO DCT {} DCT {}"
_JET = "Medium jet"


@check(
    "windows-conflict",
    Weight.WRONG,
    family=Family.ALTITUDES,
    sentence=(
        "Two altitude windows on the way cannot both be kept: no aircraft of this sheet climbs or descends so steeply."
    ),
    explanation=(
        "The room of altitudes is carried forward and backward at the greatest gradients of the Aircraft sheet and cut "
        "by every window; where it is empty, the two windows that bind are named. After a gap or a leg without a fixed "
        "end any altitude is possible. Wrong beside the user's own sheet; Doubtful with typical figures, or against "
        "the elevation of an aerodrome (the way flown there may be longer)."
    ),
    false_alarms="a hold or a turn in between that the route does not show.",
    citations=["altitude-rules"],
    requires=(preconditions.lacking_windows,),
    flagged=[
        case(
            _ROUTE.format("«KEBUL»", "«RIPAS»"),
            windows=(AltitudeWindow("KEBUL", 24_000, None), AltitudeWindow("RIPAS", None, 6_000)),
            aircraft_sheet=_JET,
        ),
        case(
            "«3100S00100E» «3106S00100E» 31S004E",
            windows=(AltitudeWindow("3100S00100E", None, 3_000), AltitudeWindow("3106S00100E", 9_000, 9_000)),
            aircraft_sheet=_JET,
        ),
        case("31S002E «3110S00800E»", windows=(AltitudeWindow("3110S00800E", 41_000, None),), aircraft_sheet=_JET),
    ],
    quiet=[
        case(
            _ROUTE.format("KEBUL", "RIPAS"),
            windows=(AltitudeWindow("KEBUL", 11_000, None), AltitudeWindow("RIPAS", None, 6_000)),
            aircraft_sheet=_JET,
        ),
        case(
            "3100S00100E 3106S00100E 31S004E",
            windows=(AltitudeWindow("3100S00100E", None, 3_000), AltitudeWindow("3106S00100E", 6_200, None)),
            aircraft_sheet=_JET,
        ),
        case("LENDU DCT PIKAR", windows=(AltitudeWindow("LENDU", 11_000, None), AltitudeWindow("PIKAR", None, 6_000))),
        case("LENDU DCT PIKAR", aircraft_sheet=_JET),
    ],
)
def windows_conflict(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    yield from unplaced_windows(route)
    greatest = greatest_gradients(route)
    if not route.windows:
        return
    if greatest is None:
        yield NotChecked((), missing_sheet(route) or "the Aircraft sheet gives no greatest gradients")
        return
    allowed = altitude_bounds(route)
    for pair in find_room(unbroken_lengths_nm(route), allowed, greatest).conflicts:
        if not is_coded_in_one_procedure(route, pair.first, pair.last) and _is_sure(route, pair, greatest):
            yield _finding(route, pair, allowed, greatest)


def _is_sure(route: Route, pair: WindowPair, greatest: Gradients) -> bool:
    """Whether it conflicts however the typed positions were rounded."""
    most_ft_nm = greatest.climb_ft_nm if pair.climbs else greatest.descent_ft_nm
    change = abs(pair.last_ft - pair.first_ft)
    return exceeds(change, most_ft_nm * pair.distance_nm, most_ft_nm * distance_doubt_nm(route, pair))


def _finding(route: Route, pair: WindowPair, allowed: Sequence[Bounds], greatest: Gradients) -> Finding:
    first, last = (allowed_in_words(route, i, allowed[i]) for i in (pair.first, pair.last))
    apart = f" {nm(pair.distance_nm)} later" if pair.distance_nm > 0 else " on the same spot"
    way, most_ft_nm = ("up", greatest.climb_ft_nm) if pair.climbs else ("down", greatest.descent_ft_nm)
    needed, most = distinct_figures(pair.needed_ft_nm, most_ft_nm)
    needs = f"needs {needed} ft/NM {way}; " if pair.distance_nm > 0 else ""
    message = f"{first}, then {last}{apart}: {needs}this sheet's steepest is {most}."
    fields = {0, len(route.points) - 1} & {pair.first, pair.last}
    weight = Weight.DOUBTFUL if fields else weight_by_sheet(route, Weight.WRONG)
    spans = spans_of_points(route, pair.first, pair.last)
    return Finding(spans, message, weight, pair_facts(pair), points=(pair.first, pair.last))
