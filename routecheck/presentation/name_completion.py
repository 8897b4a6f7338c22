"""Which names of the loaded data a half-typed word may become, and where they lie. Plain values, no Qt."""

from __future__ import annotations

import re
from itertools import chain
from typing import TYPE_CHECKING

import numpy as np

from routecheck import formatting
from routecheck.earth import geo
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Span
from routecheck.navdata.tables import spot_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from routecheck.model import Airway, PathPoint, Place, Route
    from routecheck.navdata.database import NavDatabase
    from routecheck.navdata.tables import Spot

MOST_NAMES = 12
"""So many names are offered (our choice: no more can be taken in while somebody types)."""
_LEAST_LETTERS = 2
"""One letter fits thousands of names: nothing is offered for it but points of an airway (our choice)."""
_SHARE_LEFT = 0.8
"""How much a mile still to go to the destination counts against one from the last point."""
_OTHER_AERODROME_NM = 50.0
"""What a terminal fix of another aerodrome counts besides. With both the name that is meant comes first after two
letters at 75 % of 1,282 points of 600 published routes, without this at 66 %; by the distance from the last point alone
at 52 %, by that from the whole line so far at 40 %."""
_MOST_AIRWAYS = 8
"""Airways elsewhere are looked up while they are no more than this."""
_WORD = re.compile(r"(?<!\S)[A-Za-z][A-Za-z0-9]{0,6}\Z")
_NO_NAMES = frozenset({"DCT", "IFR", "VFR"})


@dataclass(frozen=True, slots=True)
class NameOffer:
    """A name, what it is ("fix", "airway", "STAR of XVOR"), and in words where it lies from the last point."""

    name: str
    kind: str
    where: str


def typed_word(text: str, at: int) -> Span | None:
    """The word that is being typed, where the cursor stands at its end and it may become a name; else None."""
    if text[at : at + 1].strip():
        return None
    match = _WORD.search(text[:at])
    return None if match is None or match[0].upper() in _NO_NAMES else Span(*match.span())


def offer_names(text: str, at: int, database: NavDatabase, route: Route | None) -> tuple[NameOffer, ...]:
    """The names that the word typed at `at` may become, the likeliest first; () where nothing longer begins so.

    `route` is the newest one that was computed of the text, which may have been typed on since; None = none. After the
    name of an airway its own points are offered, in their order; else procedures of the two aerodromes, airways by the
    last point, and points by how far they are from the last point and from there to the destination.
    """
    word = typed_word(text, at)
    if word is None:
        return ()
    beginning, before = text[word.start : word.end].upper(), text[: word.start]
    way = _airway_before(before, database)
    line = _LineSoFar(route, before[: before.upper().rindex(way)] if way else before)
    offers = _points_of_airway(way, beginning, line, database) if way else ()
    if not offers and len(beginning) >= _LEAST_LETTERS:
        offers = tuple(_names_near(beginning, line, database))
    return tuple(offer for offer in offers if offer.name != beginning)[:MOST_NAMES]


class _LineSoFar:
    """The route as far as it was typed before a word, and where it goes."""

    def __init__(self, route: Route | None, before: str) -> None:
        self.departure = route.route_input.departure if route else ""
        self.destination = route.route_input.destination if route else ""
        points = route.points if route else ()
        text = route.route_input.route if route else ""
        typed = [point for i, point in enumerate(points) if _is_before(point, i, text, before)]
        self.last = next((point for point in reversed(typed) if point.place is not None), None)
        self.is_at_departure = len(typed) <= 1
        end = points[-1] if points else None
        self.end = end.place if end is not None and end.span is None and len(points) > 1 else None

    def score(self, spots: Sequence[Spot]) -> list[float]:
        """How unlikely each is as the next point, in NM."""
        lat, lon = geo.lat_lon_columns([(lat, lon) for _, lat, lon, _ in spots])
        own = ("", self.departure, self.destination)
        scores = np.array([0.0 if airport in own else _OTHER_AERODROME_NM for *_, airport in spots])
        last = self.last.place if self.last else None
        for place, share in ((last, 1.0), (self.end, _SHARE_LEFT)):
            if place is not None:
                here = np.full_like(lat, place.lat), np.full_like(lat, place.lon)
                scores += share * geo.inverse_many(*here, lat, lon)[2]
        return list(scores)

    def describe(self, place: Place) -> str:
        """Where a place lies from the last point; "" where none is placed."""
        if self.last is None or self.last.place is None:
            return ""
        course, _, away = geo.inverse(self.last.place.lat, self.last.place.lon, place.lat, place.lon)
        if not away:
            return f"at {formatting.short(self.last.text)}"
        return f"{formatting.nm(away)} {formatting.course(course, 'T')} from {formatting.short(self.last.text)}"


