"""Figures and texts as a reader sees them: how a figure is rounded, which unit it carries, how a text is cut short.

Rounding says what is known: NM to 0.1 under 100 and whole above, degrees whole. No sentences live here.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Sequence


def nm(value: float) -> str:
    """A distance: "63.8 NM", "126 NM"."""
    return f"{bare_nm(value)} NM"


def bare_nm(value: float) -> str:
    """A distance without its unit, for columns that carry it in their head."""
    if abs(value) < 99.95:
        return f"{value:.1f}"
    return f"{value:,.0f}"


def column_nm(value: float) -> str:
    """A distance for a column of a table, always with one decimal so that the decimal points stand in line."""
    return f"{value:,.1f}"


def longer(value_nm: float, share: float) -> str:
    """How much longer: "126 NM longer (+79 %)"; no share where it would say nothing."""
    return f"{nm(value_nm)} longer" + (f" (+{share * 100:.0f} %)" if share < 100 else "")


def course(degrees: float | None, suffix: str = "") -> str:
    """A course in three digits, "067°T"; "" where there is none."""
    if degrees is None:
        return ""
    return f"{round(degrees) % 360 or 360:03d}°{suffix}"


def turn(degrees: float) -> str:
    """A turn with its side: "119° left"."""
    return f"{abs(degrees):.0f}° {'left' if degrees < 0 else 'right'}"


def level(filed: str) -> str:
    """A level of Item 15 as people say it: "FL350", "4,500 ft", "11,300 m"; any other text stays as it is."""
    letter, digits = filed[:1], filed[1:]
    if letter == "F" and len(digits) == 3 and digits.isdecimal():
        return f"FL{digits}"
    if letter == "A" and len(digits) == 3 and digits.isdecimal():
        return f"{int(digits) * 100:,} ft"
    if letter in ("S", "M") and len(digits) == 4 and digits.isdecimal():
        return f"{int(digits) * 10:,} m"
    return filed


LEVELS_EVERYWHERE_FT = 18_000.0
"""No State has a higher transition altitude (from memory): above it a level is no guess, whatever the aerodrome."""
NO_LEVELS = math.inf
"""For what is an altitude by its definition, however high."""


def altitude(feet: float, levels_from_ft: float) -> str:
    """An altitude: feet to the nearest ten, from `levels_from_ft` on a level ("FL240"), feet again above FL600."""
    return f"FL{feet / 100:03.0f}" if levels_from_ft <= feet <= 60_000 else f"{round(feet, -1):,.0f} ft"


def altitudes_allowed(low_ft: float | None, high_ft: float | None, levels_from_ft: float) -> str:
    """An altitude window: "at or above 11,000 ft", "at or below 6,000 ft", "at 5,000 ft", "9,000 ft to FL200"."""
    low, high = ("" if feet is None else altitude(feet, levels_from_ft) for feet in (low_ft, high_ft))
    if not low:
        return f"at or below {high}" if high else "at any altitude"
    if not high:
        return f"at or above {low}"
    return f"at {low}" if low_ft == high_ft else f"{low} to {high}"


def altitudes_in_signs(low_ft: float | None, high_ft: float | None, levels_from_ft: float) -> str:
    """An altitude window where there is little room: "≥ 11,000 ft", "≤ FL240", "5,000 ft", "9,000–12,000 ft"."""
    if low_ft is None:
        return "" if high_ft is None else f"≤ {altitude(high_ft, levels_from_ft)}"
    if high_ft is None:
        return f"≥ {altitude(low_ft, levels_from_ft)}"
    low, high = altitude(low_ft, levels_from_ft), altitude(high_ft, levels_from_ft)
    if low_ft == high_ft:
        return low
    return f"{low.removesuffix(' ft')}–{high}" if high.endswith(" ft") else f"{low}–{high}"


def distinct_figures(value: float, limit: float) -> tuple[str, str]:
    """A figure and the limit that it is beyond, in whole numbers; with decimals where these would be the same."""
    for digits in range(3):
        texts = f"{value:,.{digits}f}", f"{limit:,.{digits}f}"
        if texts[0] != texts[1]:
            return texts
    return f"a little {'more' if value > limit else 'less'} than {limit:,.0f}", f"{limit:,.0f}"


def duration(minutes: float) -> str:
    """A time to the minute: "1:33"."""
    hours, rest = divmod(round(minutes), 60)
    return f"{hours}:{rest:02d}"


def about_kg(mass: float) -> str:
    """A rough mass: three figures, "about 4,190 kg"."""
    return f"about {three_figures(mass)} kg"


def three_figures(value: float) -> str:
    """A number in three figures, "4,190", for columns that say "about" in their head."""
    return f"{round(value, min(3 - len(f'{value:.0f}'), 0)):,.0f}"


def variation(degrees: float) -> str:
    """A magnetic variation with its side: "12.3°W"."""
    return f"{abs(degrees):.1f}°{'W' if degrees < 0 else 'E'}"


def position(lat: float, lon: float) -> str:
    """A position in degrees and minutes: "31°30.0′S 012°15.0′E"."""
    return f"{_minutes(lat, 2, 'NS')} {_minutes(lon, 3, 'EW')}"


def percent(share: float) -> str:
    """A share in whole per cent, never rounded up to all or down to none."""
    if 0 < share < 0.01:
        return "under 1 %"
    if 0.99 < share < 1:
        return "over 99 %"
    return f"{share * 100:.0f} %"


def count(number: int, thing: str, things: str = "") -> str:
    """A number with its noun: "1 word", "2 words"."""
    return f"{number:,} {thing if number == 1 else things or thing + 's'}"


def short(text: str, most: int = 24) -> str:
    """A word for a table or a sentence: whole, or cut with an ellipsis where it is longer than any word is."""
    return text if len(text) <= most else f"{text[: most - 1]}…"


def quote(text: str, most: int = 60) -> str:
    """What a user typed, in quotation marks, cut short where it is longer than any sentence bears."""
    return f"“{short(text, most)}”"


def as_sentence(reason: str) -> str:
    """A reason as a sentence of its own: a capital, a full stop."""
    return f"{reason[:1].upper()}{reason[1:]}."


def listing(items: Sequence[str], last: str = "and") -> str:
    """ "A", "A and B", "A, B and C"."""
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {last} {items[-1]}"


def list_first(items: Sequence[str], most: int, last: str = "and") -> str:
    """The first of many names: "A, B and others"."""
    return listing([*items[:most], "others"] if len(items) > most else items, last)


def say_cleared(checks: Sequence[str]) -> str:
    """What a correction does to the finding it stands under, and to those of other checks."""
    return f"clears this finding{' and what follows from it' if len(checks) > 1 else ''}"


def date(day: dt.date) -> str:
    """A date as the trade writes it: "26 NOV 2026"."""
    return f"{day.day:02d} {day:%b} {day.year}".upper()


def _minutes(degrees: float, width: int, letters: str) -> str:
    tenths = round(abs(degrees) * 600)
    whole, rest = divmod(tenths, 600)
    return f"{whole:0{width}d}°{rest / 10:04.1f}′{letters[degrees < 0]}"
