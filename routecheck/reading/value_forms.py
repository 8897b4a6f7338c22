"""Speeds, levels, runways, approaches and rules in the forms in which the trade types them, each to its one form.

That of speeds and levels is Item 15's (ICAO Doc 4444 Appendix 2), of rules Item 8's, of approaches that of ARINC 424,
5.10. A text that might mean two things is not read: "F35" may be FL35 or lack a digit of FL350.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.formatting import quote

if TYPE_CHECKING:
    from collections.abc import Callable

_FLIGHT_LEVELS_FROM_FT = 18_000
"""From here an altitude typed in feet is taken for a flight level, as sentences write it."""
_MOST_FT = 99_900


def read_speed(text: str) -> tuple[str, str]:
    """A speed as Item 15 has it ("N0430", "K0830", "M078"), and "" or a sentence why it is none."""
    return _read_form(text, _SPEEDS, "speed", "N0430, N430, 430, M078, M78 or .78")


def read_level(text: str) -> tuple[str, str]:
    """A level as Item 15 has it ("F350", "A080", "S1130", "VFR"), and "" or a sentence why it is none."""
    return _read_form(text, _LEVELS, "level", "F350, FL350, 350, 35000, A080 or S1130")


def read_runway(text: str) -> tuple[str, str]:
    """A runway as the data names it ("09", "27R"), and "" or a sentence why it is none. Whether it is there is asked
    of the data."""
    return _read_form(text, _RUNWAYS, "runway", "09, 27R or RWY 27R")


def read_approach(text: str) -> tuple[str, str]:
    """An approach by its coded name ("I27", "R18RY"), and "" or a sentence why it is none."""
    return _read_form(text, _APPROACHES, "approach", "ILS 18R, RNAV Y 18R or by its coded name, I18R")


def read_rules(text: str) -> tuple[str, str]:
    """The letter of Item 8, and "" or a sentence why it is none."""
    return _read_form(text, _RULES, "kind of flight rules", "I, V, Y or Z")


Form = tuple[re.Pattern[str], "Callable[[re.Match[str]], str]"]
"""A form, and what makes the one form of it; "" where it cannot be meant."""


def _read_form(text: str, forms: tuple[Form, ...], noun: str, examples: str) -> tuple[str, str]:
    typed = " ".join(text.upper().split())
    if not typed:
        return "", ""
    for pattern, write in forms:
        if (match := pattern.fullmatch(typed)) and (value := write(match)):
            return value, ""
    return "", f"{quote(text.strip(), 40)} is no {noun}: write it as {examples}"


def _form(pattern: str, write: Callable[[re.Match[str]], str]) -> Form:
    return re.compile(pattern, re.ASCII), write


# ---- speeds


def _write_mach(match: re.Match[str]) -> str:
    """Hundredths, written with two digits behind the point or without it."""
    return f"M{int(match['hundredths']):03d}"


_SPEEDS = (
    _form(r"[NK][0-9]{4}|M[0-9]{3}", lambda m: m[0]),
    _form(r"([NK]) ?([0-9]{3})", lambda m: f"{m[1]}0{m[2]}"),
    _form(r"0?([1-9][0-9]{2})", lambda m: f"N0{m[1]}"),
    _form(r"(?:TAS ?|N ?)?([0-9]{2,4}) ?(?:KTS?|KTAS)|TAS ?([0-9]{2,3})", lambda m: f"N{int(m[1] or m[2]):04d}"),
    _form(r"([0-9]{2,4}) ?KM ?/?H", lambda m: f"K{int(m[1]):04d}"),
    _form(r"M(?:ACH)? ?(?P<hundredths>[0-9]{2})", _write_mach),
    _form(r"(?:M(?:ACH)? ?)?0?[.,](?P<hundredths>[0-9]{2})0?", _write_mach),
)


# ---- levels


def _write_feet(match: re.Match[str]) -> str:
    feet = int(re.sub("[,.']", "", match["feet"]))
    if feet % 100 or feet > _MOST_FT:
        return ""
    return f"{'F' if feet >= _FLIGHT_LEVELS_FROM_FT else 'A'}{feet // 100:03d}"


def _write_metres(match: re.Match[str]) -> str:
    metres = int(match["metres"])
    return "" if metres % 10 else f"S{metres // 10:04d}"


_LEVELS = (
    _form(r"[FA][0-9]{3}|[SM][0-9]{4}|VFR", lambda m: m[0]),
    _form(r"(?:FL?)? ?([0-9]{3})", lambda m: f"F{m[1]}"),
    _form(r"([0-9]{3}) ?FL", lambda m: f"F{m[1]}"),
    _form(r"A ([0-9]{3})", lambda m: f"A{m[1]}"),
    _form(r"(?P<feet>[1-9][0-9]?[,.']?[0-9]{3}) ?(?:FT|FEET|')?", _write_feet),
    _form(r"(?P<feet>[1-9][0-9]{2}) ?(?:FT|FEET|')", _write_feet),
    _form(r"(?P<metres>[1-9][0-9]{3,4}) ?M", _write_metres),
)


# ---- runways and approaches

_RUNWAY = r"(?:RWY?|RUNWAY)? ?(?P<number>[0-9]{1,2}) ?(?P<side>[A-Z]?)"


def _write_runway(match: re.Match[str]) -> str:
    return f"{int(match['number']):02d}{match['side']}"


_SIDES = {"LEFT": "L", "RIGHT": "R", "CENTER": "C", "CENTRE": "C"}
_RUNWAYS = (
    _form(r"[NS]|[NS]?[EW]", lambda m: m[0]),  # water and grass strips of the U.S. file
    _form(_RUNWAY, _write_runway),
    _form(
        r"(?:RWY?|RUNWAY)? ?(?P<number>[0-9]{1,2}) ?(?P<side>LEFT|RIGHT|CENT(?:ER|RE))",
        lambda m: f"{int(m['number']):02d}{_SIDES[m['side']]}",
    ),
)
_ROUTE_TYPES = {
    "ILS": "I", "ILS OR LOC": "I", "ILS/LOC": "I", "ILS DME": "I", "ILS/DME": "I", "LOC": "L", "LOC DME": "L",
    "LOC/DME": "L", "LOC BC": "B", "RNAV": "R", "RNAV (GPS)": "R", "RNAV GPS": "R", "RNAV (RNP)": "H", "RNAV RNP": "H",
    "GPS": "P", "GLS": "J", "VOR": "V", "VOR/DME": "D", "VOR DME": "D", "NDB": "N", "NDB/DME": "Q", "NDB DME": "Q",
    "LDA": "X", "SDF": "U", "TACAN": "T",
}  # fmt: skip
"""How an approach's title begins, and the letter of its coded name (ARINC 424, 5.7, from memory)."""


def _write_approach(match: re.Match[str]) -> str:
    """The letter, the runway, and which of several: a runway without its side has a hyphen before that."""
    runway, which = _write_runway(match), match["which"] or ""
    filled = f"{runway}-" if which and not match["side"] else runway
    return f"{_ROUTE_TYPES[match['kind']]}{filled}{which}"


_KINDS = "|".join(sorted(map(re.escape, _ROUTE_TYPES), key=len, reverse=True))
_APPROACHES = (
    _form(r"[A-Z][0-9]{2}[LRC]?-?[A-Z0-9]?|[A-Z]{3}-[A-Z0-9]", lambda m: m[0]),
    _form(rf"(?P<kind>{_KINDS}) ?-?(?P<which>(?<=[ -])[S-Z](?= ))? ?{_RUNWAY}(?: CAT I{{1,3}})?", _write_approach),
)


# ---- rules

_RULES = (
    _form(r"[IVYZ]", lambda m: m[0]),
    _form(r"IFR|VFR", lambda m: m[0][0]),
)
