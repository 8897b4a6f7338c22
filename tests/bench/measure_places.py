"""Entry errors of places beyond the drill's: points typed again, aerodromes that are none, two errors in a closed list.

Planted one a route in real routes in order, judged as measure_intended does.
"""

import random
from collections.abc import Callable, Iterator
from dataclasses import replace

from measure_intended import DAY, judge
from scores import Score

from routecheck.drill.planters import Planted, with_position
from routecheck.entry_errors.words import with_neighbours_swapped, words_one_error_away
from routecheck.model import ResolvedRoute, RouteInput, Span, Via, WordKind
from routecheck.navdata.database import NavDatabase
from routecheck.reading.route_text import read_route
from routecheck.resolution.resolve import resolve

Planter = Callable[
    [RouteInput, ResolvedRoute, random.Random, NavDatabase], Iterator[tuple[RouteInput, tuple[Span, ...]]]
]


class NoAerodromes:
    """Every string of letters that is no aerodrome."""

    def __init__(self, database: NavDatabase) -> None:
        self._database = database

    def __contains__(self, name: object) -> bool:
        return isinstance(name, str) and len(name) >= 3 and self._database.airport(name) is None


class NoNames:
    """Every string that names nothing in the data."""

    def __init__(self, database: NavDatabase) -> None:
        self._database = database

    def __contains__(self, name: object) -> bool:
        return isinstance(name, str) and not (self._database.places(name) or self._database.airways(name))


def _put(route_input: RouteInput, span: Span, new: str) -> RouteInput:
    text = route_input.route
    return replace(route_input, route=text[: span.start] + new + text[span.end :])


def _points(resolved: ResolvedRoute, kind: WordKind = WordKind.NAME) -> list[tuple[int, Span, str]]:
    """The named or typed points between the aerodromes: index, where each stands, what it says."""
    found = []
    for index, point in enumerate(resolved.route_points[1:-1], start=1):
        word = None if point.word is None or point.implied else resolved.parsed.words[point.word]
        if word is not None and word.kind is kind and point.place is not None:
            found.append((index, word.span, word.text))
    return found


def position_twice(
    clean: RouteInput, resolved: ResolvedRoute, rng: random.Random, _: NavDatabase
) -> Iterator[tuple[RouteInput, tuple[Span, ...]]]:
    """A typed position behind itself."""
    for _index, span, text in _points(resolved, WordKind.POSITION):
        again = Span(span.end + 1, span.end + 1 + len(text))
        yield _put(clean, span, f"{text} {text}"), (span, again)


def point_again(
    clean: RouteInput, resolved: ResolvedRoute, rng: random.Random, _: NavDatabase
) -> Iterator[tuple[RouteInput, tuple[Span, ...]]]:
    """A point once more, two or more points later, where the route goes direct."""
    points = _points(resolved)
    for index, span, text in rng.sample(points, len(points)):
        if resolved.connections[index].via not in (Via.DIRECT, Via.IMPLIED):
            continue
        for earlier, _span, name in rng.sample(points, len(points)):
            if index - earlier >= 2 and name != text:
                again = Span(span.end + 1, span.end + 1 + len(name))
                yield _put(clean, span, f"{text} {name}"), (again,)


def no_aerodrome(
    clean: RouteInput, _resolved: ResolvedRoute, rng: random.Random, database: NavDatabase
) -> Iterator[tuple[RouteInput, tuple[Span, ...]]]:
    """A letter of an aerodrome wrong, and there is none of that name."""
    for end in rng.sample(["departure", "destination"], 2):
        names = [name for name, _ in words_one_error_away(getattr(clean, end), NoAerodromes(database))]
        if names:
            yield replace(clean, **{end: rng.choice(names)}), ()


def two_errors_beside_a_procedure(
    clean: RouteInput, resolved: ResolvedRoute, rng: random.Random, database: NavDatabase
) -> Iterator[tuple[RouteInput, tuple[Span, ...]]]:
    """Two letters wrong of the point at which a SID or STAR is joined."""
    yield from _two_errors(clean, resolved, rng, database, Via.PROCEDURE)


def two_errors_on_an_airway(
    clean: RouteInput, resolved: ResolvedRoute, rng: random.Random, database: NavDatabase
) -> Iterator[tuple[RouteInput, tuple[Span, ...]]]:
    """Two letters wrong of a point at which an airway is joined or left."""
    yield from _two_errors(clean, resolved, rng, database, Via.AIRWAY)


def letters_in_another_order(
    clean: RouteInput, resolved: ResolvedRoute, rng: random.Random, database: NavDatabase
) -> Iterator[tuple[RouteInput, tuple[Span, ...]]]:
    """The letters of a point beside a procedure or on an airway in another order."""
    for _index, span, text in _beside(resolved, rng, Via.PROCEDURE, Via.AIRWAY):
        mixed = "".join(rng.sample(text, len(text)))
        if len(text) >= 5 and mixed in NoNames(database) and mixed not in with_neighbours_swapped(text):
            yield _put(clean, span, mixed), (Span(span.start, span.start + len(mixed)),)


def _two_errors(
    clean: RouteInput, resolved: ResolvedRoute, rng: random.Random, database: NavDatabase, via: Via
) -> Iterator[tuple[RouteInput, tuple[Span, ...]]]:
    unknown = NoNames(database)
    for _index, span, text in _beside(resolved, rng, via):
        once = [name for name, _ in words_one_error_away(text, unknown)] if len(text) >= 5 else []
        twice = words_one_error_away(rng.choice(once), unknown) if once else []
        names = [name for name, _ in twice if name != text and name not in once]
        if names:
            new = rng.choice(names)
            yield _put(clean, span, new), (Span(span.start, span.start + len(new)),)


def _beside(resolved: ResolvedRoute, rng: random.Random, *vias: Via) -> list[tuple[int, Span, str]]:
    there = [
        one
        for one in _points(resolved)
        if any(connection.via in vias for connection in resolved.connections[one[0] - 1 : one[0] + 1])
    ]
    return rng.sample(there, len(there))


PLANTERS: dict[str, Planter] = {
    "the same typed position twice": position_twice,
    "a point again later": point_again,
    "an aerodrome that is none": no_aerodrome,
    "two letters beside a procedure": two_errors_beside_a_procedure,
    "two letters on an airway": two_errors_on_an_airway,
    "letters in another order": letters_in_another_order,
}


def places_found(
    routes: list[RouteInput], database: NavDatabase, cases: int, kinds: list[str] | None = None, seed: int = 1
) -> dict[str, Score]:
    """For each kind its score."""
    rng = random.Random(seed)
    scores = {}
    for kind in kinds or PLANTERS:
        score = scores[kind] = Score()
        for clean in rng.sample(routes, len(routes)):
            if score.planted >= cases:
                break
            base = with_position(clean, database, DAY, rng) if kind == "the same typed position twice" else clean
            resolved = resolve(read_route(base), database, DAY) if base else None
            made = next(PLANTERS[kind](base, resolved, rng, database), None) if base and resolved else None
            if made is None:
                continue
            planted = Planted(kind, made[0], base, spans=made[1], added_nm=0.0, breaks=True)
            flagged, first, three, silent = judge(planted, database)
            score.planted += 1
            score.flagged += flagged
            score.first += flagged and first
            score.three += flagged and three
            score.silent += flagged and silent
            score.wrong += flagged and not first and not silent
            if not (flagged and first):
                score.to_look_at.append((planted, flagged, silent))
    return scores
