"""Check not-covered."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import Family, Limits, case, check
from routecheck.checks.route_queries import spans_of_words
from routecheck.formatting import listing
from routecheck.model import Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route


@check(
    "not-covered",
    Weight.DOUBTFUL,
    family=Family.DATA,
    sentence="Part of the route lies where the loaded navigation data has nothing, so its names cannot be looked up.",
    explanation="A typed position needs no data and is no part of this.",
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
    listed = listing(names[:5]) + (f" and {len(names) - 5} more" if len(names) > 5 else "")
    message = f"Not checked: {listed}. The loaded data has nothing around there."
    yield Finding(spans_of_words(route, *(point.word for point in missing)), message, Weight.DOUBTFUL)
