"""Runways as a route states them: beside the text, typed in it, or by an approach's name. No judging lives here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.route_queries import spans_of_words
from routecheck.procedures.route_procedures import runway_word
from routecheck.procedures.wording import runway_ident

if TYPE_CHECKING:
    from routecheck.model import Route, Span

DEPARTURE, ARRIVAL = 0, 1
"""The two sides of a route, as `ResolvedRoute.runways` counts them."""


def aerodrome(route: Route, side: int) -> str:
    """The ident of the aerodrome on a side."""
    return route.resolved.route_points[-side].text


def typed_word(route: Route, side: int) -> int | None:
    """The word that types a runway behind the aerodrome of a side ("XVAL/09"); None where there is none."""
    return runway_word(route.parsed, route.resolved.route_points[-side].word)


def beside(route: Route, side: int) -> str:
    """The runway stated beside the text, "" where none is."""
    route_input = route.route_input
    return runway_ident((route_input.departure_runway, route_input.destination_runway)[side])


def typed(route: Route, side: int) -> str:
    """The runway typed in the text, "" where none is."""
    word = typed_word(route, side)
    return "" if word is None else runway_ident(route.parsed.words[word].text)


def spans_of_runway(route: Route, side: int) -> tuple[Span, ...]:
    """The typed runway, none where it stands beside the text."""
    return spans_of_words(route, typed_word(route, side))


def approach_of(route: Route) -> str:
    """The approach stated, as the data has it; "" where none is stated or the data does not have it."""
    return "" if route.resolved.other_approaches is not None else route.route_input.approach.strip().upper()


def same_runway(one: str, other: str) -> bool:
    """Whether two may be one and the same: a missing letter is no other runway."""
    return one[:2] == other[:2] and (one == other or not one[2:] or not other[2:])
