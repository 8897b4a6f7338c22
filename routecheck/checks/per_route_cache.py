"""What several checks ask of the same route is reckoned once. No judging lives here, and nothing can go stale."""

from __future__ import annotations

from functools import wraps
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.model import Route

T = TypeVar("T")


def once_a_route(reckoned: Callable[[Route], T]) -> Callable[[Route], T]:
    """Keep what was reckoned of the last route for the next check that asks.

    A route is frozen and told by identity while it is held, so that the answer is always that of this very route. It
    must be a value that nobody changes.
    """
    last: tuple[Route, T] | None = None

    @wraps(reckoned)
    def asked(route: Route) -> T:
        nonlocal last
        kept = last  # read once: another thread may be at another route
        if kept is None or kept[0] is not route:
            last = kept = route, reckoned(route)
        return kept[1]

    return asked
