"""A cache of one route: what several checks ask of the same route is computed once. Nothing in it can go stale."""

from __future__ import annotations

from functools import wraps
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.model import Route

T = TypeVar("T")


def cached_per_route(compute: Callable[[Route], T]) -> Callable[[Route], T]:
    """Keep the result for the last route, for the next check that asks.

    A route is frozen, and the cache holds it and compares it by identity, so that the result is always that of this
    very route. The result must be a value that nobody changes.
    """
    last: tuple[Route, T] | None = None

    @wraps(compute)
    def cached(route: Route) -> T:
        nonlocal last
        found = last  # read once: another thread may be at another route
        if found is None or found[0] is not route:
            last = found = route, compute(route)
        return found[1]

    return cached
