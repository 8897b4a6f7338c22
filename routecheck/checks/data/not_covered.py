"""Check not-covered."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import Family, Limits, case, check
from routecheck.checks.route_queries import spans_of_words
from routecheck.formatting import listing, nm
from routecheck.model import Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

_MOST_NAMESAKES = 3
"""So many far namesakes are told by name."""


@check(
    "not-covered",
    Weight.DOUBTFUL,
    family=Family.DATA,
    sentence="Part of the route lies where the loaded data is not complete: names there cannot be looked up.",
    explanation=(
        "The data of a country holds a few points of its neighbours; what it lacks there may well exist. A typed "
        "position needs no data and is no part of this."
    ),
    false_alarms="none: load data for that area.",
    applies_to=preconditions.has_unplaced_points,
    flagged=[case("52N020W «LIMRI» «MALOT» 52N030W", departure="EGLL", destination="EIDW")],
    quiet=["LENDU DCT PIKAR DCT TOVIK", "LENDU DCT PIKUR DCT TOVIK", "52N020W 52N030W 50N040W"],
)
def not_covered(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    unknown = [point for point in route.resolved.route_points if point.place is None and point.unknown]
    missing = [point for point in unknown if not point.covered]
    if not missing:
        return
    names = list(dict.fromkeys(point.text for point in missing))
    listed = listing([*names[:5], f"{len(names) - 5} more"] if len(names) > 5 else names)
    are = "is" if len(names) == 1 else "are"
    message = f"{listed} {are} not checked: the loaded data does not cover that part of the world."
    for point in [one for one in missing if one.namesake_nm is not None][:_MOST_NAMESAKES]:
        message += f" Another {point.text} is loaded, {nm(point.namesake_nm or 0.0)} away."
    yield Finding(spans_of_words(route, *(point.word for point in missing)), message, Weight.DOUBTFUL)
