"""A spoken clearance as a value: what of a route it says, what is as filed, levels, crossings. No RouteInput here."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from routecheck.model import AltitudeWindow, PastedPart, RoutePiece, Span, Use
from routecheck.reading.clearances.phrases import NUMBERS, Phrase, PhraseKind, find_phrases
from routecheck.reading.messages.ledger import Ledger
from routecheck.reading.tokens import to_capitals
from routecheck.reading.value_forms import read_level, read_runway

if TYPE_CHECKING:
    from collections.abc import Callable

_THOUSANDS = (*NUMBERS, "TEN", "ELEVEN", "TWELVE")


@dataclass(frozen=True, slots=True, kw_only=True)
class Clearance:
    """What a clearance says. `route` are words of Item 15; "" = nothing was said."""

    route: str
    pieces: tuple[RoutePiece, ...]
    """Where the words of `route` stand in the text."""
    is_rest_as_filed: bool
    """Whether the route goes on as filed behind its last word (or from the start, where it has none)."""
    destination: str
    level: str
    """The cruising level: a flight level to maintain, else the one to expect."""
    first_altitude: str
    """The altitude to climb to first, in feet ("A050"); "" = none was said."""
    windows: tuple[AltitudeWindow, ...]
    departure_runway: str
    destination_runway: str
    parts: tuple[PastedPart, ...]
    """Every stretch of the text with what it was taken for."""


@dataclass(slots=True, kw_only=True)
class _Reading:
    """What was read of a clearance so far."""

    ledger: Ledger
    words: list[tuple[str, Span]] = field(default_factory=list)
    is_rest_as_filed: bool = False
    destination: str = ""
    maintained: str = ""
    expected: str = ""
    first_altitude: str = ""
    windows: list[AltitudeWindow] = field(default_factory=list)
    runways: dict[str, str] = field(default_factory=dict)

    def take_limit(self, phrase: Phrase) -> None:
        name, span = phrase.values["point"]
        if len(name) == len("XVOR") and name.isalpha():
            self.destination = name
            self._use(phrase, "clearance limit")
        else:
            self.words.append((name, span))
            self._use(phrase, "clearance limit, a point of the route")

    def take_route(self, phrase: Phrase) -> None:
        for name, span in phrase.values.values():
            if not (name == "DCT" and (not self.words or self.words[-1][0] == "DCT")):
                self.words.append((name, span))
        self._use(phrase, "route")

    def take_rest(self, phrase: Phrase) -> None:
        self.is_rest_as_filed = True
        self._use(phrase, "the rest as filed")

    def take_level(self, phrase: Phrase) -> None:
        level = _read_level(phrase)
        if level.startswith("F"):
            self.maintained = level
            self._use(phrase, "level")
        else:
            self.first_altitude = self.first_altitude or level
            self._use(phrase, "first altitude")

    def take_expected(self, phrase: Phrase) -> None:
        self.expected = _read_level(phrase)
        self._use(phrase, "level to expect")

    def take_crossing(self, phrase: Phrase) -> None:
        level = _read_level(phrase)
        feet = float(level[1:]) * 100.0 if level else None
        how = "".join(phrase.values[name][0] for name in ("how", "than") if name in phrase.values)
        low, high = (None if "BELOW" in how else feet), (None if "ABOVE" in how else feet)
        self.windows.append(AltitudeWindow(phrase.values["point"][0], low, high))
        self._use(phrase, "altitude window")

    def take_runway(self, phrase: Phrase) -> None:
        runway, _ = read_runway(phrase.values["runway"][0])
        which = "destination" if phrase.values["which"][0] in ("LANDING", "ARRIVAL") else "departure"
        self.runways[which] = runway
        self._use(phrase, f"{which} runway")

    def take_procedure(self, phrase: Phrase) -> None:
        why = "the altitudes of a procedure are compared whether it is said or not"
        self.ledger.enter(phrase.span, "climb or descend via", Use.NOT_USED, why)

    def take_aside(self, phrase: Phrase) -> None:
        self.ledger.enter(phrase.span, "squawk, frequency, time", Use.NOT_USED, "of no use to a route")

    def _use(self, phrase: Phrase, name: str) -> None:
        self.ledger.enter(phrase.span, name)


_TAKERS: dict[PhraseKind, Callable[[_Reading, Phrase], None]] = {
    PhraseKind.LIMIT: _Reading.take_limit,
    PhraseKind.ROUTE: _Reading.take_route,
    PhraseKind.AS_FILED: _Reading.take_rest,
    PhraseKind.LEVEL: _Reading.take_level,
    PhraseKind.EXPECTED_LEVEL: _Reading.take_expected,
    PhraseKind.CROSSING: _Reading.take_crossing,
    PhraseKind.RUNWAY: _Reading.take_runway,
    PhraseKind.VIA_PROCEDURE: _Reading.take_procedure,
    PhraseKind.ASIDE: _Reading.take_aside,
}


_AROUND = "text around the clearance"


def read_clearance(text: str) -> Clearance:
    """Read a clearance. What is none of its phrases stands among the parts as text around it."""
    reading = _Reading(ledger=Ledger(text))
    begin = 0
    for phrase in find_phrases(to_capitals(text)):
        reading.ledger.enter_around(Span(begin, phrase.span.start), _AROUND)
        _TAKERS[phrase.kind](reading, phrase)
        begin = phrase.span.end
    reading.ledger.enter_around(Span(begin, len(text)), _AROUND)
    route, pieces = _write_route(reading.words, text)
    return Clearance(
        route=route,
        pieces=pieces,
        is_rest_as_filed=reading.is_rest_as_filed,
        destination=reading.destination,
        level=reading.maintained or reading.expected,
        first_altitude=reading.first_altitude,
        windows=tuple(reading.windows),
        departure_runway=reading.runways.get("departure", ""),
        destination_runway=reading.runways.get("destination", ""),
        parts=reading.ledger.close(),
    )


def _write_route(words: list[tuple[str, Span]], text: str) -> tuple[str, tuple[RoutePiece, ...]]:
    route, pieces = "", []
    for word, span in words:
        route += " " if route else ""
        if to_capitals(text[span.start : span.end]) == word:
            pieces.append(RoutePiece(len(route), span))
        route += word
    return route, tuple(pieces)


def _read_level(phrase: Phrase) -> str:
    """A level as Item 15 has it; "" where it is none."""
    text = phrase.values["level"][0]
    if thousands := re.fullmatch(r"([A-Z]+)\s+THOUSAND(?:\s+FEET)?", text):
        return f"A{10 * (1 + _THOUSANDS.index(thousands[1].replace('NINER', 'NINE'))):03}"
    flight_level = re.fullmatch(r"(?:FL|FLIGHT\s+LEVEL)\s*(\d{2,3})", text)
    digits = re.sub(r"\D", "", text)
    return f"F{int(flight_level[1]):03}" if flight_level else read_level(f"A{int(digits) // 100:03}")[0]
