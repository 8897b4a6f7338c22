"""What known routes say of a route, for the result as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from routecheck.model import KnownUsage, NearestKnown


def build_usage(usage: KnownUsage) -> dict[str, Any]:
    """The collections that were asked, the known routes between the same aerodromes, and the nearest of them."""
    return {
        "collections": list(usage.collections),
        "between": usage.between,
        "nearest": _build_nearest(usage.nearest) if usage.nearest else None,
    }


def _build_nearest(nearest: NearestKnown) -> dict[str, Any]:
    return {
        "name": nearest.name,
        "collection": nearest.collection,
        "route": nearest.route,
        "differences": [{"here": here, "there": there} for here, there in nearest.differences],
    }
