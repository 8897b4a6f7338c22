"""Check steep."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.altitude_queries import (
    allowed_altitudes,
    allowed_in_words,
    distance_doubt_nm,
    has_windows_to_question,
    is_coded_in_one_procedure,
    missing_sheet,
    pair_facts,
    spans_of_points,
    unplaced_windows,
)
from routecheck.checks.catalogue import Family, Limit, Limits, case, check, exceeds
from routecheck.citations import OWN_CHOICE
from routecheck.formatting import nm
from routecheck.model import AltitudeWindow, Finding, NotChecked, Weight
from routecheck.vertical.room import WindowPair, steep_pairs, steepest_without_overlap
from routecheck.vertical.windows import greatest_gradients, unbroken_lengths_nm

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Route
    from routecheck.vertical.room import Bounds

NOTE = Limit(
    "note_ft_nm",
    330.0,
    "ft/NM",
    OWN_CHOICE,
    lowest=100,
    highest=1000,
    why="38 of 4,991 ways through published arrivals ask for more",
)
DOUBTFUL = Limit("doubtful_ft_nm", 400.0, "ft/NM", OWN_CHOICE, lowest=100, highest=1000, why="5 of them ask for more")
CLIMB_SHARE = Limit("climb_share", 0.8, "of the sheet's greatest climb", OWN_CHOICE, lowest=0.1, highest=1.0)

_ROUTE = "LENDU DCT PIKAR UM12 TOVIK DCT SARNO DCT {} DCT {}"


@check(
    "steep",
    Weight.DOUBTFUL,
    family=Family.ALTITUDES,
    sentence=(
        "Two altitude windows ask for a steeper descent than nearly all published U.S. arrivals, or for most of what "
        "the Aircraft sheet climbs."
    ),
    explanation=(
        "A descent of more than 330 ft/NM is a Note, of more than 400 Doubtful; a climb of more than 80 % of the "
        "Aircraft sheet's greatest is Doubtful. Of 4,991 ways through the published U.S. arrivals (cycle 2301: one "
        "transition, common part and runway branch each, with two altitude windows or more) 38 ask for more than 330 "
        "ft/NM and 5 of these for more than 400. The elevations of the aerodromes are left out: the way flown there "
        "may be longer."
    ),
    false_alarms="short legs where a few hundred feet are soon made; approaches to fields among mountains.",
    limits=[NOTE, DOUBTFUL, CLIMB_SHARE],
    citations=["descent-gradients"],
    requires=(preconditions.lacking_windows,),
    flagged=[
        case(
            _ROUTE.format("«KEBUL»", "«RIPAS»"),
            windows=(AltitudeWindow("KEBUL", 16_000, None), AltitudeWindow("RIPAS", None, 6_000)),
        ),
        case(
            "«3100S00100E» «3110S00100E» 31S004E",
            windows=(AltitudeWindow("3100S00100E", None, 3_000), AltitudeWindow("3110S00100E", 8_200, None)),
            aircraft_sheet="Medium jet",
        ),
    ],
    quiet=[
        case(
            _ROUTE.format("KEBUL", "RIPAS"),
            windows=(AltitudeWindow("KEBUL", 11_000, None), AltitudeWindow("RIPAS", None, 6_000)),
        ),
        case(
            "3100S00100E 3110S00100E 31S004E",
            windows=(AltitudeWindow("3100S00100E", None, 3_000), AltitudeWindow("3110S00100E", 7_200, None)),
            aircraft_sheet="Medium jet",
        ),
        case(
            "3100S00100E 3110S00100E",
            windows=(AltitudeWindow("3100S00100E", None, 3_000), AltitudeWindow("3110S00100E", 9_000, None)),
        ),
        "LENDU DCT PIKAR",
    ],
)
def steep(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    yield from unplaced_windows(route)
    if not route.windows:
        return
    greatest = greatest_gradients(route)
    if greatest is None:
        yield NotChecked((), f"climbs: {missing_sheet(route) or 'the Aircraft sheet gives no greatest gradients'}")
    if not has_windows_to_question(route):
        return
    climb = limit[CLIMB_SHARE] * greatest.climb_ft_nm if greatest else float("inf")
    windows = allowed_altitudes(route)
    candidates = steep_pairs(unbroken_lengths_nm(route), windows, min(limit[NOTE], climb))
    beyond = [pair for pair in candidates if _is_beyond(route, pair, climb if pair.climbs else limit[NOTE])]
    for pair in steepest_without_overlap(beyond):
        doubtful = pair.climbs or _is_beyond(route, pair, limit[DOUBTFUL])
        yield _finding(route, pair, windows, Weight.DOUBTFUL if doubtful else Weight.NOTE)


def _is_beyond(route: Route, pair: WindowPair, most_ft_nm: float) -> bool:
    """Whether a pair that is questioned at all needs more than this, however the typed positions were rounded."""
    if is_coded_in_one_procedure(route, pair.first, pair.last) or most_ft_nm == float("inf"):
        return False
    change = abs(pair.last_ft - pair.first_ft)
    return exceeds(change, most_ft_nm * pair.distance_nm, most_ft_nm * distance_doubt_nm(route, pair))


def _finding(route: Route, pair: WindowPair, windows: Sequence[Bounds], weight: Weight) -> Finding:
    first, last = (allowed_in_words(route, i, windows[i]) for i in (pair.first, pair.last))
    if pair.distance_nm > 0:
        needs = f"{nm(pair.distance_nm)} later: needs {pair.needed_ft_nm:.0f} ft/NM {'up' if pair.climbs else 'down'}"
    else:
        needs = "on the same spot"
    message = f"{first}, then {last} {needs}."
    spans = spans_of_points(route, pair.first, pair.last)
    return Finding(spans, message, weight, pair_facts(pair), points=(pair.first, pair.last))
