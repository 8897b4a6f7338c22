"""Why a word is unread: the common near misses of Item 15, each with the form meant. No words are made here."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable

from routecheck.formatting import count
from routecheck.frozen_dataclass import dataclass


@dataclass(frozen=True, slots=True)
class Malformation:
    """Why a word fits no form, and the form that was meant, "" where that is not sure."""

    reason: str
    meant: str = ""

    @property
    def sentence(self) -> str:
        """Both in words."""
        return f"{self.reason}; write {self.meant}" if self.meant else self.reason


_Cause = Malformation | Callable[[re.Match[str]], Malformation]

_POSITION = re.compile(r"[0-9]{2}[NS][0-9]{3}[EW]|[0-9]{4}[NS][0-9]{5}[EW]")
_SHORTHAND = re.compile(r"[0-9]{2,4}/[0-9]{2,5}")
_CHANGE = re.compile(r"(?:[NK][0-9]{4}|M[0-9]{3})(?:[FA][0-9]{3}|[SM][0-9]{4}|VFR)")
_RADIAL_DISTANCE = re.compile(r"[A-Z]{2,5}[0-9]{6}")
_AS_DIGITS = str.maketrans("OI", "01")
_TWO_FORMS = "46N078W in degrees, 4620N07805W in degrees and minutes"
SHORTHAND_REASON = "a position is written in full, with its hemispheres"
_HALF = Malformation(f"only half a position: {_TWO_FORMS}")
_NO_EAST_WEST = Malformation(f"E or W is missing behind the longitude: {_TWO_FORMS}")
_SECONDS = Malformation("a position has no seconds: degrees and minutes, as in 4620N07805W")
_DECIMALS = Malformation(f"a position has no decimals: {_TWO_FORMS}")
_AERODROME_TIME = Malformation(
    "looks like an aerodrome and a time, Item 13 or 16: only the route, Item 15, is read here"
)


def find_near_miss(text: str) -> Malformation | None:
    """Why `text` (upper case) is almost a form of a route word, and which; None if it is not."""
    for pattern, cause in _TABLE:
        if match := pattern.fullmatch(text):
            return cause if isinstance(cause, Malformation) else cause(match)
    return _find_letters_for_digits(text) or find_signs(text)


def explain_no_form(text: str) -> Malformation:
    """Why `text`, of which nothing better can be said, is no word of a route."""
    if not any(char.isalnum() for char in text):
        return Malformation("it has neither letter nor digit, as where something is left out or DCT is meant")
    if text.isdigit() and text.isascii():
        why = "digits alone name nothing"
    elif odd := next((char for char in text if not ("A" <= char <= "Z" or "0" <= char <= "9")), ""):
        why = f"{_name_character(odd)} stands in it, words are letters A to Z and digits"
    else:
        why = f"a name has at most 7 letters and digits, this has {len(text):,}"
    return Malformation(f"fits no form of a route word: {why}")


def _name_character(char: str) -> str:
    if char == ",":
        return "a comma"
    if char == "-":
        return "a hyphen"
    if char.isprintable() and not unicodedata.combining(char):
        return char
    return f"an invisible character (U+{ord(char):04X})"


def _find_letters_for_digits(text: str) -> Malformation | None:
    whole = text[1:].translate(_AS_DIGITS)
    for candidate in (text.translate(_AS_DIGITS), text[0] + whole, text[:-6] + text[-6:].translate(_AS_DIGITS)):
        if candidate != text and _has_form(candidate):
            return Malformation(_name_letters(text, candidate), candidate)
    return None


def _has_form(text: str) -> bool:
    return any(form.fullmatch(text) for form in (_POSITION, _CHANGE, _RADIAL_DISTANCE))


def _name_letters(text: str, candidate: str) -> str:
    changed = {a for a, b in zip(text, candidate, strict=True) if a != b}
    sentences = {"O": "the letter O stands for a zero", "I": "the letter I stands for a one"}
    return " and ".join(sentences[letter] for letter in "OI" if letter in changed)


def find_signs(text: str) -> Malformation | None:
    """Why a position written with signs (46N/078W, 46°N078°W) is unread; None if it is no such position."""
    if _SHORTHAND.fullmatch(text):
        return Malformation(f"{SHORTHAND_REASON}: {_TWO_FORMS}")
    if len(text) > 24:
        return None
    bare = "".join(char for char in text if "A" <= char <= "Z" or "0" <= char <= "9")
    if bare != text and _POSITION.fullmatch(bare):
        return Malformation("a position is written without signs", bare)
    return None


def _explain_position(reason: str, lat: str, north: str, lon: str, east: str) -> Malformation:
    """The reason with the position that was meant, or with both forms where the digits do not say which one it was."""
    if len(lat) <= 2 and len(lon) <= 3:
        return Malformation(reason, f"{lat:0>2}{north}{lon:0>3}{east}")
    if len(lat) in (3, 4) and len(lon) in (4, 5):
        return Malformation(reason, f"{lat:0>4}{north}{lon:0>5}{east}")
    return Malformation(f"{reason}: {_TWO_FORMS}")


def _explain_hemisphere_first(match: re.Match[str]) -> Malformation:
    return _explain_position("hemisphere letters go after the digits", match[2], match[1], match[4], match[3])


def _explain_longitude_first(match: re.Match[str]) -> Malformation:
    return _explain_position("the latitude stands before the longitude", match[3], match[4], match[1], match[2])


def _explain_wrong_digits(match: re.Match[str]) -> Malformation:
    reason = "a position has 2 digits of latitude and 3 of longitude, or 4 and 5 with minutes"
    return _explain_position(reason, *match.group(1, 2, 3, 4))


def _explain_two_positions(match: re.Match[str]) -> Malformation:
    return Malformation("a blank is missing between two positions", f"{match[1]} {match[2]}")


def _explain_missing_zero(match: re.Match[str]) -> Malformation:
    digits = 3 if match[1] == "M" else 4
    meant = f"{match[1]}{match[2]:0>{digits}}{match[3]}"
    return Malformation(f"the speed has {digits} digits, a zero in front if need be", meant)


def _explain_mach_point(match: re.Match[str]) -> Malformation:
    return Malformation("a Mach number has no point", f"M{match[1]:0>3}{match[2]}")


def _explain_flight_level(match: re.Match[str]) -> Malformation:
    return Malformation("a flight level is F and 3 digits", f"{match[1]}F{match[2]}")


def _explain_bearing_distance(match: re.Match[str]) -> Malformation:
    ident = match[0].rstrip("0123456789")
    digits = count(len(match[0]) - len(ident), "digit")
    reason = f"bearing and distance are 3 digits each behind the name, as in {ident}180040; here are {digits}"
    return Malformation(reason)


def _explain_coded_name(match: re.Match[str]) -> Malformation:
    why = f"a {match[1]} is given by its coded name, which ends in its number"
    return Malformation(f"fits no form of a route word: {why}")


_TABLE: tuple[tuple[re.Pattern[str], _Cause], ...] = tuple(
    (re.compile(pattern), cause)
    for pattern, cause in (
        (r"([NS])([0-9]{1,6})([EW])([0-9]{2,7})", _explain_hemisphere_first),
        (r"([0-9]{1,5})([EW])([0-9]{1,4})([NS])", _explain_longitude_first),
        (r"[0-9]{6}[NS][0-9]{7}[EW]", _SECONDS),
        (r"([0-9]{1,6})([NS])([0-9]{1,7})([EW])", _explain_wrong_digits),
        (r"[0-9]{3}[EW]|[0-9]{5}[EW]|[0-9]{6,7}[NSEW]", _HALF),
        (r"[0-9]{2}[NS][0-9]{3}|[0-9]{4}[NS][0-9]{5}", _NO_EAST_WEST),
        (r"[NSEW]?[0-9]{1,6}\.[0-9]+.{0,20}[NSEW]?[0-9]*[NSEW.0-9]*", _DECIMALS),
        (r"([0-9]{2}[NS][0-9]{3}[EW])([0-9]{2}[NS][0-9]{3}[EW])", _explain_two_positions),
        (r"([NK])([0-9]{2,3})((?:[FA][0-9]{3}|[SM][0-9]{4}|VFR))", _explain_missing_zero),
        (r"(M)([0-9]{2})((?:[FA][0-9]{3}|[SM][0-9]{4}|VFR))", _explain_missing_zero),
        (r"M0?\.([0-9]{2})((?:[FA][0-9]{3}|[SM][0-9]{4})?)", _explain_mach_point),
        (r"([NK][0-9]{4}|M[0-9]{3})FL([0-9]{3})", _explain_flight_level),
        (r"([A-Z]{4})([0-9]{4})", _AERODROME_TIME),
        (r"[A-Z]{2,5}(?:[0-9]{4,5}|[0-9]{7})|[A-Z]{4,5}[0-9]{3}", _explain_bearing_distance),
        (r"[A-Z]{3,6}-(SID|STAR)", _explain_coded_name),
        (r"DIRECT", Malformation("direct is written DCT")),
    )
)
"""Near misses, the narrower first. A table, so that the next one is one line."""
