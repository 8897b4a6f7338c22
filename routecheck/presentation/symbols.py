"""The shapes drawn at places. How a shape looks is not decided here."""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

from routecheck.model import PlaceKind

if TYPE_CHECKING:
    from routecheck.model import Place


class Symbol(StrEnum):
    """The shape drawn at a point, after ICAO Annex 4 where it has one."""

    TRIANGLE = "triangle"
    STAR = "four-pointed star"
    HEXAGON = "hexagon"
    HEXAGON_IN_SQUARE = "hexagon in a square"
    SQUARE = "square"
    DOTTED_CIRCLE = "dotted circle"
    AIRPORT = "circle with a line"
    DOT = "dot"
    RUNWAY = "bar"


SYMBOLS = {
    PlaceKind.FIX: Symbol.TRIANGLE,
    PlaceKind.TERMINAL_FIX: Symbol.TRIANGLE,
    PlaceKind.VOR: Symbol.HEXAGON,
    PlaceKind.VOR_DME: Symbol.HEXAGON_IN_SQUARE,
    PlaceKind.DME: Symbol.SQUARE,
    PlaceKind.NDB: Symbol.DOTTED_CIRCLE,
    PlaceKind.AIRPORT: Symbol.AIRPORT,
    PlaceKind.TYPED: Symbol.DOT,
    PlaceKind.COMPUTED: Symbol.DOT,
    PlaceKind.RUNWAY: Symbol.RUNWAY,
    PlaceKind.LOCALIZER: Symbol.DOT,
}


def symbol_of(place: Place) -> Symbol:
    """The shape drawn at a place: the star of a waypoint only where the data says that it is one."""
    return Symbol.STAR if place.rnav else SYMBOLS[place.kind]
