"""The aerodromes of a row of known routes: U.S. lists have them by three letters, and once more in the route."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.model import RouteInput

if TYPE_CHECKING:
    from routecheck.navdata.database import NavDatabase

_FIRST_LETTERS = ("K", "P", "C")
"""How location identifiers of three letters become ICAO ones in the contiguous United States, Alaska and Hawaii, and
Canada (ICAO Doc 7910, from memory)."""


def settle_aerodromes(given: RouteInput, database: NavDatabase) -> RouteInput:
    """A route input that holds nothing but the route, its aerodromes by their ICAO identifiers, and where it is from.

    Aerodromes that stand at both ends of the text too, as in the preferred routes of the FAA, are taken off it.
    """
    departure, destination = given.departure.strip().upper(), given.destination.strip().upper()
    words = given.route.split()
    if len(words) > 1 and departure and (words[0].upper(), words[-1].upper()) == (departure, destination):
        words = words[1:-1]
    return RouteInput(
        " ".join(words) or "DCT",
        _find_ident(departure, database),
        _find_ident(destination, database),
        name=given.name,
        title=given.title,
        origin=replace(given.origin, columns=()),
    )


def _find_ident(ident: str, database: NavDatabase) -> str:
    """The ICAO identifier of an aerodrome that is given by three letters, where there is one; else as given."""
    if len(ident) != 3 or not ident.isalpha():
        return ident
    return next((name for first in _FIRST_LETTERS if database.airport(name := first + ident)), ident)
