"""Item 18 and Item 19 of a message: indicators and what stands behind each. What follows from them: items."""

from __future__ import annotations

import datetime as dt
import re
from typing import TYPE_CHECKING, NamedTuple

from routecheck.model import ElapsedTime, Span
from routecheck.reading.messages.splitting import strip_span

if TYPE_CHECKING:
    from collections.abc import Iterator

# Doc 4444 Appendix 2, Item 18, and the indicators of Europe and of earlier editions (these from memory).
_STANDARD = "STS PBN NAV COM DAT SUR DEP DEST DOF REG EET SEL TYP CODE DLE OPR ORGN PER ALTN RALT TALT RIF RMK RTE"
_OTHERS = "RVR RFP IFP SRC EUR AWR STAYINFO"
INDICATORS = frozenset(f"{_STANDARD} {_OTHERS}".split())
_INDICATOR_18 = re.compile(r"(?:(?<![^\s-])|(?<=-18/))(STAYINFO(?=\d?/)|[A-Z]{2,8}\d?(?=/))\d?/")
"""Only STAYINFO is numbered; any other name with a digit is no indicator, and is said."""
_INDICATOR_19 = re.compile(r"(?:(?<![^\s-])|(?<=-19/))([EPRSJDANC])/")
_ENTRY = re.compile(r"([A-Z0-9]{2,11}?)(\d{2})([0-5]\d)")
_DAY = re.compile(r"(\d{2})(\d{2})(\d{2})")
_TIME = re.compile(r"(\d{2})([0-5]\d)")


class Indicator(NamedTuple):
    """An indicator with what stands behind it up to the next one. `letters` "" = text before the first of them."""

    letters: str
    span: Span
    value: Span


def cut_item_18(text: str, item: Span) -> Iterator[Indicator]:
    """The indicators of Item 18. In a remark only those of the standard begin something new."""
    matches: list[re.Match[str]] = []
    for match in _INDICATOR_18.finditer(text, item.start, item.end):
        if match[1] in INDICATORS or not (matches and matches[-1][1] == "RMK"):
            matches.append(match)
    return _cut(text, item, matches)


def cut_item_19(text: str, item: Span) -> Iterator[Indicator]:
    """The indicators of Item 19, a letter each."""
    return _cut(text, item, list(_INDICATOR_19.finditer(text, item.start, item.end)))


def _cut(text: str, item: Span, matches: list[re.Match[str]]) -> Iterator[Indicator]:
    before = strip_span(text, Span(item.start, matches[0].start() if matches else item.end))
    if before.end > before.start:
        yield Indicator("", before, before)
    ends = [*(match.start() for match in matches[1:]), item.end]
    for match, end in zip(matches, ends, strict=False):  # without an indicator the last end stands alone
        whole = strip_span(text, Span(match.start(), end))
        yield Indicator(match[1], whole, strip_span(text, Span(match.end(), max(whole.end, match.end()))))


def read_entries(text: str, value: Span) -> tuple[list[ElapsedTime], list[Span]]:
    """Names with four digits of hours and minutes (EGGX0111, 020W0136, INK0100), and what is no such entry."""
    entries: list[ElapsedTime] = []
    unread: list[Span] = []
    for match in re.compile(r"\S+").finditer(text, value.start, value.end):
        entry = _ENTRY.fullmatch(match[0])
        if entry:
            entries.append(ElapsedTime(entry[1], int(entry[2]) * 60.0 + int(entry[3])))
        else:
            unread.append(Span(*match.span()))
    return entries, unread


def read_time(text: str) -> dt.time | None:
    """A time of day as four digits; None where it is none."""
    minutes = read_minutes(text)
    return None if minutes is None or minutes >= 24 * 60 else dt.time(int(minutes) // 60, int(minutes) % 60)


def read_day(text: str) -> dt.date | None:
    """DOF/ as year, month and day of this century; None where it is no day."""
    match = _DAY.fullmatch(text)
    if not match:
        return None
    try:
        return dt.date(2000 + int(match[1]), int(match[2]), int(match[3]))
    except ValueError:
        return None


def read_minutes(text: str) -> float | None:
    """Hours and minutes in four digits as minutes; None where it is no such time."""
    match = _TIME.fullmatch(text)
    return int(match[1]) * 60.0 + int(match[2]) if match else None
