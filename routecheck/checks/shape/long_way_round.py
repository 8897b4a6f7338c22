"""Check long-way-round."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limit, Limits, Measured, case, check, exceeds
from routecheck.citations import OWN_CHOICE
from routecheck.formatting import listing, nm
from routecheck.model import Fact, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

NOTE = Limit("note_times", 1.5, "× direct", OWN_CHOICE, lowest=1.0)
DOUBTFUL = Limit("doubtful_times", 2.0, "× direct", OWN_CHOICE, lowest=1.0)
SHORTEST = Limit("shortest_nm", 100.0, "NM", OWN_CHOICE, why="below this direct distance routes wind about")
TO_BLAME = Limit("to_blame_nm", 15.0, "NM", OWN_CHOICE, why="detour × turn / 90° of the point that explains it")


@check(
    "long-way-round",
    Weight.DOUBTFUL,
    family=Family.SHAPE,
    sentence="The whole route is far longer than the direct line, and no single point is to blame.",
    explanation="Where the route has stretches without a length, it is at least so long.",
    false_alarms="ways round closed airspace or along a coast; round trips.",
    measured=Measured(doubtful=0.07, note=0.38),
    limits=[NOTE, DOUBTFUL, SHORTEST, TO_BLAME],
    flagged=[
        case(
            "3314S00326W 3453S00227W 3608S00047W 3648S00120E 3649S00337E 3609S00545E 3455S00726E 3317S00827E",
            whole=True,
        )
    ],
    quiet=["LENDU DCT PIKAR UM12 TOVIK DCT SARNO", case("36S004E", departure="XVOR", destination="XVMA")],
)
def long_way_round(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    direct, whole = route.totals.direct_nm, route.totals.distance_nm
    if direct is None or direct < limit[SHORTEST] or not exceeds(whole, limit[NOTE] * direct):
        return
    turning = [(point, turn) for point, turn in zip(route.points, route.turns, strict=True) if turn]
    to_blame = [point for point, turn in turning if exceeds(turn.d_value_nm, limit[TO_BLAME])]
    if to_blame:
        yield NotChecked((), f"{listing([point.text for point in to_blame[:3]])} explains why the route is long")
        return
    weight = Weight.DOUBTFUL if exceeds(whole, limit[DOUBTFUL] * direct) else Weight.NOTE
    at_least = "at least " if route.totals.gaps else ""
    message = f"The route is {at_least}{nm(whole)}, {whole / direct:.1f} times the direct {nm(direct)}."
    facts = (Fact("route", round(whole, 1), "NM"), Fact("direct", round(direct, 1), "NM"))
    yield Finding((), message, weight, facts)
