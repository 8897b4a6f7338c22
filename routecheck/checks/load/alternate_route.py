"""Check alternate-route."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limits, case, check
from routecheck.formatting import listing, nm, quote, short
from routecheck.model import Fact, Finding, NotChecked, Weight, WordRole

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

_UNREAD = frozenset({WordRole.UNREAD, WordRole.IMPOSSIBLE_POSITION})
_UNKNOWN = frozenset({WordRole.UNKNOWN_NAME, WordRole.UNKNOWN_AIRWAY, WordRole.UNKNOWN_PROCEDURE})
_FAR = 2.0
"""A way to the alternate that is so many times as long as the direct one is doubtful (our choice)."""


def _lacking_route(route: Route) -> str:
    return "" if route.route_input.alternate_route and route.alternates else "no route to an alternate is stated"


@check(
    "alternate-route",
    Weight.WRONG,
    family=Family.LOAD,
    sentence="The route to the alternate cannot all be read, is not all in the data, or is twice as long as direct.",
    explanation=(
        "Words that fit no form are Wrong, names that the data does not have and twice the direct distance are "
        "Doubtful. No more of that route is checked: open it as a route of its own for the rest."
    ),
    false_alarms="arrival and missed approach that lead far round; names of a region that is not loaded.",
    requires=(_lacking_route,),
    flagged=[
        case("LENDU", alternate=("XVMA",), alternate_route="KEBUL 123 SARNO", whole=True),
        case("LENDU", alternate=("XVMA",), alternate_route="KEBUX", whole=True),
        case("LENDU", alternate=("XVMA",), alternate_route="LENDU", whole=True),
    ],
    quiet=[
        case("LENDU", alternate=("XVMA",), alternate_route="SARNO"),
        case("LENDU", alternate=("XVMA",)),
        "LENDU",
    ],
)
def alternate_route(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    onward = route.alternates[0]
    name = short(onward.points[-1].text)
    roles = list(zip(onward.parsed.words, onward.resolved.roles, strict=True))
    unread = [word.text for word, role in roles if role in _UNREAD or word.bad]
    unknown = [word.text for word, role in roles if role in _UNKNOWN]
    if unread:
        words = listing([quote(word, 24) for word in unread])
        message = f"On the route to the alternate {name}, {words} cannot be read."
        yield Finding((), message, Weight.WRONG, (Fact("words unread", len(unread)),))
    if unknown:
        message = (
            f"On the route to the alternate {name}, {listing([short(word) for word in unknown])} is not in the data."
        )
        yield Finding((), message, Weight.DOUBTFUL, (Fact("words unknown", len(unknown)),))
    totals = onward.totals
    if totals.direct_nm and not totals.gaps and totals.distance_nm > _FAR * totals.direct_nm:
        message = f"The route to the alternate {name} is {nm(totals.distance_nm)}; direct it is {nm(totals.direct_nm)}."
        facts = Fact("distance", round(totals.distance_nm, 1), "NM"), Fact("direct", round(totals.direct_nm, 1), "NM")
        yield Finding((), message, Weight.DOUBTFUL, facts)
    elif totals.gaps and not unread and not unknown:
        yield NotChecked((), f"part of the route to the alternate {name} has no known length")
