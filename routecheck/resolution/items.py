"""What each word is by the navigation data: a point, an airway, a radial, a procedure. No place is chosen here."""

from __future__ import annotations

import re
from dataclasses import KW_ONLY
from enum import StrEnum, auto
from typing import TYPE_CHECKING

from routecheck.earth import geo
from routecheck.frozen_dataclass import dataclass
from routecheck.model import NAVAIDS, Place, PlaceKind, WordKind, WordRole
from routecheck.reading.forms import read_position
from routecheck.reading.understood_positions import read_short_code
from routecheck.resolution.radials import radial_distance_places, radial_lines

if TYPE_CHECKING:
    import datetime as dt

    from routecheck.model import CodedProcedure, Position, Word
    from routecheck.navdata.database import NavDatabase
    from routecheck.resolution.radials import RadialLine

_AIRWAY_FORM = re.compile(r"[A-Z]{1,2}\d{1,3}[A-Z]?|C\d{4}")
"""ICAO Annex 11 Appendix 1; C and four figures are routes over the Pacific (from memory)."""
_UPPER_AIRWAY_FORM = re.compile(r"U[A-Z]\d{1,3}")
_FIELD_TIMES, _FIELD_NM = 1.3, 100.0
"""A location identifier of airway form is an airfield only where the way by it is no longer than this many times the
direct one and so much (our choice)."""
_BESIDE_THE_PATH = re.compile(r"[NKMFAS][0-9OI]{2,}.*|(?:RWY?)?[0-9OI]{1,2}.?")
"""A botched speed, level or runway behind a slash; anything else there is a point that went astray."""
_NO_STATION = "its station is not in the data"
_PROCEDURE_FORM = re.compile(r"[A-Z]{2,6}\d[A-Z]?")


class ItemKind(StrEnum):
    """What a word does in the route."""

    POINT = auto()
    AIRWAY = auto()
    RADIAL = auto()
    PROCEDURE = auto()
    DIRECT = auto()
    TRACK = auto()


@dataclass(frozen=True, slots=True)
class Item:
    """What one word does: a point has `candidates`, a radial has `lines`. `why` says what is wrong with a point."""

    kind: ItemKind
    word: int | None
    text: str
    role: WordRole
    _: KW_ONLY
    candidates: tuple[Place, ...] = ()
    lines: tuple[RadialLine, ...] = ()
    why: str = ""
    unknown: bool = False
    """Whether the word could be read but the data has nothing of that name."""
    procedure: CodedProcedure | None = None
    """The SID of the departure or the STAR of the destination that it names."""


@dataclass(frozen=True, slots=True)
class Aerodromes:
    """The aerodromes of the route as far as they are known: idents and places."""

    departure: str
    destination: str
    departure_place: Place | None
    destination_place: Place | None
    runways: tuple[str, str] = ("", "")
    """As stated, typed, or of the approach; "" = not known."""


def classify_word(
    word: Word, index: int, database: NavDatabase, ends: Aerodromes, date: dt.date, *, is_between: bool
) -> Item | None:
    """The item a word makes, or None for words that stand beside the path (speed and level, rules, runway …).

    `is_between` tells whether it stands between two words, neither of them DCT, so that it may join two points.
    """
    match word.kind:
        case WordKind.NAME:
            return _classify_name(word, index, database, ends, is_between=is_between)
        case WordKind.RADIAL:
            return _classify_radial(word, index, database, ends, date, is_between=is_between)
        case WordKind.RADIAL_DISTANCE:
            return _classify_radial_distance(word, index, database, date)
        case WordKind.POSITION:
            return _classify_position(word, index)
        case WordKind.DIRECT:
            return Item(ItemKind.DIRECT, index, word.text, WordRole.DIRECT)
        case WordKind.TRACK:
            return Item(ItemKind.TRACK, index, word.text, WordRole.TRACK)
        case WordKind.UNREAD:
            return _classify_unread(word, index)
        case _:
            return None


def _classify_unread(word: Word, index: int) -> Item | None:
    """A point without a place; but a botched speed, level or runway stands beside the path and opens no gap in it."""
    if word.speed or (word.attached and word.position is None and _BESIDE_THE_PATH.fullmatch(word.text)):
        return None
    why, places = word.why or "could not be read", _place_meant(word.meant, word.position)
    return Item(ItemKind.POINT, index, word.text, WordRole.UNREAD, why=why, candidates=places)


def _place_meant(meant: str, position: Position | None) -> tuple[Place, ...]:
    """The place of a position that is meant by a word of another form; none where no position is."""
    return () if position is None else (Place(meant, position.lat, position.lon, PlaceKind.TYPED),)


def _classify_position(word: Word, index: int) -> Item:
    if word.position is None:
        return Item(ItemKind.POINT, index, word.text, WordRole.IMPOSSIBLE_POSITION, why=word.bad)
    place = Place(word.text, word.position.lat, word.position.lon, PlaceKind.TYPED)
    return Item(ItemKind.POINT, index, word.text, WordRole.POSITION, candidates=(place,))


