"""How much of a route was checked, where the output must tell nothing from something. Sentences are made elsewhere."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from routecheck.model import Assessment


def is_nothing_checked(assessment: Assessment) -> bool:
    """Whether nothing of a route could be checked, be it that it was not read or that none of it was placed."""
    route = assessment.route
    none_placed = route.totals.not_checked and not route.totals.checked_nm
    return bool(route.route_input.unread or assessment.failure or none_placed)
