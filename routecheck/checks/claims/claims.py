"""Check claims: that figures the plan states are compared by nothing yet. It goes once checks compare all of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limits, case, check
from routecheck.formatting import listing
from routecheck.model import Claim, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

_FIGURES: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("fuel of legs, beyond its own sums", ("fuel_kg",)),
    ("levels", ("level",)),
)
"""What is stated and compared with no figure of ours, in words and by its names in Claim."""


@check(
    "claims",
    Weight.NOTE,
    family=Family.CLAIMS,
    sentence="Never: claimed levels and fuel are named as not checked until checks compare them.",
    explanation=(
        "A route with such claims is not shown as in order on their account. Courses, distances, times and positions "
        "are compared by checks of their own."
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
