"""Planting one entry error of a named kind into a clean route, with the truth kept.

Only where it can be seen in principle: the error changes the length of the route by 10 NM and more, or breaks a rule
(a name that does not exist, an airway that does not lead there, a procedure of another airport). That holds for errors
of the aerodromes beside the text as well: both exist, and the route as read with them is that much longer or shorter,
or contradicts the data. Deterministic for a seeded random generator.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING, TypeVar

from routecheck.corrections.plausibility import CandidateConnection
from routecheck.corrections.sketch import Sketch, sketch
from routecheck.entry_errors import positions, words
from routecheck.entry_errors.costs import Slip
from routecheck.model import Place, PlaceKind, RouteInput, Span, Via, WordKind
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
_WITH_A_POINT = 3
"""Two aerodromes and a point between them, without which nothing tells one aerodrome from another."""


@dataclass(frozen=True, slots=True)
class Planted:
    """A route with one entry error in it. `spans` are the words as typed wrong; `clean` is the route without it.

    `added_nm` is what the error adds to the line (negative = shortens); `breaks` whether it contradicts the data.
    """

    kind: str
    route_input: RouteInput
    clean: RouteInput
    spans: tuple[Span, ...]
    added_nm: float
    breaks: bool


@dataclass(frozen=True, slots=True)
class _Try:
    """One possible error: what stands there instead, and what the stretch around it would look like."""

    span: Span
    text: str
    first: int
    last: int
    nodes: tuple[Place | None, ...]
    ways: tuple[CandidateConnection, ...]


_T = TypeVar("_T")
_Planter = Callable[[Sketch, "random.Random"], "Iterator[_Try]"]


def plant(
    kind: str, route_input: RouteInput, database: NavDatabase, date: dt.date, rng: random.Random
) -> Planted | None:
    """Plant one error of that kind, or None where the route offers no place for it."""
    drawn = sketch(resolve(read_route(route_input), database, date), database)
    if kind in ENDS:
        tried = (_at_ends(kind, drawn, wrong, date) for wrong in ENDS[kind](route_input, rng, database))
        return next((planted for planted in tried if planted), None)
    for attempt in PLANTERS[kind](drawn, rng):
        planted = _judged(kind, drawn, attempt, date)
        if planted:
            return planted
    return None


def with_position(
    route_input: RouteInput, database: NavDatabase, date: dt.date, rng: random.Random
) -> RouteInput | None:
    """The same route with one of its named points written as its coordinates in whole minutes; None if it has none."""
    drawn = sketch(resolve(read_route(route_input), database, date), database)
    named = [(word, drawn.nodes[i]) for i, word in _named(drawn)]
    word, place = rng.choice(named) if named else (None, None)
    if word is None or place is None:
        return None
    return replace(route_input, route=_put(route_input.route, word.span, in_minutes(place.lat, place.lon)))


def in_minutes(lat: float, lon: float) -> str:
    """A position in degrees and whole minutes, the form of Item 15: 4620N07805W."""
    north, east = round(abs(lat) * 60), round(abs(lon) * 60)
    lat_text = f"{north // 60:02d}{north % 60:02d}{'S' if lat < 0 else 'N'}"
    return f"{lat_text}{east // 60:03d}{east % 60:02d}{'W' if lon < 0 else 'E'}"


def _judged(kind: str, drawn: Sketch, attempt: _Try, date: dt.date) -> Planted | None:
    """The planted error, if it can be seen: first by its stretch alone, then as the whole text is really read.

    A name that is there twice may be read as the other place with the error in, and the error be none.
    """
    before = drawn.looks(attempt.first, attempt.last)
    after = drawn.looks_with(attempt.first, attempt.last, attempt.nodes, attempt.ways)
    if not _seen(after.length_nm - before.length_nm, breaks=after.features.defects > before.features.defects):
        return None
    clean = drawn.resolved.parsed.route_input
    route_input = replace(clean, route=_put(clean.route, attempt.span, attempt.text))
    read = sketch(resolve(read_route(route_input), drawn.database, date), drawn.database)
    added, breaks = _length(read) - _length(drawn), _broken(read) > _broken(drawn)
    span = Span(attempt.span.start, attempt.span.start + len(attempt.text))
    return Planted(kind, route_input, clean, (span,), added, breaks) if _seen(added, breaks=breaks) else None


def _at_ends(kind: str, drawn: Sketch, wrong: RouteInput, date: dt.date) -> Planted | None:
    """An error of the aerodromes, if both exist and it can be seen in the route as it is really read with it."""
    read = sketch(resolve(read_route(wrong), drawn.database, date), drawn.database)
    if any(one.nodes[0] is None or one.nodes[-1] is None for one in (drawn, read)) or len(read.nodes) < _WITH_A_POINT:
        return None
    added, breaks = _length(read) - _length(drawn), _broken(read) > _broken(drawn)
    if not _seen(added, breaks=breaks):
        return None
    return Planted(kind, wrong, drawn.resolved.parsed.route_input, (), added, breaks)


def _seen(added_nm: float, *, breaks: bool) -> bool:
    return breaks or abs(added_nm) >= DETECTABLE_NM


def _length(drawn: Sketch) -> float:
    return drawn.looks(0, len(drawn.nodes) - 1).length_nm


def _broken(drawn: Sketch) -> float:
    """How many rules a route breaks: what contradicts the data, and points that stand twice in a row."""
    twice = sum(a is not None and b is not None and airways.same(a, b) for a, b in pairwise(drawn.nodes))
    return drawn.looks(0, len(drawn.nodes) - 1).features.defects + twice


def _put(text: str, span: Span, new: str) -> str:
    return text[: span.start] + new + text[span.end :]


def _named(drawn: Sketch) -> list[tuple[int, Word]]:
    """The stops inside the route that a NAME word gives, with their words."""
    return [(i, word) for i, word in _typed(drawn) if word.kind is WordKind.NAME]


def _typed(drawn: Sketch) -> list[tuple[int, Word]]:
    found = []
    for index in range(1, len(drawn.nodes) - 1):
        route_point = drawn.route_points[index]
        if route_point.word is not None and not route_point.implied and route_point.place is not None:
            found.append((index, drawn.resolved.parsed.words[route_point.word]))
    return found


def _node(drawn: Sketch, index: int, span: Span, text: str, place: Place | None) -> _Try:
    nodes = (drawn.nodes[index - 1], place, drawn.nodes[index + 1])
    return _Try(span, text, index - 1, index + 1, nodes, drawn.ways[index - 1 : index + 1])


def _shuffled(items: list[_T], rng: random.Random) -> list[_T]:
    return rng.sample(items, len(items))


def _letter_to_known(drawn: Sketch, rng: random.Random) -> Iterator[_Try]:
    for index, word in _shuffled(_named(drawn), rng):
        for name, _ in _shuffled(words.one_error_off(word.text, drawn.database.names()), rng):
            for place in drawn.database.places(name)[:1]:
                yield _node(drawn, index, word.span, name, place)


class _Unknown:
    """Every string that is no name of the library."""

    def __init__(self, database: NavDatabase) -> None:
        self._database = database

    def __contains__(self, name: object) -> bool:
        known = isinstance(name, str) and (self._database.places(name) or self._database.airways(name))
        return not known and isinstance(name, str) and len(name) >= 3


def _letter_to_unknown(drawn: Sketch, rng: random.Random) -> Iterator[_Try]:
    unknown = _Unknown(drawn.database)
    for index, word in _shuffled(_named(drawn), rng):
        if len(word.text) >= 4:
            name, _ = rng.choice(words.one_error_off(word.text, unknown))
            yield _node(drawn, index, word.span, name, None)


def _exchanged(drawn: Sketch, rng: random.Random) -> Iterator[_Try]:
    typed = dict(_typed(drawn))
    text = drawn.resolved.parsed.route_input.route
    for index in _shuffled([i for i in typed if i + 1 in typed], rng):
        one, two = typed[index], typed[index + 1]
        new = two.text + text[one.span.end : two.span.start] + one.text
        nodes = (drawn.nodes[index - 1], drawn.nodes[index + 1], drawn.nodes[index], drawn.nodes[index + 2])
        yield _Try(
            Span(one.span.start, two.span.end), new, index - 1, index + 2, nodes, drawn.ways[index - 1 : index + 2]
        )


def _repeated(drawn: Sketch, rng: random.Random) -> Iterator[_Try]:
    for index, word in _shuffled(_typed(drawn), rng):
        here = drawn.nodes[index]
        nodes = (drawn.nodes[index - 1], here, here, drawn.nodes[index + 1])
        ways = (
            drawn.ways[index - 1],
            CandidateConnection(Via.AIRWAY),
            drawn.ways[index],
        )  # an airway of no length: counts as a defect
        yield _Try(word.span, f"{word.text} {word.text}", index - 1, index + 1, nodes, ways)


def _airway_number(drawn: Sketch, rng: random.Random) -> Iterator[_Try]:
    for index in _shuffled([i for i, way in enumerate(drawn.ways) if way.via is Via.AIRWAY], rng):
        connection = drawn.resolved.connections[index]
        if len(connection.words) != 1 or drawn.route_points[index].implied or drawn.route_points[index + 1].implied:
            continue
        word = drawn.resolved.parsed.words[connection.words[0]]
        for name, _ in _shuffled(words.designators_off(word.text, drawn.database.airway_names()), rng):
            ways = (CandidateConnection(Via.AIRWAY, name, drawn.database.airways(name)),)
            yield _Try(word.span, name, index, index + 1, drawn.nodes[index : index + 2], ways)


def _exit_too_far(drawn: Sketch, rng: random.Random) -> Iterator[_Try]:
    for index, word in _shuffled(_named(drawn), rng):
        way, entered, typed = drawn.ways[index - 1], drawn.nodes[index - 1], drawn.nodes[index]
        if way.via is Via.AIRWAY and entered is not None and typed is not None:
            beyond = _beyond(way, entered, typed)
            for place in _shuffled(beyond[:6], rng):
                yield _node(drawn, index, word.span, place.ident, place)


def _entry_too_far(drawn: Sketch, rng: random.Random) -> Iterator[_Try]:
    for index, word in _shuffled(_named(drawn), rng):
        way, typed, leaving = drawn.ways[index], drawn.nodes[index], drawn.nodes[index + 1]
        if way.via is Via.AIRWAY and typed is not None and leaving is not None:
            for place in _shuffled(_beyond(way, leaving, typed)[:6], rng):
                yield _node(drawn, index, word.span, place.ident, place)


def _beyond(way: CandidateConnection, fixed: Place, other: Place) -> list[Place]:
    """The points of the airway that lie beyond `other` as seen from `fixed`, nearest first."""
    for piece in way.pieces:
        start, end = airways.position_on(piece, fixed), airways.position_on(piece, other)
        if start is not None and end is not None:
            places = list(piece.places)
            return places[int(end) + 1 :] if end > start else places[: -int(-end // 1)][::-1]
    return []


def _position(slip: Slip) -> _Planter:
    def planter(drawn: Sketch, rng: random.Random) -> Iterator[_Try]:
        for index, word in _shuffled([p for p in _typed(drawn) if p[1].kind is WordKind.POSITION], rng):
            others = [text for text, kind in positions.one_error_off(word.text) if kind is slip]
            for text in _shuffled(others, rng):
                value = positions.value_of(text)
                if value:
                    place = Place(text, value[0], value[1], PlaceKind.TYPED)
                    yield _node(drawn, index, word.span, text, place)

    return planter


def _procedure_number(drawn: Sketch, rng: random.Random) -> Iterator[_Try]:
    for index in _shuffled([i for i, way in enumerate(drawn.ways) if way.via is Via.PROCEDURE and way.known], rng):
        connection = drawn.resolved.connections[index]
        if len(connection.words) != 1:
            continue
        word = drawn.resolved.parsed.words[connection.words[0]]
        number = word.text[len(words.stem(word.text))]
        name = words.stem(word.text) + rng.choice([d for d in "123456789" if d != number])
        name += word.text[len(name) :]
        if not drawn.database.procedure_airports(name):
            ways = (CandidateConnection(Via.PROCEDURE, name, known=False),)
            yield _Try(word.span, name, index, index + 1, drawn.nodes[index : index + 2], ways)


def _ends_exchanged(route_input: RouteInput, _: random.Random, __: NavDatabase) -> Iterator[RouteInput]:
    if route_input.departure != route_input.destination and route_input.route.strip():
        yield replace(route_input, departure=route_input.destination, destination=route_input.departure)


def _airport_letter(route_input: RouteInput, rng: random.Random, database: NavDatabase) -> Iterator[RouteInput]:
    for which in _shuffled(["departure", "destination"], rng):
        true = route_input.departure if which == "departure" else route_input.destination
        for name in _shuffled([n for n, _ in words.one_error_off(true, _Airports(database)) if len(n) == 4], rng):
            yield (
                replace(route_input, departure=name) if which == "departure" else replace(route_input, destination=name)
            )


class _Airports:
    def __init__(self, database: NavDatabase) -> None:
        self._database = database

    def __contains__(self, name: object) -> bool:
        return isinstance(name, str) and len(name) == 4 and self._database.airport(name) is not None


PLANTERS: dict[str, _Planter] = {
    "letter to a known name": _letter_to_known,
    "letter to an unknown name": _letter_to_unknown,
    "points exchanged": _exchanged,
    "point repeated": _repeated,
    "airway number": _airway_number,
    "exit too far": _exit_too_far,
    "entry too far": _entry_too_far,
    "procedure number": _procedure_number,
    "position digit": _position(Slip.DIGIT_CHANGED),
    "position digits swapped": _position(Slip.DIGITS_SWAPPED),
    "position hemisphere": _position(Slip.HEMISPHERE),
    "latitude and longitude exchanged": _position(Slip.LATITUDE_LONGITUDE),
    "half degree": _position(Slip.HALF_DEGREE),
}
"""Every kind that is an error in the text, with its planter."""
ENDS: dict[str, Callable[[RouteInput, random.Random, NavDatabase], Iterator[RouteInput]]] = {
    "ends exchanged": _ends_exchanged,
    "airport letter": _airport_letter,
}
"""The kinds that are errors of the aerodromes beside the text."""
POSITION_KINDS = frozenset(k for k in PLANTERS if "position" in k or "latitude" in k or "half" in k)
"""The kinds that need a typed position: write one point as coordinates first (`with_position`)."""
