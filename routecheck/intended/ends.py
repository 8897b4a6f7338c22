"""Corrections of the aerodromes: one letter of an airport off, departure and destination exchanged."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.intended import sphere
from routecheck.intended.edits import Edit, Scorer, edit
from routecheck.model import Via
from routecheck.slips import words
from routecheck.slips.costs import COST, Slip

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.intended.sketch import Sketch
    from routecheck.library.gazetteer import Library
    from routecheck.model import Place

FAR_NM = 300.0
"""An airport nearer its first point than this is not doubted."""
SAVED_NM, SAVED_SHARE = 15.0, 0.2


class _Airports:
    """The four-letter airports there are, as a set that is asked and never listed."""

    def __init__(self, library: Library) -> None:
        self._library = library

    def __contains__(self, name: object) -> bool:
        return isinstance(name, str) and len(name) == 4 and self._library.airport(name) is not None


def end_candidates(drawn: Sketch) -> list[Edit]:
    """The corrections of the aerodromes that are tried."""
    scorer = Scorer(drawn)
    last = len(drawn.nodes) - 1
    if last < 2:
        return []
    return [*_letters(scorer, 0, 1), *_letters(scorer, last, last - 1), *_exchanged(scorer)]


def _letters(scorer: Scorer, end: int, beside: int) -> Iterator[Edit]:
    drawn = scorer.drawn
    typed, near = drawn.nodes[end], drawn.nodes[beside]
    ident = drawn.stops[end].text
    way = drawn.ways[min(end, beside)]
    if way.via is Via.PROCEDURE and way.known:
        return  # a procedure of that airport proves it
    if near is None or len(ident) != 4 or (typed is not None and _apart(typed, near) < FAR_NM):
        return
    for name, _ in words.one_error_off(ident, _Airports(drawn.library)):
        place = drawn.library.airport(name)
        if place is not None and _apart(place, near) < FAR_NM:
            first, last = min(end, beside), max(end, beside)
            nodes = [place if i == end else drawn.nodes[i] for i in (first, last)]
            scored = scorer.stretch(first, last, nodes, drawn.ways[first:last], COST[Slip.AIRPORT_LETTER])
            yield _at_end(drawn, edit(scored, Slip.AIRPORT_LETTER, None, ident, name, first, last), end, name)


def _at_end(drawn: Sketch, one: Edit, end: int, name: str) -> Edit:
    word = drawn.stops[end].word
    if word is not None:
        return replace(one, span=drawn.resolved.parsed.words[word].span)
    return replace(one, departure=name) if end == 0 else replace(one, destination=name)


def _exchanged(scorer: Scorer) -> Iterator[Edit]:
    """Departure and destination exchanged, where both stand beside the text."""
    drawn = scorer.drawn
    last = len(drawn.nodes) - 1
    departure, destination = drawn.stops[0], drawn.stops[last]
    placed = departure.place is not None and destination.place is not None
    if not placed or departure.word is not None or destination.word is not None or departure.text == destination.text:
        return
    if not _fits_better(departure.place, drawn.nodes[1], drawn.nodes[last - 1], destination.place):
        return
    nodes = [drawn.nodes[last], *drawn.nodes[1:last], drawn.nodes[0]]
    scored = scorer.stretch(0, last, nodes, drawn.ways, COST[Slip.ENDS_EXCHANGED])
    old, new = f"{departure.text}–{destination.text}", f"{destination.text}–{departure.text}"
    one = edit(scored, Slip.ENDS_EXCHANGED, None, old, new, 0, last)
    yield replace(one, departure=destination.text, destination=departure.text)


def _fits_better(departure: Place | None, first: Place | None, last: Place | None, destination: Place | None) -> bool:
    """Whether the ends exchanged save enough to be tried at all: as the check ends-exchanged asks."""
    if departure is None or first is None or last is None or destination is None:
        return False
    as_typed = _apart(departure, first) + _apart(last, destination)
    exchanged = _apart(destination, first) + _apart(last, departure)
    return as_typed - exchanged > max(SAVED_NM, SAVED_SHARE * _apart(departure, destination))


def _apart(a: Place, b: Place) -> float:
    return sphere.distance_nm(sphere.unit(a.lat, a.lon), sphere.unit(b.lat, b.lon))
