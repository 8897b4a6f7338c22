"""Check alternate-same."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limits, case, check
from routecheck.formatting import short
from routecheck.model import Fact, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

_SAME_NM = 0.1
"""Two names within this of each other are one aerodrome (our choice)."""


def _lacking_alternate(route: Route) -> str:
    return "" if route.route_input.alternate else "no alternate is stated"


@check(
    "alternate-same",
    Weight.WRONG,
    family=Family.LOAD,
    sentence="The alternate is the destination.",
    explanation="By its name, or by its place if another name is given. Whether an alternate will do is not looked at.",
    false_alarms="none known.",
    requires=(_lacking_alternate,),
    flagged=[
        case("LENDU", alternate=("XVOR",), whole=True),
        case("LENDU", alternate=("XVMA", "xvor"), whole=True),
    ],
    quiet=[case("LENDU", alternate=("XVMA",)), case("LENDU", alternate=("XVAL",)), "LENDU"],
)
def alternate_same(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    destination = route.points[-1].text
    for name, onward in zip(route.route_input.alternate, route.alternates, strict=False):
        direct = onward.totals.direct_nm
        if name.strip().upper() == destination.upper() or (direct is not None and direct < _SAME_NM):
            message = f"The alternate {short(name.upper())} is the destination {short(destination)}."
            yield Finding((), message, Weight.WRONG, (Fact("alternate", name.upper()),))
        elif direct is None:
            yield NotChecked((), f"where the alternate {short(name.upper())} is, is not known")
