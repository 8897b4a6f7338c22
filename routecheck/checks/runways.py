"""The runways that a route states: beside the text, typed in it, or by an approach's name. No judging lives here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.route_queries import spans_of_words
from routecheck.procedures.route_procedures import runway_word_behind
from routecheck.procedures.wording import runway_ident

if TYPE_CHECKING:
    from routecheck.model import Route, Span

DEPARTURE, ARRIVAL = 0, 1
"""The two sides of a route, as `ResolvedRoute.runways` counts them."""


def aerodrome_ident(route: Route, side: int) -> str:
    """The ident of the departure or destination aerodrome."""
    return route.resolved.route_points[-side].text


def typed_runway_word(route: Route, side: int) -> int | None:
    """The index of the word with a runway typed behind the aerodrome ("XVAL/09"); None where there is none."""
    return runway_word_behind(route.parsed, route.resolved.route_points[-side].word)


def stated_runway(route: Route, side: int) -> str:
    """The runway stated beside the text, "" where none is."""
    route_input = route.route_input
    return runway_ident((route_input.departure_runway, route_input.destination_runway)[side])


def typed_runway(route: Route, side: int) -> str:
    """The runway typed in the text, "" where none is."""
    word = typed_runway_word(route, side)
    return "" if word is None else runway_ident(route.parsed.words[word].text)


def spans_of_typed_runway(route: Route, side: int) -> tuple[Span, ...]:
    """The span of the typed runway; none where the runway stands beside the text."""
    return spans_of_words(route, typed_runway_word(route, side))


def stated_approach(route: Route) -> str:
    """The stated approach by its name in the data; "" where none is stated or the data has no such approach."""
    return "" if route.resolved.other_approaches is not None else route.route_input.approach.strip().upper()


def may_be_same_runway(one: str, other: str) -> bool:
    """Whether two idents may mean one runway: one without a letter may be any of its direction."""
    return one[:2] == other[:2] and (one == other or not one[2:] or not other[2:])
