"""Altitude windows and wind of a route file, to values and back; what is of a wrong type is said, not guessed."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING, TypeGuard

from routecheck.model import AltitudeWindow, Wind

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

_HEIGHTS = ("low_ft", "high_ft", "at_ft")
OF_WINDOW = frozenset({"point", *_HEIGHTS})
OF_WIND = frozenset({"level", "to", "from_deg_true", "speed_kt"})
_LOWEST_FT, _HIGHEST_FT = -10_000, 1_000_000
"""Wide: a height of one digit too many must come through, so that the checks can say so."""
_STRONGEST_KT = 300
_DEVIATIONS_C = (-60, 60)
_TO = r"(?:TO\s+(?P<to>[^\s/,;]+)\s+)?"
_LEVEL = r"(?:(?P<level>FL?\d{3}|A\d{3}|[SM]\d{4})\s+)?"
_FIGURE = r"\d{1,3}(?:\.\d+)?"
_WIND = re.compile(rf"{_TO}{_LEVEL}(?P<degrees>{_FIGURE})\s*/\s*(?P<knots>{_FIGURE})\s*(?:KTS?)?", re.IGNORECASE)
_BETWEEN = re.compile(r"[,;\n]+")
HOW_WIND_IS_WRITTEN = (
    "written 280/45 (from degrees true, knots), by level: F350 280/45, F240 270/30, or by leg: to PIKAR 280/45"
)


def read_windows(value: object, remarks: list[str]) -> tuple[AltitudeWindow, ...]:
    """The `[[window]]` tables in order; upside-down ones too, for they are a finding."""
    if not _are_tables(value):
        remarks.append("Not used: window; altitude windows are tables headed [[window]].")
        return ()
    read = [_window(table, f"window {number}", remarks) for number, table in enumerate(value, start=1)]
    return tuple(window for window in read if window is not None)


def _are_tables(value: object) -> TypeGuard[list[dict[str, object]]]:
    return isinstance(value, list) and all(isinstance(table, dict) for table in value)


def _window(table: Mapping[str, object], called: str, remarks: list[str]) -> AltitudeWindow | None:
    remarks += [f"Not used: the unknown key “{key[:60]}” of {called}." for key in table if key not in OF_WINDOW]
    point = table.get("point")
    if not isinstance(point, str) or not point.strip():
        remarks.append(f"Not used: {called}; it must name its point.")
        return None
    read = {key: _number(table, key, called, (_LOWEST_FT, _HIGHEST_FT), remarks) for key in _HEIGHTS}
    low, high, at = (read[key] for key in _HEIGHTS)
    if at is not None and (low is not None or high is not None):
        remarks.append(f"Not used: {called}; at_ft beside low_ft or high_ft says two things.")
        return None
    if at is None and low is None and high is None:
        remarks.append(f"Not used: {called}; it must give low_ft, high_ft or at_ft.")
        return None
    return AltitudeWindow(point.strip().upper(), low if at is None else at, high if at is None else at)


def read_deviation(value: object, remarks: list[str]) -> float | None:
    """How much warmer the air is than the standard atmosphere, °C."""
    return _number({"isa_deviation_c": value}, "isa_deviation_c", "the route file", _DEVIATIONS_C, remarks)


def _number(
    table: Mapping[str, object], key: str, called: str, bounds: tuple[int, int], remarks: list[str]
) -> float | None:
    value = table.get(key)
    if value is None:
        return None
    if _is_number(value) and bounds[0] <= value <= bounds[1]:
        return float(value)
    remarks.append(f"Not used: {key} of {called}; it must be a number from {bounds[0]:,} to {bounds[1]:,}.")
    return None


def _is_number(value: object) -> TypeGuard[int | Decimal]:
    """Whether it can be compared at all: numbers with a point come as Decimal."""
    if isinstance(value, Decimal):
        return value.is_finite()
    return isinstance(value, int) and not isinstance(value, bool)


def read_wind(value: object, remarks: list[str]) -> tuple[Wind, ...]:
    """The wind: text such as "280/45" (degrees true, knots), or `[[wind]]` tables, one a level."""
    if isinstance(value, str):
        winds, why = wind_of(value)
        if winds and not why:
            return winds
    elif _are_tables(value):
        return _by_level(value, remarks)
    remarks.append("Not used: wind; it is written “280/45” (from degrees true, knots), or as tables headed [[wind]].")
    return ()


def wind_of(text: str) -> tuple[tuple[Wind, ...], str]:
    """The wind typed in one line, "280/45" or "F350 280/45, F240 270/30", and "" or a sentence why it is none."""
    parts = [part.strip() for part in _BETWEEN.split(text) if part.strip()]
    winds = [_typed_wind(part) for part in parts]
    for part, wind in zip(parts, winds, strict=True):
        if wind is None:
            return (), f"“{part[:40]}” is no wind: it is {HOW_WIND_IS_WRITTEN}."
    read = tuple(wind for wind in winds if wind)
    why = _at_odds(read)
    return ((), why) if why else (read, "")


def _at_odds(winds: Sequence[Wind]) -> str:
    """Why several winds cannot stand beside each other; "" if they can. That of a leg goes before the others."""
    levels = [wind.level for wind in winds if not wind.to]
    if len(levels) > 1 and not all(levels):
        return f"Of several winds each gives its level or its leg: {HOW_WIND_IS_WRITTEN}."
    asked = [f"to {wind.to}" if wind.to else f"at {wind.level}" for wind in winds]
    twice = next((one for one in asked if asked.count(one) > 1), "")
    return f"The wind {twice} is given twice." if twice else ""


def _typed_wind(part: str) -> Wind | None:
    match = _WIND.fullmatch(part)
    if not match or float(match["degrees"]) > 360 or float(match["knots"]) > _STRONGEST_KT:
        return None
    level = (match["level"] or "").upper().replace("FL", "F")
    return Wind(float(match["degrees"]), float(match["knots"]), level, (match["to"] or "").upper())


def wind_text(winds: Sequence[Wind]) -> str:
    """The wind in one line, as `wind_of` reads it."""
    return ", ".join(" ".join(filter(None, (_of_leg(wind), wind.level, _figures(wind)))) for wind in winds)


def _of_leg(wind: Wind) -> str:
    return f"to {wind.to}" if wind.to else ""


def _figures(wind: Wind) -> str:
    if _is_whole(wind):
        return f"{wind.from_deg_true:03.0f}/{wind.speed_kt:02.0f}"
    return f"{wind.from_deg_true:.1f}/{wind.speed_kt:.1f}"


def _by_level(tables: Sequence[Mapping[str, object]], remarks: list[str]) -> tuple[Wind, ...]:
    read = [_wind(table, f"wind {number}", remarks) for number, table in enumerate(tables, start=1)]
    winds = tuple(wind for wind in read if wind is not None)
    if why := _at_odds(winds):
        remarks.append(f"Not used: wind. {why}")
        return ()
    return winds


def _wind(table: Mapping[str, object], called: str, remarks: list[str]) -> Wind | None:
    remarks += [f"Not used: the unknown key “{key[:60]}” of {called}." for key in table if key not in OF_WIND]
    degrees = _number(table, "from_deg_true", called, (0, 360), remarks)
    knots = _number(table, "speed_kt", called, (0, _STRONGEST_KT), remarks)
    level, to = table.get("level", ""), table.get("to", "")
    if degrees is None or knots is None or not isinstance(level, str) or not isinstance(to, str):
        remarks.append(f"Not used: {called}; it must give from_deg_true, speed_kt and its level or leg as text.")
        return None
    return Wind(degrees, knots, level.strip().upper(), to.strip().upper())


def written_window(window: AltitudeWindow) -> dict[str, object]:
    """A window as the keys of its table."""
    if window.low_ft is not None and window.low_ft == window.high_ft:
        return {"point": window.point, "at_ft": plain(window.low_ft)}
    heights = {"low_ft": window.low_ft, "high_ft": window.high_ft}
    return {"point": window.point} | {key: plain(value) for key, value in heights.items() if value is not None}


def written_wind(winds: Sequence[Wind]) -> object:
    """The wind as its key's value: text for one wind in whole numbers at all levels, else tables; None for none."""
    if not winds:
        return None
    if len(winds) == 1 and not winds[0].level and not winds[0].to and _is_whole(winds[0]):
        return _figures(winds[0])
    return [_wind_table(wind) for wind in winds]


def _wind_table(wind: Wind) -> dict[str, object]:
    of = {key: said for key, said in (("to", wind.to), ("level", wind.level)) if said}
    return of | {"from_deg_true": plain(wind.from_deg_true), "speed_kt": plain(wind.speed_kt)}


def _is_whole(wind: Wind) -> bool:
    return wind.from_deg_true % 1 == 0 and wind.speed_kt % 1 == 0


def plain(value: float) -> float | int:
    """A number as it is written: without a point where it is whole."""
    return int(value) if value == int(value) else value
