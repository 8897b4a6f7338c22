"""Wind stated beside the route, in one line or in `[[wind]]` tables, to values and back. No arithmetic here."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from routecheck.formatting import quote
from routecheck.model import InputKind, Wind
from routecheck.reading.field_kinds import FieldKind
from routecheck.reading.toml_merge import TableIdentity
from routecheck.reading.toml_values import are_tables, read_number, read_tables, simplify_number
from routecheck.reading.value_forms import read_level

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from routecheck.reading.reading_notes import ReadingNotes

_KNOWN = frozenset({"level", "to", "from_deg_true", "speed_kt"})
_STRONGEST_KT = 300
_TO = r"(?:TO\s+(?P<to>[^\s/,;]+)\s+)?"
_LEVEL = r"(?:(?P<level>FL?\s*[0-9]{3}|[A-Z]?[0-9]{3,5})\s+)?"
_FIGURE = r"[0-9]{1,3}(?:\.[0-9]+)?"
_KNOTS = r"\s*(?:KTS?)?"
_WINDS = (
    re.compile(rf"{_TO}{_LEVEL}(?P<degrees>{_FIGURE})\s*°?\s*T?\s*(?:/|@|AT)\s*(?P<knots>{_FIGURE}){_KNOTS}"),
    re.compile(rf"{_TO}{_LEVEL}(?P<degrees>[0-9]{{3}})(?P<knots>[0-9]{{2,3}}){_KNOTS}"),  # as reports have it: 28045KT
)
_SEPARATORS = re.compile(r"[,;\n]+")
WIND_FORMS = "written 280/45 (from degrees true, knots), by level: F350 280/45, F240 270/30, or by leg: to PIKAR 280/45"


# ---- one line


def parse_wind(text: str) -> tuple[tuple[Wind, ...], str]:
    """The wind typed in one line, "280/45" or "F350 280/45, F240 270/30", and "" or a reason why it is none."""
    parts = [part.strip() for part in _SEPARATORS.split(text) if part.strip()]
    winds: list[Wind] = []
    for part in parts:
        wind = _parse_part(part)
        if wind is None:
            return (), f"{quote(part, 40)} is no wind: it is {WIND_FORMS}"
        winds.append(wind)
    why = _find_conflict(winds)
    return ((), why) if why else (tuple(winds), "")


def _parse_part(part: str) -> Wind | None:
    match = next(filter(None, (form.fullmatch(part.upper()) for form in _WINDS)), None)
    if not match or float(match["degrees"]) > 360 or float(match["knots"]) > _STRONGEST_KT:
        return None
    level, why = read_level(match["level"] or "")
    return None if why else Wind(float(match["degrees"]), float(match["knots"]), level, match["to"] or "")


def _find_conflict(winds: Sequence[Wind]) -> str:
    """Why several winds cannot stand beside each other; "" if they can. That of a leg goes before the others."""
    levels = [wind.level for wind in winds if not wind.to]
    if len(levels) > 1 and not all(levels):
        return f"of several winds each gives its level or its leg: {WIND_FORMS}"
    places = [f"to {wind.to}" if wind.to else f"at {wind.level}" for wind in winds]
    twice = next((place for place in places if places.count(place) > 1), "")
    return f"the wind {twice} is given twice" if twice else ""


def format_wind(winds: Sequence[Wind]) -> str:
    """The wind in one line, as `parse_wind` reads it."""
    return ", ".join(_format_part(wind) for wind in winds)


def _format_part(wind: Wind) -> str:
    leg = f"to {wind.to}" if wind.to else ""
    return " ".join(filter(None, (leg, wind.level, _format_figures(wind))))


def _format_figures(wind: Wind) -> str:
    if _is_whole(wind):
        return f"{wind.from_deg_true:03.0f}/{wind.speed_kt:02.0f}"
    return f"{wind.from_deg_true:.1f}/{wind.speed_kt:.1f}"


def _is_whole(wind: Wind) -> bool:
    return wind.from_deg_true % 1 == 0 and wind.speed_kt % 1 == 0


# ---- route file


def _read_wind(value: object, key: str, notes: ReadingNotes) -> tuple[Wind, ...]:
    if isinstance(value, str):
        return parse_wind(value)[0]
    if are_tables(value):
        return _read_tables(value, key, notes)
    why = f"it is written “280/45” (from degrees true, knots), or as tables headed [[{key}]]"
    notes.refuse(key, why, what=InputKind.WIND)
    return ()


def _read_tables(value: object, key: str, notes: ReadingNotes) -> tuple[Wind, ...]:
    winds = read_tables(value, key, "winds", _read_table, notes)
    if why := _find_conflict(winds):
        notes.refuse(key, why, what=InputKind.WIND)
        return ()
    return winds


def _read_table(table: Mapping[str, object], table_name: str, notes: ReadingNotes) -> Wind | None:
    notes.refuse_unknown_keys(table, _KNOWN, table_name)
    degrees = read_number(table, "from_deg_true", table_name, (0, 360), notes)
    knots = read_number(table, "speed_kt", table_name, (0, _STRONGEST_KT), notes)
    level, to = table.get("level", ""), table.get("to", "")
    if degrees is None or knots is None or not isinstance(level, str) or not isinstance(to, str):
        notes.refuse(
            table_name, "it must give from_deg_true, speed_kt and its level or leg as text", what=InputKind.WIND
        )
        return None
    filed, why = read_level(level)
    if why:
        notes.refuse(table_name, why, what=InputKind.WIND)
        return None
    return Wind(degrees, knots, filed, to.strip().upper())


def _write_wind(winds: Sequence[Wind]) -> object:
    """Text for one wind in whole numbers at all levels, else tables; None for none."""
    if not winds:
        return None
    if len(winds) == 1 and not winds[0].level and not winds[0].to and _is_whole(winds[0]):
        return _format_figures(winds[0])
    return [_write_table(wind) for wind in winds]


def _write_table(wind: Wind) -> dict[str, object]:
    place = {key: text for key, text in (("to", wind.to), ("level", wind.level)) if text}
    return place | {"from_deg_true": simplify_number(wind.from_deg_true), "speed_kt": simplify_number(wind.speed_kt)}


def _restore_wind(tables: list[dict[str, Any]]) -> tuple[Wind, ...]:
    return tuple(Wind(**table) for table in tables)


WIND = FieldKind(
    read_value=_read_wind,
    write_value=_write_wind,
    restore=_restore_wind,
    read_text=parse_wind,
    write_text=format_wind,
    tables=TableIdentity(("to", "level"), _KNOWN),
)