def _is_before(point: PathPoint, index: int, text: str, before: str) -> bool:
    """Whether a point is the departure, or of a word before this one that still stands where it stood."""
    if point.span is None:
        return index == 0
    end = point.span.end
    return end < len(before) and before[end].isspace() and text[:end] == before[:end]


def _airway_before(before: str, database: NavDatabase) -> str:
    """The airway whose name is the last word, else ""."""
    last = before.upper().split()[-1:]
    return last[0] if last and last[0] in database.airway_names() else ""


def _points_of_airway(name: str, beginning: str, line: _LineSoFar, database: NavDatabase) -> tuple[NameOffer, ...]:
    """Its points that begin so, in their order from the last point on, first the way that leads to the destination."""
    found: dict[str, NameOffer] = {}
    for place in chain.from_iterable(_ways_along(database.airways(name), line)):
        if place.ident.startswith(beginning):
            found.setdefault(place.ident, NameOffer(place.ident, f"{place.kind.value} on {name}", line.describe(place)))
    return tuple(found.values())


def _ways_along(pieces: Sequence[Airway], line: _LineSoFar) -> Iterator[Sequence[Place]]:
    """The places of an airway onward and back from the last point; all of them where it is not on the airway."""
    entry = line.last.place if line.last else None
    joined = [(piece, piece.index_by_key[entry.key]) for piece in pieces if entry and entry.key in piece.index_by_key]
    if not joined:
        yield from (piece.places for piece in pieces)
    ways = [way for piece, i in joined for way in (piece.places[i + 1 :], piece.places[:i][::-1]) if way]
    yield from sorted(ways, key=lambda way: min(line.score([spot_of(place) for place in way])))


def _names_near(beginning: str, line: _LineSoFar, database: NavDatabase) -> Iterator[NameOffer]:
    yield from _procedures(beginning, line, database)
    by_last = database.airways_through(line.last.text) if line.last else frozenset()
    here = sorted(name for name in by_last if name.startswith(beginning))
    yield from (NameOffer(name, "airway", f"by {line.last.text}") for name in here if line.last)
    yield from _points_near(beginning, line, database)
    yield from _airways_elsewhere(beginning, by_last, line, database)


def _procedures(beginning: str, line: _LineSoFar, database: NavDatabase) -> Iterator[NameOffer]:
    """STARs of the destination; SIDs of the departure as long as nothing stands after it."""
    ends = [(line.departure, "SID")] if line.is_at_departure else []
    for airport, kind in (*ends, (line.destination, "STAR")):
        for name in database.procedure_names(airport, kind):
            if name.startswith(beginning):
                yield NameOffer(name, f"{kind} of {airport}", "")


def _points_near(beginning: str, line: _LineSoFar, database: NavDatabase) -> Iterator[NameOffer]:
    for ident, lat, lon, _ in _nearest_of_each(database.spots(beginning), line, MOST_NAMES + 1):
        place = min(database.places(ident), key=lambda p: geo.rough_nm(p.lat, p.lon, lat, lon))
        kind = f"{place.kind.value} of {place.airport}" if place.airport else place.kind.value
        yield NameOffer(ident, kind, line.describe(place))


def _nearest_of_each(spots: Sequence[Spot], line: _LineSoFar, most: int) -> list[Spot]:
    """The likeliest names, of each the likeliest place."""
    best: dict[str, Spot] = {}
    for _, spot in sorted(zip(line.score(spots), spots, strict=True)):
        best.setdefault(spot[0], spot)
        if len(best) == most:
            break
    return list(best.values())


def _airways_elsewhere(
    beginning: str, besides: Iterable[str], line: _LineSoFar, database: NavDatabase
) -> Iterator[NameOffer]:
    """Airways that do not go by the last point, those that come nearest to the way first; none while there are many."""
    names = {name for name in database.airway_names() if name.startswith(beginning)}.difference(besides)
    if len(names) > _MOST_AIRWAYS:
        return
    places = {name: [place for piece in database.airways(name) for place in piece.places] for name in sorted(names)}
    spots = [(name, *spot_of(place)[1:]) for name, along in places.items() for place in along]
    for name, lat, lon, _ in _nearest_of_each(spots, line, len(names)):
        nearest = next(place for place in places[name] if (place.lat, place.lon) == (lat, lon))
        where = line.describe(nearest)
        yield NameOffer(name, "airway", f"{nearest.ident}, {where}" if where else "")
