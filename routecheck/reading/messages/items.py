"""The items of a filed flight plan to values of a RouteInput (ICAO Doc 4444 Appendix 2); each enters what it read."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from routecheck.model import PlanTotals, Span, Use, complete_off_block, off_block_day
from routecheck.reading.messages.item_18 import (
    INDICATORS,
    Indicator,
    cut_item_18,
    cut_item_19,
    read_day,
    read_entries,
    read_minutes,
    read_time,
)
from routecheck.reading.messages.splitting import strip_span

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.reading.messages.ledger import Ledger

UNLISTED = "ZZZZ"
"""Stands where an aerodrome has no location indicator: Item 18 then says which it is."""
_AIR_FILED = "AFIL"
_NO_CHECK = "read, and used by no check"
_WORDS = re.compile(r"\S+")


@dataclass(slots=True, kw_only=True)
class ItemReader:
    """What was read of one message so far. `text` is in capitals."""

    text: str
    ledger: Ledger
    values: dict[str, Any] = field(default_factory=dict)
    totals: dict[str, Any] = field(default_factory=dict)
    flight: str = ""
    route: Span | None = None
    route_in_item_18: Span | None = None
    remarks: list[str] = field(default_factory=list)

    def read(self, items: dict[int, Span]) -> None:
        """Read every item there is, in order."""
        for number, span in sorted(items.items()):
            _READERS[number](self, span)
        if self.totals:
            self.values["stated_totals"] = PlanTotals(**self.totals)

    def read_identity(self, span: Span) -> None:
        """Item 7: the flight, perhaps with its transponder code."""
        self.flight, slash, _ = self.text[span.start : span.end].partition("/")
        behind = span.start + len(self.flight)
        self.ledger.enter(Span(span.start, behind), "Item 7")
        if slash:
            self.ledger.enter(Span(behind, span.end), "transponder code", Use.NOT_USED, _NO_CHECK)

    def read_rules(self, span: Span) -> None:
        """Item 8: flight rules and type of flight."""
        self.values["rules"] = self.text[span.start]
        self.ledger.enter(Span(span.start, span.start + 1), "Item 8 rules")
        self.ledger.enter(Span(span.start + 1, span.end), "Item 8 type of flight", Use.NOT_USED, _NO_CHECK)

    def read_aircraft(self, span: Span) -> None:
        """Item 9: number, type, wake turbulence category."""
        self.ledger.enter(span, "Item 9", Use.NOT_USED, _NO_CHECK)

    def read_equipment(self, span: Span) -> None:
        """Item 10: equipment, and behind the slash surveillance."""
        equipment, slash, _ = self.text[span.start : span.end].partition("/")
        self.values["equipment"] = "".join(equipment.split())
        behind = span.start + len(equipment)
        self.ledger.enter(Span(span.start, behind), "Item 10 equipment")
        if slash:
            self.ledger.enter(Span(behind, span.end), "Item 10 surveillance", Use.NOT_USED, _NO_CHECK)

    def read_departure(self, span: Span) -> None:
        """Item 13: aerodrome and time of departure."""
        ident = self.text[span.start : span.start + 4]
        self.values["departure"] = "" if ident in (UNLISTED, _AIR_FILED) else ident
        self.ledger.enter(Span(span.start, span.start + 4), "Item 13 aerodrome")
        self._read_off_block(strip_span(self.text, Span(span.start + 4, span.end)))
        if ident == _AIR_FILED:
            self.remarks.append("The plan was filed in the air (AFIL): the route has no departure aerodrome.")

    def _read_off_block(self, span: Span) -> None:
        """The time of Item 13: estimated off-block."""
        time = read_time(self.text[span.start : span.end])
        if span.end == span.start:
            self.remarks.append("Item 13 has no time of departure.")
        elif time is None:
            self.ledger.enter(span, "Item 13 time", Use.UNREAD, "it is four digits of hours and minutes of a day")
        else:
            self.values["off_block"] = complete_off_block(self.values.get("off_block"), time)
            self.ledger.enter(span, "Item 13 time")

    def read_route(self, span: Span) -> None:
        """Item 15: speed, level and route, whose words are read in route_text."""
        self.route = span
        self.ledger.enter(span, "Item 15")

    def read_destination(self, span: Span) -> None:
        """Item 16: destination, total elapsed time, alternates."""
        words = [Span(*match.span()) for match in _WORDS.finditer(self.text, span.start, span.end)]
        ident = Span(span.start, span.start + 4)
        self.values["destination"] = self._aerodrome(ident)
        self.ledger.enter(ident, "Item 16 destination")
        rest = [Span(ident.end, words[0].end), *words[1:]] if words[0].end > ident.end else words[1:]
        if rest and self.text[rest[0].start].isdigit():
            self._read_total_time(rest.pop(0))
        if rest:
            self.values["alternate"] = tuple(filter(None, (self._aerodrome(one) for one in rest)))
            for one in rest:
                self.ledger.enter(one, "Item 16 alternate")

    def _aerodrome(self, span: Span) -> str:
        ident = self.text[span.start : span.end]
        return "" if ident == UNLISTED else ident

    def _read_total_time(self, span: Span) -> None:
        minutes = read_minutes(self.text[span.start : span.end])
        if minutes is None:
            self.ledger.enter(span, "Item 16 elapsed time", Use.UNREAD, "it is four digits of hours and minutes")
        else:
            self.totals["time_min"] = minutes
            self.ledger.enter(span, "Item 16 elapsed time")

    def read_other(self, span: Span) -> None:
        """Item 18: indicators; 0 says that there are none."""
        if self.text[span.start : span.end] == "0":
            self.ledger.enter(span, "Item 18")
            return
        for indicator in cut_item_18(self.text, span):
            _INDICATOR_READERS.get(indicator.letters, ItemReader.read_unused)(self, indicator)

    def read_unused(self, indicator: Indicator) -> None:
        """An indicator that nothing uses, or that Item 18 has not."""
        if indicator.letters in INDICATORS:
            self.ledger.enter(indicator.span, f"Item 18 {indicator.letters}/", Use.NOT_USED, _NO_CHECK)
        else:
            self.ledger.enter(indicator.span, "Item 18", Use.UNREAD, "no indicator of that name is known")

    def read_day(self, indicator: Indicator) -> None:
        """DOF/: the day of flight."""
        day = read_day(self._value(indicator))
        if off_block_day(self.values.get("off_block")):
            self._refuse_second(indicator)
        elif day:
            self.values["off_block"] = complete_off_block(self.values.get("off_block"), day)
            self.ledger.enter(indicator.span, "Item 18 DOF/")
        else:
            self.ledger.enter(indicator.span, "Item 18", Use.UNREAD, "a day is year, month and day, as in 261203")

    def read_navigation(self, indicator: Indicator) -> None:
        """PBN/: codes of a letter and a digit each."""
        if "pbn" in self.values:
            self._refuse_second(indicator)
            return
        self.values["pbn"] = "".join(self._value(indicator).split())
        self.ledger.enter(indicator.span, "Item 18 PBN/")

    def _refuse_second(self, indicator: Indicator) -> None:
        """An indicator that may stand once: the first is used, of the second it is said that it is not."""
        self.ledger.enter(indicator.span, "Item 18", Use.UNREAD, f"{indicator.letters}/ stands there before")

    def read_elapsed(self, indicator: Indicator) -> None:
        """EET/: boundaries and points with the time from take-off; DLE/: points with a delay."""
        entries, unread = read_entries(self.text, indicator.value)
        if not entries and not unread:
            why = f"nothing stands behind {indicator.letters}/"
            self.ledger.enter(indicator.span, "Item 18", Use.UNREAD, why)
            return
        name = "elapsed" if indicator.letters == "EET" else "delays"
        self.values[name] = (*self.values.get(name, ()), *entries)
        at = indicator.span.start
        for span in unread:
            self.ledger.enter(Span(at, span.start), f"Item 18 {indicator.letters}/")
            why = "it is a name and four digits of hours and minutes"
            self.ledger.enter(span, f"an entry of {indicator.letters}/", Use.UNREAD, why)
            at = span.end
        self.ledger.enter(Span(at, indicator.span.end), f"Item 18 {indicator.letters}/")

    def read_aerodrome(self, indicator: Indicator) -> None:
        """DEP/, DEST/, ALTN/: the aerodrome for which its item has ZZZZ, by name or position."""
        name = {"DEP": "departure", "DEST": "destination"}.get(indicator.letters, "alternate")
        value = " ".join(self._value(indicator).split())
        what = f"Item 18 {indicator.letters}/"
        if not value or self.values.get(name):
            self.ledger.enter(indicator.span, what, Use.NOT_USED, "read, and the aerodrome stands in its own item")
            return
        self.values[name] = (value,) if name == "alternate" else value
        self.ledger.enter(indicator.span, what)

    def read_route_again(self, indicator: Indicator) -> None:
        """RTE/: a route text in Item 18, as earlier editions and repetitive plans have it (from memory)."""
        self.route_in_item_18 = indicator.value
        if self.route is None:
            self.ledger.enter(Span(indicator.span.start, indicator.value.start), "Item 18 RTE/")
            self.read_route(indicator.value)
        else:
            self.ledger.enter(indicator.span, "Item 18 RTE/", Use.NOT_USED, "not checked, as Item 15 is the route")

    def read_supplement(self, span: Span) -> None:
        """Item 19: endurance, and what no check uses."""
        for indicator in cut_item_19(self.text, span):
            self._read_supplement(indicator)

    def _read_supplement(self, indicator: Indicator) -> None:
        what = f"Item 19 {indicator.letters}/" if indicator.letters else "Item 19"
        if indicator.letters != "E":
            use = Use.NOT_USED if indicator.letters else Use.UNREAD
            self.ledger.enter(indicator.span, what, use, _NO_CHECK if indicator.letters else "")
        elif (minutes := read_minutes(self._value(indicator))) is None:
            self.ledger.enter(indicator.span, what, Use.UNREAD, "endurance is four digits of hours and minutes")
        else:
            self.totals["endurance_min"] = minutes
            self.ledger.enter(indicator.span, what)

    def _value(self, indicator: Indicator) -> str:
        return self.text[indicator.value.start : indicator.value.end]


_READERS: dict[int, Callable[[ItemReader, Span], None]] = {
    7: ItemReader.read_identity,
    8: ItemReader.read_rules,
    9: ItemReader.read_aircraft,
    10: ItemReader.read_equipment,
    13: ItemReader.read_departure,
    15: ItemReader.read_route,
    16: ItemReader.read_destination,
    18: ItemReader.read_other,
    19: ItemReader.read_supplement,
}
_INDICATOR_READERS: dict[str, Callable[[ItemReader, Indicator], None]] = {
    "DOF": ItemReader.read_day,
    "PBN": ItemReader.read_navigation,
    "EET": ItemReader.read_elapsed,
    "DLE": ItemReader.read_elapsed,
    "DEP": ItemReader.read_aerodrome,
    "DEST": ItemReader.read_aerodrome,
    "ALTN": ItemReader.read_aerodrome,
    "RTE": ItemReader.read_route_again,
}
