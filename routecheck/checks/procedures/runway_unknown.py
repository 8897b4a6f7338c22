"""Check runway-unknown."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import Family, Limits, case, check
from routecheck.checks.runways import ARRIVAL, DEPARTURE, aerodrome_ident, spans_of_typed_runway
from routecheck.formatting import count, listing, short
from routecheck.model import Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Route

_MOST_LISTED = 8
_NUMBERED = re.compile(r"0[1-9]|[12][0-9]|3[0-6]|[NS]?[EW]|[NS]")
"""Tens of degrees of magnetic azimuth (ICAO Annex 14, from memory); water and grass strips by points of the compass."""


@check(
    "runway-unknown",
    Weight.WRONG,
    family=Family.PROCEDURES,
    sentence="The aerodrome has no such runway in the loaded data.",
    explanation=(
        "Often it is the runway of the other end of the route, or digits were swapped. A runway without its letter "
        "stands for all of that direction. Where no runways of the aerodrome are loaded only the number is checked, "
        "which is one of 01 to 36."
    ),
    false_alarms="a runway renumbered after the data was made.",
    citations=["arinc-424"],
    applies_to=preconditions.states_a_runway,
    flagged=[
        "XVAL/«33» LENDU DCT PIKAR",
        "XVAL LENDU1 LENDU DCT SARNO SARNO2 XVOR/«31»",
        case("LENDU1 LENDU DCT SARNO", departure_runway="33", whole=True),
        case("RULPO1 RULPO DCT SARNO", departure="XVMA", departure_runway="12C", whole=True),
        case("DCT", departure="EGLL", destination="EIDW", departure_runway="37", whole=True),
    ],
    quiet=[
        "XVAL/09 LENDU DCT PIKAR",
        case("LENDU DCT PIKAR", departure_runway="RW9"),
        case("RULPO1 RULPO DCT SARNO", departure="XVMA", departure_runway="12"),
        case("DCT", departure="EGLL", destination="EIDW", departure_runway="09L"),
        "LENDU DCT PIKAR",
    ],
)
def runway_unknown(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    for side in (DEPARTURE, ARRIVAL):
        stated, known = route.resolved.runways[side], route.resolved.runways_there[side]
        if not stated or any(ident.startswith(stated) for ident in known):
            continue
        name, spans = aerodrome_ident(route, side), spans_of_typed_runway(route, side)
        if not known and _NUMBERED.match(stated):
            yield NotChecked(spans, f"no runways of {short(name)} are loaded")
            continue
        message = f"{name} has no runway {short(stated)}{_say_which_are_there(known)}."
        yield Finding(spans, message, Weight.WRONG, points=(0 if side == DEPARTURE else len(route.points) - 1,))


def _say_which_are_there(known: Sequence[str]) -> str:
    if not known:
        return ": runways are numbered 01 to 36"
    listed = listing(known) if len(known) <= _MOST_LISTED else count(len(known), "other")
    return f" in the loaded data, only {listed}"
