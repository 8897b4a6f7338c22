"""Check equipment-for-route."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.checks.altitude_queries import spans_of_stretch, stretches_with_speed_or_level
from routecheck.checks.catalogue import Family, Limits, case, check
from routecheck.checks.route_queries import spans_of_words
from routecheck.formatting import level, listing
from routecheck.model import Finding, NotChecked, Weight, WordRole

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

_LOWEST_RVSM_FT, _HIGHEST_RVSM_FT = 29_000.0, 41_000.0
# ICAO Annex 11 Appendix 1: the letters of RNAV routes, regional and not; U and S before them change nothing.
_RNAV_ROUTE = re.compile(r"[US]?[LMNPQTYZ]\d{1,3}[A-Z]?")
_AIRWAYS = frozenset({WordRole.AIRWAY, WordRole.UNKNOWN_AIRWAY})


def _lacking_equipment(route: Route) -> str:
    return "" if route.route_input.equipment else "no equipment is stated (Item 10 of a message)"


@check(
    "equipment-for-route",
    Weight.DOUBTFUL,
    family=Family.CLAIMS,
    sentence="A level from FL290 to FL410 is filed without W in Item 10, or an RNAV route without R and PBN/.",
    explanation=(
        "W says that the aircraft may fly where levels are 1,000 ft apart (RVSM), R with PBN/ of Item 18 that it may "
        "fly RNAV routes (R from memory), whose designators begin with L, M, N, P, Q, T, Y or Z. No other "
        "equipment is looked at."
    ),
    false_alarms=(
        "state aircraft without approval for RVSM (STS/NONRVSM); messages of an older form, with other letters."
    ),
    citations=["field-10", "field-18", "designators", "cruising-levels"],
    requires=(_lacking_equipment,),
    flagged=[
        case("«N0430F350» LENDU DCT PIKAR", equipment="SDE2FG"),
        case("LENDU DCT PIKAR «UM12» TOVIK", equipment="SDW", pbn="A1"),
        case("LENDU DCT PIKAR «UM12» TOVIK", equipment="SDRW"),
        case("LENDU DCT PIKAR", equipment="S", level="F290", whole=True),
    ],
    quiet=[
        case("N0430F350 LENDU DCT PIKAR UM12 TOVIK", equipment="SDE2FGRW", pbn="A1B1"),
        case("N0430F280 LENDU DCT PIKAR", equipment="S"),
        case("N0430F430 LENDU DCT PIKAR", equipment="S"),
        "N0430F350 LENDU DCT PIKAR UM12 TOVIK",
    ],
)
def equipment_for_route(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    yield from _look_for_rvsm(route)
    yield from _look_for_rnav(route)


def _look_for_rvsm(route: Route) -> Iterator[Finding]:
    if "W" in route.route_input.equipment:
        return
    for filed in stretches_with_speed_or_level(route):
        if filed.level_ft is not None and _LOWEST_RVSM_FT <= filed.level_ft <= _HIGHEST_RVSM_FT:
            message = f"{level(filed.level)} needs approval for RVSM, and Item 10 has no W."
            yield Finding(spans_of_stretch(route, filed), message, Weight.DOUBTFUL, points=(filed.legs[0],))
            return


def _look_for_rnav(route: Route) -> Iterator[Finding]:
    words, roles = route.parsed.words, route.resolved.roles
    rnav = [i for i, role in enumerate(roles) if role in _AIRWAYS and _RNAV_ROUTE.fullmatch(words[i].text)]
    given = route.route_input
    lacking = [] if "R" in given.equipment else ["Item 10 has no R"]
    lacking += [] if given.pbn else ["no PBN/ is stated"]
    if rnav and lacking:
        names = listing(list(dict.fromkeys(words[i].text for i in rnav)))
        routes = "an RNAV route" if len({words[i].text for i in rnav}) == 1 else "RNAV routes"
        message = f"{names}: {routes}, and {listing(lacking)}."
        yield Finding(spans_of_words(route, *rnav), message, Weight.DOUBTFUL)
