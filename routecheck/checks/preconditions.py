"""Conditions that several checks name in `applies_to` and `requires`. The runner asks them before it asks the check."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.altitude_queries import has_speed, highest_stretch
from routecheck.checks.route_queries import kinds_of_words
from routecheck.model import Via

if TYPE_CHECKING:
    from routecheck.checks.catalogue import Condition
    from routecheck.model import Route, WordKind

NO_LEVEL, NO_SPEED = "no level is filed", "no speed is filed"
NO_WINDOWS = "no altitude window is coded or stated"


# ---- for `requires`: what the route lacks in words, "" where it lacks nothing


def lacking_level(route: Route) -> str:
    """The route needs a filed level somewhere."""
    return "" if highest_stretch(route) else why_no_level(route)


def why_no_level(route: Route) -> str:
    """Why no level is known: none is filed, or the one given beside the text cannot be read."""
    return why_unread(route, "level") or NO_LEVEL


def lacking_speed(route: Route) -> str:
    """The route needs a filed speed somewhere."""
    return "" if has_speed(route) else why_no_speed(route)


def why_no_speed(route: Route) -> str:
    """Why no speed is known, likewise."""
    return why_unread(route, "speed") or NO_SPEED


def why_unread(route: Route, *names: str) -> str:
    """That one of these values was given beside the text and cannot be read; "" where none was."""
    typed = dict(route.route_input.typed)
    return next((f"the {name} given beside the text cannot be read" for name in names if name in typed), "")


def lacking_minima(route: Route) -> str:
    """The route needs published minima, which are looked up where a level is filed."""
    return "" if route.minima else why_no_level(route)


def lacking_windows(route: Route) -> str:
    """The route needs an altitude window, coded or typed, even one at no point of the route."""
    return "" if route.windows or route.route_input.windows else NO_WINDOWS


# ---- for `applies_to`: whether the route has anything to look at


def has_words_of(*kinds: WordKind) -> Condition:
    """A condition: the text has words of one of these kinds."""
    wanted = frozenset(kinds)
    return lambda route: not wanted.isdisjoint(kinds_of_words(route))


def has_impossible_words(route: Route) -> bool:
    """Whether the text has a word whose form is known, but which cannot be true."""
    return any(word.bad for word in route.parsed.words)


def has_faults_or_radials(route: Route) -> bool:
    """Whether a connection cannot be followed, or follows a radial."""
    return any(connection.fault or connection.off_radial_nm is not None for connection in route.resolved.connections)


def flies_an_airway(route: Route) -> bool:
    """Whether part of the route follows an airway."""
    return any(connection.via is Via.AIRWAY for connection in route.resolved.connections)


def follows_a_procedure(route: Route) -> bool:
    """Whether the route follows a SID, STAR or approach."""
    return any(connection.procedure for connection in route.resolved.connections)


def has_unplaced_points(route: Route) -> bool:
    """Whether a point or aerodrome could not be placed."""
    return any(route_point.place is None for route_point in route.resolved.route_points)


def states_a_runway(route: Route) -> bool:
    """Whether a runway or an approach is stated."""
    return route.resolved.runways != ("", "") or bool(route.route_input.approach)
