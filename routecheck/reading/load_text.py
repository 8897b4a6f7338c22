"""Weights and fuel in a line of text, as they are read out: "ZFW 54,200 BLOCK 9,100 TAXI 200 KG". No adding up here."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from routecheck.model import RESERVE_RULES, Load, Span, Use, half_digit
from routecheck.reading.tokens import to_capitals

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.reading.messages.ledger import Ledger

LABELS = {
    "basic_operating_weight": ("BOW", r"BASIC OPERATING (?:WEIGHT|MASS)|DRY OPERATING (?:WEIGHT|MASS)|BOW|DOW|DOM"),
    "crew_weight": ("CREW", r"CREW(?: (?:WEIGHT|MASS))?"),
    "passengers": ("PAX", r"PASSENGERS|PAX"),
    "passenger_weight": ("EACH", r"PASSENGER WEIGHT|PAX WEIGHT|EACH"),
    "baggage": ("BAGGAGE", r"BAGGAGE|BAGS"),
    "payload": ("PAYLOAD", r"PAYLOAD|PLD|TRAFFIC LOAD"),
    "zero_fuel_weight": ("ZFW", r"E?ZFW|ZFM|ZERO FUEL (?:WEIGHT|MASS)"),
    "take_off_weight": ("TOW", r"E?TOW|TOM|TAKE[- ]?OFF (?:WEIGHT|MASS)"),
    "landing_weight": ("LW", r"E?LDW|E?LAW|E?LW|LM|LANDING (?:WEIGHT|MASS)"),
    "block_fuel": ("BLOCK", r"(?:BLOCK|RAMP)(?: FUEL)?|TOTAL FUEL"),
    "taxi_fuel": ("TAXI", r"TAXI(?:[- ]?OUT)?(?: FUEL)?"),
    "trip_fuel": ("TRIP", r"TRIP(?: FUEL)?"),
    "contingency_fuel": ("CONTINGENCY", r"CONT(?:INGENCY)?(?: FUEL)?(?: \d{1,2} ?(?:%|PCT))?"),
    "alternate_fuel": ("ALTERNATE", r"(?:ALTN|ALTERNATE|DIVERSION)(?: FUEL)?(?: [A-Z]{4}\b)?"),
    "final_reserve_fuel": ("FINAL RESERVE", r"FINAL RES(?:ERVE)?(?: FUEL)?|FINRES|RESERVE(?: FUEL)?"),
    "extra_fuel": ("EXTRA", r"(?:EXTRA|DISCRETIONARY)(?: FUEL)?"),
    "landing_fuel": ("LANDING FUEL", r"LANDING FUEL|FUEL (?:LEFT )?AT (?:LANDING|DESTINATION)"),
    "alternate_min": ("ALTERNATE MIN", r"ALTERNATE MIN"),
    "final_reserve_min": ("RESERVE MIN", r"RESERVE MIN"),
    "v1_kt": ("V1", "V1"),
    "vr_kt": ("VR", "VR"),
    "v2_kt": ("V2", "V2"),
    "zero_fuel_weight_entered": ("ZFW ENTERED", r"ZFW (?:AS )?ENTERED"),
    "take_off_weight_entered": ("TOW ENTERED", r"TOW (?:AS )?ENTERED"),
}
"""For every figure the label that we write, and those that we read, in capitals."""
_LONGEST_FIRST = sorted(LABELS, key=lambda name: len(LABELS[name][0]), reverse=True)
_ANY_LABEL = "|".join(f"(?P<{name}>{LABELS[name][1]})" for name in _LONGEST_FIRST)
_FIGURE = re.compile(
    rf"(?<![A-Z0-9/.])(?:{_ANY_LABEL})(?![A-Z0-9])[ \t.:=]*"
    r"(?P<figure>\d{1,3}(?:,\d{3})+|\d{1,8}(?:\.\d{1,3})?)(?![\w,.]*\d|:\d)"
    r"(?:[ \t]*(?P<mass>KGS?|LBS?)\b|(?P<other>[ \t]*(?:MIN|NM|FT|%|PCT|H|HR|HOURS)\b))?"
    r"(?:[ \t]*[X×*][ \t]*(?P<each>\d{1,3}(?:\.\d)?)(?:[ \t]*(?P<mass_of_each>KGS?|LBS?)\b)?)?"
)
_UNIT = re.compile(
    r"(?:(?:ALL )?(?:WEIGHTS?|MASS(?:ES)?|FUEL|FIGURES|UNITS?)(?: (?:AND|IN|ARE|FUEL|ALL|:))* )?\b(KGS?|LBS?)\b"
)
_RULE = re.compile(
    r"RULE[ :=]*(?P<rule>(?:91|121)\.\d{3}(?: (?:DAY|NIGHT|HELICOPTER))?|ANNEX 6(?: (?:TURBINE|PISTON))?)"
)
_RULE_NAMES = {"ANNEX": "Annex", "TURBINE": "turbine", "PISTON": "piston", "DAY": "day", "NIGHT": "night"}
_RULE_NAMES |= {"HELICOPTER": "helicopter"}


@dataclass(slots=True, kw_only=True)
class LoadText:
    """What was found in a text: figures with half of their last digit, units, and where each of them stands."""

    figures: dict[str, float] = field(default_factory=dict)
    halves: dict[str, float] = field(default_factory=dict)
    units: list[str] = field(default_factory=list)
    rule: str = ""
    spans: list[Span] = field(default_factory=list)
    contradictions: list[tuple[Span, str]] = field(default_factory=list)
    """Figures that were stated before with another value, and why each is not taken."""

    def make_load(self) -> Load | None:
        """The figures as a value; None where there is none. With two units stated neither is taken."""
        if not self.figures:
            return None
        units = set(self.units)
        halves = tuple((name, half) for name, half in self.halves.items() if half != half_digit(self.figures[name]))
        return Load(
            units.pop() if len(units) == 1 else "",
            reserve_rule=self.rule if self.rule in RESERVE_RULES else "",
            **self.figures,
            halves=halves,
        )

    @property
    def remarks(self) -> tuple[str, ...]:
        """What was assumed, or could not be: that two units are stated, in one sentence."""
        return (
            ("Weights and fuel are stated in kg and in lb: neither is taken for all.",) if self.are_units_mixed else ()
        )

    @property
    def are_units_mixed(self) -> bool:
        """Whether both kg and lb are stated."""
        return len(set(self.units)) > 1


def find_load(text: str, start: int, end: int, found: LoadText) -> None:
    """Find labelled figures in a stretch of a text in capitals, and the units that stand by themselves."""
    for match in _FIGURE.finditer(text, start, end):
        if match["other"] is None:
            _take_figure(match, found)
    taken = list(found.spans)
    for match in _UNIT.finditer(text, start, end):
        span = Span(*match.span())
        if not any(span.overlaps(one) for one in taken):
            found.units.append(match[1][:2].lower())
            found.spans.append(span)
    if rule := _RULE.search(text, start, end):
        found.rule = " ".join(_RULE_NAMES.get(word, word) for word in rule["rule"].split())
        found.spans.append(Span(*rule.span()))


def _take_figure(match: re.Match[str], found: LoadText) -> None:
    name = next(name for name in LABELS if match[name])
    span = Span(*match.span())
    figure = _split(match["figure"])
    if name in found.figures and found.figures[name] != figure[0]:
        found.contradictions.append((span, f"{LABELS[name][0]} is stated twice, differently; the first is taken"))
        return
    found.figures[name], found.halves[name] = figure
    if match["each"] and name == "passengers":
        found.figures["passenger_weight"], found.halves["passenger_weight"] = _split(match["each"])
    found.units += [unit[:2].lower() for unit in (match["mass"], match["mass_of_each"]) if unit]
    found.spans.append(span)


def read_figure(text: str) -> tuple[float, float] | None:
    """A figure as it is typed by itself ("54,200", "84.5"), and half of its last digit; None where it is none."""
    stripped = text.strip()
    return _split(stripped) if _PLAIN.fullmatch(stripped) else None


def _split(text: str) -> tuple[float, float]:
    """A figure, and half of its last digit."""
    digits = len(text.partition(".")[2])
    return float(text.replace(",", "")), 0.5 * 10.0**-digits


def enter_load(capitals: str, ledger: Ledger, lines: list[Span], around: str) -> LoadText:
    """Find weights and fuel in lines around a plan, and enter in the account what each line was taken for."""
    found = LoadText()
    labelled = [line for line in lines if _states_mass(capitals, line)]
    for line in labelled:
        find_load(capitals, line.start, line.end, found)
    is_load = len(found.figures) >= _LEAST
    spans = sorted(found.spans) if is_load else []
    for span in spans:
        ledger.enter(span, "weights and fuel")
    for span, why in found.contradictions if is_load else ():
        ledger.enter(span, "weights and fuel", Use.UNREAD, why)
    taken = sorted([*spans, *(span for span, _ in found.contradictions if is_load)])
    for line in lines:
        for rest in _leave_out(line, taken):
            ledger.enter_around(rest, around)
    return found if is_load else LoadText()


_LINE = re.compile(r"\S(?:[^\r\n]*\S)?")
_PLAIN = re.compile(r"(?:\d{1,3}(?:,\d{3})+|\d{1,9})(?:\.\d{1,3})?", re.ASCII)
_LEAST = 2
"""One labelled number alone may be anything; two say that it is a plan's weights and fuel: our choice."""