def _classify_name(
    word: Word, index: int, database: NavDatabase, ends: Aerodromes, *, is_between: bool = False
) -> Item:
    name = word.text
    places = database.places(name)
    if database.airways(name) and (not places or _AIRWAY_FORM.fullmatch(name)):
        return Item(ItemKind.AIRWAY, index, name, WordRole.AIRWAY)
    if places:
        return Item(ItemKind.POINT, index, name, WordRole.POINT, candidates=places)
    procedure = _known_procedure(name, index, database, ends)
    if procedure:
        return procedure
    airport = _airport_as_point(name, database)
    if airport and not (_AIRWAY_FORM.fullmatch(name) and (is_between or _is_off_line(airport, ends))):
        return Item(ItemKind.POINT, index, name, WordRole.AIRPORT, candidates=(airport,))
    return _classify_unknown(name, index)


def _known_procedure(name: str, index: int, database: NavDatabase, ends: Aerodromes) -> Item | None:
    for airport, kind in ((ends.departure, WordRole.SID), (ends.destination, WordRole.STAR)):
        if kind in database.procedure_kinds(airport, name):
            return Item(ItemKind.PROCEDURE, index, name, kind, procedure=database.procedure(airport, kind, name))
    if database.procedure_airports(name):
        return Item(ItemKind.PROCEDURE, index, name, WordRole.PROCEDURE_ELSEWHERE)
    return None


def _airport_as_point(name: str, database: NavDatabase) -> Place | None:
    """An airport used as a point: four letters or an identifier with a digit, never a three-letter code."""
    if len(name) == 4 and name.isalpha():
        return database.airport(name)
    return database.airport(name) if len(name) in (3, 4) and not name.isalpha() else None


def _is_off_line(airport: Place, ends: Aerodromes) -> bool:
    """Whether an airfield lies far off the direct line, where both aerodromes are known."""
    start, finish = ends.departure_place, ends.destination_place
    if start is None or finish is None:
        return False
    direct = geo.rough_nm(start.lat, start.lon, finish.lat, finish.lon)
    way = sum(geo.rough_nm(airport.lat, airport.lon, end.lat, end.lon) for end in (start, finish))
    return way > _FIELD_TIMES * direct + _FIELD_NM


def _classify_unknown(name: str, index: int) -> Item:
    if (
        _AIRWAY_FORM.fullmatch(name)
        and len(name.rstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")) > 1
        and not _looks_like_procedure(name)
    ):
        return Item(ItemKind.AIRWAY, index, name, WordRole.UNKNOWN_AIRWAY, unknown=True)
    if _PROCEDURE_FORM.fullmatch(name):
        return Item(ItemKind.PROCEDURE, index, name, WordRole.UNKNOWN_PROCEDURE, unknown=True)
    meant = read_short_code(name)
    if places := _place_meant(meant, read_position(meant)):
        return Item(ItemKind.POINT, index, name, WordRole.POSITION, candidates=places)
    return Item(ItemKind.POINT, index, name, WordRole.UNKNOWN_NAME, unknown=True, why="not in the loaded data")


def _looks_like_procedure(name: str) -> bool:
    """Three letters and more before the digit: no airway designator has them."""
    return len(name) - len(name.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")) >= 3


def _classify_radial(
    word: Word, index: int, database: NavDatabase, ends: Aerodromes, date: dt.date, *, is_between: bool
) -> Item:
    """A radial, unless the data knows an airway or a point of just that name, or an upper airway fits in there.

    Radials are a form of the United States; UL180 between two names is an upper airway first.
    """
    is_upper = is_between and _UPPER_AIRWAY_FORM.fullmatch(word.text)
    if is_upper or database.airways(word.text) or database.places(word.text):
        return _classify_name(word, index, database, ends, is_between=is_between)
    if word.bad:
        return Item(ItemKind.POINT, index, word.text, WordRole.IMPOSSIBLE_POSITION, why=word.bad)
    stations = _navaids(word.ident, database)
    if not stations:
        return Item(ItemKind.POINT, index, word.text, WordRole.UNKNOWN_NAME, unknown=True, why=_NO_STATION)
    lines, why = radial_lines(word, stations, date)
    if not lines:
        return Item(ItemKind.POINT, index, word.text, WordRole.RADIAL, why=why)
    return Item(ItemKind.RADIAL, index, word.text, WordRole.RADIAL, lines=lines)


def _classify_radial_distance(word: Word, index: int, database: NavDatabase, date: dt.date) -> Item:
    if word.bad:
        return Item(ItemKind.POINT, index, word.text, WordRole.IMPOSSIBLE_POSITION, why=word.bad)
    stations = database.places(word.ident)
    if not stations:
        return Item(ItemKind.POINT, index, word.text, WordRole.UNKNOWN_NAME, unknown=True, why=_NO_STATION)
    places, why = radial_distance_places(word, stations, date)
    return Item(ItemKind.POINT, index, word.text, WordRole.RADIAL_DISTANCE, candidates=places, why=why)


def _navaids(ident: str, database: NavDatabase) -> tuple[Place, ...]:
    return tuple(p for p in database.places(ident) if p.kind in NAVAIDS)
