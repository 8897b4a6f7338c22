"""Planting one entry error of a named kind into a clean route, with the truth kept.

Only where it can be seen in principle: the error changes the length of the route by 10 NM and more, or breaks a rule
(a name that does not exist, an airway that does not lead there, a procedure of another airport). That holds for errors
of the aerodromes beside the text as well: both exist, and the route as read with them is that much longer or shorter,
or contradicts the data. Deterministic for a seeded random generator.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import KW_ONLY, replace
from itertools import pairwise
from typing import TYPE_CHECKING, TypeVar

from routecheck.corrections.outline import Outline, draw_outline
from routecheck.corrections.plausibility import CandidateConnection
from routecheck.entry_errors.kinds import EntryError
from routecheck.entry_errors.positions import position_of, positions_one_error_away
from routecheck.entry_errors.words import designators_one_error_away, words_one_error_away
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Place, PlaceKind, RouteInput, Span, Via, WordKind
from routecheck.procedures.wording import procedure_stem
from routecheck.reading.route_text import read_route
from routecheck.resolution import airways
from routecheck.resolution.resolve import resolve

if TYPE_CHECKING:
    import datetime as dt
    import random
    from collections.abc import Iterator

    from routecheck.model import Word
    from routecheck.navdata.database import NavDatabase

DETECTABLE_NM = 10.0
_LEAST_POINTS = 3
"""Two aerodromes and a point between them, without which nothing tells one aerodrome from another."""


@dataclass(frozen=True, slots=True)
class Planted:
    """A route with one entry error in it. `spans` are the words as typed wrong; `clean` is the route without it.

    `added_nm` is what the error adds to the line (negative = shortens); `breaks` whether it contradicts the data.
    """

    kind: str
    route_input: RouteInput
    clean: RouteInput
    _: KW_ONLY
    spans: tuple[Span, ...]
    added_nm: float
    breaks: bool


@dataclass(frozen=True, slots=True)
class _Attempt:
    """One possible error: the text in place of `span`, and what would then lie between two route points."""

    span: Span
    text: str
    _: KW_ONLY
    first: int
    last: int
    places: tuple[Place | None, ...]
    connections: tuple[CandidateConnection, ...]


_T = TypeVar("_T")
_Planter = Callable[[Outline, "random.Random"], "Iterator[_Attempt]"]


def plant(
    kind: str, route_input: RouteInput, database: NavDatabase, date: dt.date, rng: random.Random
) -> Planted | None:
    """Plant one error of that kind, or None where the route offers no place for it."""
    outline = _read(route_input, database, date)
    if kind in ENDS:
        tried = (_planted_at_ends(kind, outline, wrong, date) for wrong in ENDS[kind](route_input, rng, database))
        return next((planted for planted in tried if planted), None)
    for attempt in PLANTERS[kind](outline, rng):
        planted = _plant_error(kind, outline, attempt, date)
        if planted:
            return planted
    return None


def with_position(
    route_input: RouteInput, database: NavDatabase, date: dt.date, rng: random.Random
) -> RouteInput | None:
    """The same route with one of its named points written as its coordinates in whole minutes; None if it has none."""
    outline = _read(route_input, database, date)
    named = [(word, outline.places[index]) for index, word in _named_points(outline)]
    word, place = rng.choice(named) if named else (None, None)
    if word is None or place is None:
        return None
    return replace(route_input, route=_put(route_input.route, word.span, in_minutes(place.lat, place.lon)))


def in_minutes(lat: float, lon: float) -> str:
    """A position in degrees and whole minutes, the form of Item 15: 4620N07805W."""
    north, east = round(abs(lat) * 60), round(abs(lon) * 60)
    lat_text = f"{north // 60:02d}{north % 60:02d}{'S' if lat < 0 else 'N'}"
    return f"{lat_text}{east // 60:03d}{east % 60:02d}{'W' if lon < 0 else 'E'}"


def _read(route_input: RouteInput, database: NavDatabase, date: dt.date) -> Outline:
    return draw_outline(resolve(read_route(route_input), database, date), database)


# ---- whether an error can be seen


def _plant_error(kind: str, outline: Outline, attempt: _Attempt, date: dt.date) -> Planted | None:
    """The planted error, if it can be seen: first by its stretch alone, then as the whole text is really read.

    A name that is there twice may be read as the other place with the error in, and the error be none.
    """
    before = outline.measure(attempt.first, attempt.last)
    after = outline.measure_with(attempt.first, attempt.last, attempt.places, attempt.connections)
    breaks = after.features.defects > before.features.defects
    if not _can_be_seen(after.length_nm - before.length_nm, breaks=breaks):
        return None
    clean = outline.resolved.parsed.route_input
    wrong = replace(clean, route=_put(clean.route, attempt.span, attempt.text))
    span = Span(attempt.span.start, attempt.span.start + len(attempt.text))
    return _planted_as_read(kind, outline, _read(wrong, outline.database, date), (span,))


def _planted_at_ends(kind: str, outline: Outline, wrong: RouteInput, date: dt.date) -> Planted | None:
    """An error of the aerodromes, if both exist and it can be seen in the route as it is really read with it."""
    read = _read(wrong, outline.database, date)
    if any(None in (one.places[0], one.places[-1]) for one in (outline, read)) or len(read.places) < _LEAST_POINTS:
        return None
    return _planted_as_read(kind, outline, read, ())


def _planted_as_read(kind: str, outline: Outline, read: Outline, spans: tuple[Span, ...]) -> Planted | None:
    """The planted error, if it can be seen in the route as it is read with it."""
    added, breaks = _length_nm(read) - _length_nm(outline), _broken_rules(read) > _broken_rules(outline)
    if not _can_be_seen(added, breaks=breaks):
        return None
    clean, wrong = outline.resolved.parsed.route_input, read.resolved.parsed.route_input
    return Planted(kind, wrong, clean, spans=spans, added_nm=added, breaks=breaks)


def _can_be_seen(added_nm: float, *, breaks: bool) -> bool:
    return breaks or abs(added_nm) >= DETECTABLE_NM


def _length_nm(outline: Outline) -> float:
    return outline.measure(0, outline.last).length_nm


def _broken_rules(outline: Outline) -> float:
    """How many rules a route breaks: what contradicts the data, and points that stand twice in a row."""
    twice = sum(a is not None and b is not None and airways.is_same_place(a, b) for a, b in pairwise(outline.places))
    return outline.measure(0, outline.last).features.defects + twice


def _put(text: str, span: Span, new: str) -> str:
    return text[: span.start] + new + text[span.end :]


# ---- where an error may be planted


def _named_points(outline: Outline) -> list[tuple[int, Word]]:
    """The route points between the aerodromes that a NAME word gives, with their words."""
    return [(index, word) for index, word in _typed_points(outline) if word.kind is WordKind.NAME]


def _typed_points(outline: Outline) -> list[tuple[int, Word]]:
    """The placed route points between the aerodromes that a word gives, with their words."""
    found = []
    for index in range(1, outline.last):
        route_point = outline.route_points[index]
        if route_point.word is not None and not route_point.implied and route_point.place is not None:
            found.append((index, outline.resolved.parsed.words[route_point.word]))
    return found


def _other_place(outline: Outline, index: int, span: Span, text: str, place: Place | None) -> _Attempt:
    places = (outline.places[index - 1], place, outline.places[index + 1])
    return _Attempt(
        span,
        text,
        first=index - 1,
        last=index + 1,
        places=places,
        connections=outline.connections[index - 1 : index + 1],
    )


def _shuffle(items: list[_T], rng: random.Random) -> list[_T]:
    return rng.sample(items, len(items))


# ---- errors in the text


def _letter_to_known(outline: Outline, rng: random.Random) -> Iterator[_Attempt]:
    for index, word in _shuffle(_named_points(outline), rng):
        for name, _ in _shuffle(words_one_error_away(word.text, outline.database.names()), rng):
            for place in outline.database.places(name)[:1]:
                yield _other_place(outline, index, word.span, name, place)


class _UnknownNames:
    """Every string that is no name of the database."""

    def __init__(self, database: NavDatabase) -> None:
        self._database = database

    def __contains__(self, name: object) -> bool:
        known = isinstance(name, str) and (self._database.places(name) or self._database.airways(name))
        return not known and isinstance(name, str) and len(name) >= 3


def _letter_to_unknown(outline: Outline, rng: random.Random) -> Iterator[_Attempt]:
    unknown = _UnknownNames(outline.database)
    for index, word in _shuffle(_named_points(outline), rng):
        if len(word.text) >= 4:
            name, _ = rng.choice(words_one_error_away(word.text, unknown))
            yield _other_place(outline, index, word.span, name, None)


def _points_exchanged(outline: Outline, rng: random.Random) -> Iterator[_Attempt]:
    typed = dict(_typed_points(outline))
    text, places = outline.resolved.parsed.route_input.route, outline.places
    for index in _shuffle([i for i in typed if i + 1 in typed], rng):
        one, two = typed[index], typed[index + 1]
        new = two.text + text[one.span.end : two.span.start] + one.text
        exchanged = (places[index - 1], places[index + 1], places[index], places[index + 2])
        connections = outline.connections[index - 1 : index + 2]
        yield _Attempt(
            Span(one.span.start, two.span.end),
            new,
            first=index - 1,
            last=index + 2,
            places=exchanged,
            connections=connections,
        )


def _point_repeated(outline: Outline, rng: random.Random) -> Iterator[_Attempt]:
    for index, word in _shuffle(_typed_points(outline), rng):
        before, here, after = outline.places[index - 1 : index + 2]
        # An airway of no length counts as a defect.
        between = CandidateConnection(Via.AIRWAY)
        connections = (outline.connections[index - 1], between, outline.connections[index])
        places = (before, here, here, after)
        yield _Attempt(
            word.span,
            f"{word.text} {word.text}",
            first=index - 1,
            last=index + 1,
            places=places,
            connections=connections,
        )


def _airway_number(outline: Outline, rng: random.Random) -> Iterator[_Attempt]:
    by_airway = [i for i, connection in enumerate(outline.connections) if connection.via is Via.AIRWAY]
    for index in _shuffle(by_airway, rng):
        words = outline.resolved.connections[index].words
        if len(words) != 1 or any(route_point.implied for route_point in outline.route_points[index : index + 2]):
            continue
        word = outline.resolved.parsed.words[words[0]]
        for name, _ in _shuffle(designators_one_error_away(word.text, outline.database.airway_names()), rng):
            connection = CandidateConnection(Via.AIRWAY, name, outline.database.airways(name))
            yield _Attempt(
                word.span,
                name,
                first=index,
                last=index + 1,
                places=outline.places[index : index + 2],
                connections=(connection,),
            )


def _exit_too_far(outline: Outline, rng: random.Random) -> Iterator[_Attempt]:
    for index, word in _shuffle(_named_points(outline), rng):
        connection, entry, typed = outline.connections[index - 1], outline.places[index - 1], outline.places[index]
        if connection.via is Via.AIRWAY and entry is not None and typed is not None:
            for place in _shuffle(_points_beyond(connection, entry, typed)[:6], rng):
                yield _other_place(outline, index, word.span, place.ident, place)


def _entry_too_far(outline: Outline, rng: random.Random) -> Iterator[_Attempt]:
    for index, word in _shuffle(_named_points(outline), rng):
        connection, typed, leaving = outline.connections[index], outline.places[index], outline.places[index + 1]
        if connection.via is Via.AIRWAY and typed is not None and leaving is not None:
            for place in _shuffle(_points_beyond(connection, leaving, typed)[:6], rng):
                yield _other_place(outline, index, word.span, place.ident, place)


def _points_beyond(connection: CandidateConnection, fixed: Place, other: Place) -> list[Place]:
    """The points of the airway that lie beyond `other` as seen from `fixed`, nearest first."""
    for piece in connection.pieces:
        start, end = airways.position_on(piece, fixed), airways.position_on(piece, other)
        if start is not None and end is not None:
            places = list(piece.places)
            return places[int(end) + 1 :] if end > start else places[: -int(-end // 1)][::-1]
    return []


def _plant_position(error: EntryError) -> _Planter:
    def planter(outline: Outline, rng: random.Random) -> Iterator[_Attempt]:
        typed = [point for point in _typed_points(outline) if point[1].kind is WordKind.POSITION]
        for index, word in _shuffle(typed, rng):
            others = [text for text, kind in positions_one_error_away(word.text) if kind is error]
            for text in _shuffle(others, rng):
                position = position_of(text)
                if position:
                    yield _other_place(outline, index, word.span, text, Place(text, *position, PlaceKind.TYPED))

    return planter


def _procedure_number(outline: Outline, rng: random.Random) -> Iterator[_Attempt]:
    procedures = [i for i, one in enumerate(outline.connections) if one.via is Via.PROCEDURE and one.known]
    for index in _shuffle(procedures, rng):
        words = outline.resolved.connections[index].words
        if len(words) != 1:
            continue
        word = outline.resolved.parsed.words[words[0]]
        stem = procedure_stem(word.text)
        name = stem + rng.choice([digit for digit in "123456789" if digit != word.text[len(stem)]])
        name += word.text[len(name) :]
        if not outline.database.procedure_airports(name):
            connection = CandidateConnection(Via.PROCEDURE, name, known=False)
            yield _Attempt(
                word.span,
                name,
                first=index,
                last=index + 1,
                places=outline.places[index : index + 2],
                connections=(connection,),
            )


# ---- errors of the aerodromes beside the text


def _ends_exchanged(route_input: RouteInput, _: random.Random, __: NavDatabase) -> Iterator[RouteInput]:
    if route_input.departure != route_input.destination and route_input.route.strip():
        yield replace(route_input, departure=route_input.destination, destination=route_input.departure)


class _FourLetterAirports:
    """The airports with an ident of four characters."""

    def __init__(self, database: NavDatabase) -> None:
        self._database = database

    def __contains__(self, name: object) -> bool:
        return isinstance(name, str) and len(name) == 4 and self._database.airport(name) is not None


def _airport_letter(route_input: RouteInput, rng: random.Random, database: NavDatabase) -> Iterator[RouteInput]:
    for end in _shuffle(["departure", "destination"], rng):
        meant = route_input.departure if end == "departure" else route_input.destination
        for name, _ in _shuffle(words_one_error_away(meant, _FourLetterAirports(database)), rng):
            departure, destination = (name, "") if end == "departure" else ("", name)
            yield replace(
                route_input,
                departure=departure or route_input.departure,
                destination=destination or route_input.destination,
            )


PLANTERS: dict[str, _Planter] = {
    "letter to a known name": _letter_to_known,
    "letter to an unknown name": _letter_to_unknown,
    "points exchanged": _points_exchanged,
    "point repeated": _point_repeated,
    "airway number": _airway_number,
    "exit too far": _exit_too_far,
    "entry too far": _entry_too_far,
    "procedure number": _procedure_number,
    "position digit": _plant_position(EntryError.DIGIT_CHANGED),
    "position digits swapped": _plant_position(EntryError.DIGITS_SWAPPED),
    "position hemisphere": _plant_position(EntryError.HEMISPHERE),
    "latitude and longitude exchanged": _plant_position(EntryError.LATITUDE_LONGITUDE),
    "half degree": _plant_position(EntryError.HALF_DEGREE),
}
"""Every kind that is an error in the text, with its planter."""
ENDS: dict[str, Callable[[RouteInput, random.Random, NavDatabase], Iterator[RouteInput]]] = {
    "ends exchanged": _ends_exchanged,
    "airport letter": _airport_letter,
}
"""The kinds that are errors of the aerodromes beside the text."""
POSITION_KINDS = frozenset(k for k in PLANTERS if "position" in k or "latitude" in k or "half" in k)
"""The kinds that need a typed position: write one point as coordinates first (`with_position`)."""
