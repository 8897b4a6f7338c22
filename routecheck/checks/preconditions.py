"""What the runner asks of a route before it puts it to a check that says so: see `requires` and `applies_to` there."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.altitude_queries import highest_filed
from routecheck.checks.route_queries import kinds_of_words
from routecheck.model import Via

if TYPE_CHECKING:
    from routecheck.checks.catalogue import Where
    from routecheck.model import Route, WordKind

NO_LEVEL = "no level is filed"
NO_WINDOWS = "no altitude window is coded or stated"


# ---- needs: what is lacking, "" where nothing is


def level(route: Route) -> str:
    """A level filed somewhere."""
    return "" if highest_filed(route) else NO_LEVEL


def minima(route: Route) -> str:
    """Published minima, which are looked up where a level is filed."""
    return "" if route.minima else NO_LEVEL


def windows(route: Route) -> str:
    """An altitude window, wherever it belongs."""
    return "" if route.windows or route.route_input.windows else NO_WINDOWS


# ---- where: whether there is anything to look at


def words_of(*kinds: WordKind) -> Where:
    """Words of one of these kinds."""
    wanted = frozenset(kinds)
    return lambda route: not wanted.isdisjoint(kinds_of_words(route))


def bad_words(route: Route) -> bool:
    """Words of a form that is known, which cannot be true."""
    return any(word.bad for word in route.parsed.words)


def faults_or_radials(route: Route) -> bool:
    """Connections that cannot be followed, or that follow a radial."""
    return any(connection.fault or connection.off_radial_nm is not None for connection in route.resolved.connections)


def airways(route: Route) -> bool:
    """Stretches along an airway."""
    return any(connection.via is Via.AIRWAY for connection in route.resolved.connections)


def procedures(route: Route) -> bool:
    """A SID, STAR or approach that is followed."""
    return any(connection.followed for connection in route.resolved.connections)


def stops_not_placed(route: Route) -> bool:
    """Points or aerodromes that could not be placed."""
    return any(route_point.place is None for route_point in route.resolved.route_points)


def runways(route: Route) -> bool:
    """A runway or an approach that is stated."""
    return route.resolved.runways != ("", "") or bool(route.route_input.approach)