def hide_load(text: str) -> tuple[str, list[Span]]:
    """A text with blanks in place of the lines that state weights and fuel and little else, and these lines.

    They are no rows of a table, however they line up.
    """
    capitals = to_capitals(text)
    lines = [Span(*match.span()) for match in _LINE.finditer(capitals) if _is_load(capitals, *match.span())]
    if sum(len(_FIGURE.findall(capitals, line.start, line.end)) for line in lines) < _LEAST:
        return text, []
    for line in lines:
        text = text[: line.start] + " " * (line.end - line.start) + text[line.end :]
    return text, lines


def _is_load(text: str, start: int, end: int) -> bool:
    """Whether labelled figures and units are most of a line."""
    found = LoadText()
    find_load(text, start, end, found)
    taken = sum(len(text[span.start : span.end].replace(" ", "")) for span in found.spans)
    whole = len(text[start:end].replace(" ", ""))
    return bool(found.figures) and taken > whole / 2


def _states_mass(text: str, line: Span) -> bool:
    """Whether a line has a labelled figure, or says no more than the unit."""
    if _FIGURE.search(text, line.start, line.end):
        return True
    return bool(_UNIT.fullmatch(text[line.start : line.end].strip(" .:\t")))


def _leave_out(line: Span, taken: list[Span]) -> Iterator[Span]:
    start = line.start
    for span in taken:
        if span.overlaps(line):
            yield Span(start, span.start)
            start = span.end
    yield Span(start, line.end)
