"""Check claims: that figures the plan states are compared by nothing yet. It goes once checks compare them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limits, case, check
from routecheck.formatting import listing
from routecheck.model import Claim, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

_FIGURES: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("courses", ("course_true_deg", "course_magnetic_deg")),
    ("distances", ("distance_nm",)),
    ("times", ("time_min",)),
    ("fuel", ("fuel_kg",)),
    ("levels", ("level",)),
)
"""What is stated beside a position, in words and by its names in Claim. A stated position is compared."""


@check(
    "claims",
    Weight.NOTE,
    family=Family.CLAIMS,
    sentence="Never: claimed figures and levels are named as not checked until checks compare them.",
    explanation=(
        "A route with such claims is not shown as in order on their account. A position stated for a point is "
        "compared, by position-disagrees."
    ),
    false_alarms="none: it finds nothing.",
    flagged=[],
    quiet=[
        "LENDU DCT PIKAR",
        case("LENDU DCT PIKAR", claims=(Claim("PIKAR", distance_nm=64.0),)),
        case("LENDU DCT PIKAR", claims=(Claim("PIKAR", lat=-30.0, lon=2.0),)),
    ],
)
def claims(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    stated = [name for name, fields in _FIGURES if any(_states(claim, fields) for claim in route.route_input.claims)]
    if stated:
        yield NotChecked((), f"claims: no check compares claimed {listing(stated)} yet")


def _states(claim: Claim, fields: tuple[str, ...]) -> bool:
    return any(getattr(claim, field) not in (None, "") for field in fields)
