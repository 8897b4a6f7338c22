"""Aerodromes without a location indicator: by a position, or a bearing and distance, as DEP/ and DEST/ give them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.model import Place, PlaceKind, Span, WordKind
from routecheck.reading.forms import read_form
from routecheck.resolution.radials import radial_distance_places

if TYPE_CHECKING:
    import datetime as dt

    from routecheck.navdata.database import NavDatabase


def find_unlisted_aerodrome(given: str, database: NavDatabase, date: dt.date) -> Place | None:
    """The place that an aerodrome's text describes; None where it describes none for sure.

    A name may stand before the position (ICAO Doc 4444 Appendix 2, Item 18 DEP/). A bearing and distance from a station
    of which there are several describes no place for sure.
    """
    if not any(char.isdigit() for char in given):
        return None
    last = given.upper().split()[-1]
    word = read_form(last, Span(0, len(last)))
    if word.kind is WordKind.POSITION and word.position:
        return Place(given, word.position.lat, word.position.lon, PlaceKind.TYPED)
    if word.kind is WordKind.RADIAL_DISTANCE and not word.bad:
        places, _ = radial_distance_places(word, database.places(word.ident), date)
        return places[0] if len(places) == 1 else None
    return None
