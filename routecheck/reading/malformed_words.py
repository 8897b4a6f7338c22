"""Why a word is unread: the common near misses of Item 15, each with the form expected. Sentences only, no words."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable

from routecheck.formatting import count

_Sentence = str | Callable[[re.Match[str]], str]

_POSITION = re.compile(r"[0-9]{2}[NS][0-9]{3}[EW]|[0-9]{4}[NS][0-9]{5}[EW]")
_SHORTHAND = re.compile(r"[0-9]{2,4}/[0-9]{2,5}")
_CHANGE = re.compile(r"(?:[NK][0-9]{4}|M[0-9]{3})(?:[FA][0-9]{3}|[SM][0-9]{4}|VFR)")
_RADIAL_DISTANCE = re.compile(r"[A-Z]{2,5}[0-9]{6}")
_AS_DIGITS = str.maketrans("OI", "01")
_TWO_FORMS = "46N078W in degrees, 4620N07805W in degrees and minutes"
_HALF = f"only half a position: {_TWO_FORMS}"
_NO_EAST_WEST = f"E or W is missing behind the longitude: {_TWO_FORMS}"
_SECONDS = "a position has no seconds: degrees and minutes, as in 4620N07805W"
_DECIMALS = f"a position has no decimals: {_TWO_FORMS}"
_AERODROME_TIME = "looks like an aerodrome and a time, Item 13 or 16: only the route, Item 15, is read here"


def near_miss(text: str) -> str:
    """Why `text` (upper case) is almost a form of a route word, and which; empty if it is not."""
    for pattern, sentence in _TABLE:
        if match := pattern.fullmatch(text):
            return sentence if isinstance(sentence, str) else sentence(match)
    return _letters_for_digits(text) or position_with_signs(text)


def no_form(text: str) -> str:
    """Why `text`, of which nothing better can be said, is no word of a route."""
    if not any(char.isalnum() for char in text):
        return "signs alone are no route word: is something left out here? Direct is written DCT"
    if text.isdigit() and text.isascii():
        return "fits no form of a route word: digits alone name nothing"
    if odd := next((char for char in text if not ("A" <= char <= "Z" or "0" <= char <= "9")), ""):
        return f"fits no form of a route word: {_called(odd)} stands in it, words are letters A to Z and digits"
    return f"fits no form of a route word: a name has at most 7 letters and digits, this has {len(text):,}"


def _called(char: str) -> str:
    if char == ",":
        return "a comma"
    if char == "-":
        return "a hyphen"
    if char.isprintable() and not unicodedata.combining(char):
        return char
    return f"an invisible character (U+{ord(char):04X})"


def _letters_for_digits(text: str) -> str:
    whole = text[1:].translate(_AS_DIGITS)
    for candidate in (text.translate(_AS_DIGITS), text[0] + whole, text[:-6] + text[-6:].translate(_AS_DIGITS)):
        if candidate != text and _known(candidate):
            return f"{_swapped(text, candidate)}: {candidate}"
    return ""


def _known(text: str) -> bool:
    return any(form.fullmatch(text) for form in (_POSITION, _CHANGE, _RADIAL_DISTANCE))


def _swapped(text: str, candidate: str) -> str:
    changed = {a for a, b in zip(text, candidate, strict=True) if a != b}
    said = {"O": "the letter O stands for a zero", "I": "the letter I stands for a one"}
    return " and ".join(said[letter] for letter in "OI" if letter in changed)


def position_with_signs(text: str) -> str:
    """Why a position written with signs (46N/078W, 46°N078°W) is unread; empty if it is none."""
    if _SHORTHAND.fullmatch(text):
        return f"a position is written in full, with its hemispheres: {_TWO_FORMS}"
    if len(text) > 24:
        return ""
    bare = "".join(char for char in text if "A" <= char <= "Z" or "0" <= char <= "9")
    if bare != text and _POSITION.fullmatch(bare):
        return f"a position is written without signs: {bare}"
    return ""


def written(lat: str, north: str, lon: str, east: str) -> str:
    """The position as Item 15 writes it, or both forms where the digits do not say which one is meant."""
    if len(lat) <= 2 and len(lon) <= 3:
        return f"{lat:0>2}{north}{lon:0>3}{east}"
    if len(lat) in (3, 4) and len(lon) in (4, 5):
        return f"{lat:0>4}{north}{lon:0>5}{east}"
    return _TWO_FORMS


def _hemisphere_first(match: re.Match[str]) -> str:
    return f"hemisphere letters go after the digits: {written(match[2], match[1], match[4], match[3])}"


def _longitude_first(match: re.Match[str]) -> str:
    return f"the latitude stands before the longitude: {written(match[3], match[4], match[1], match[2])}"


def _digits(match: re.Match[str]) -> str:
    form = written(*match.group(1, 2, 3, 4))
    return f"a position has 2 digits of latitude and 3 of longitude, or 4 and 5 with minutes: {form}"


def _two_positions(match: re.Match[str]) -> str:
    return f"a blank is missing between two positions: {match[1]} {match[2]}"


def _missing_zero(match: re.Match[str]) -> str:
    digits = 3 if match[1] == "M" else 4
    return f"the speed has {digits} digits, a zero in front if need be: {match[1]}{match[2]:0>{digits}}{match[3]}"


def _mach_point(match: re.Match[str]) -> str:
    return f"a Mach number has no point: M{match[1]:0>3}{match[2]}"


def _flight_level(match: re.Match[str]) -> str:
    return f"a flight level is F and 3 digits: {match[1]}F{match[2]}"


def _bearing_distance(match: re.Match[str]) -> str:
    ident = match[0].rstrip("0123456789")
    digits = count(len(match[0]) - len(ident), "digit")
    return f"bearing and distance are 3 digits each behind the name, as in {ident}180040; here are {digits}"


def _no_coded_name(match: re.Match[str]) -> str:
    return f"fits no form of a route word: a {match[1]} is given by its coded name, which ends in its number"


_TABLE: tuple[tuple[re.Pattern[str], _Sentence], ...] = tuple(
    (re.compile(pattern), sentence)
    for pattern, sentence in (
        (r"([NS])([0-9]{1,6})([EW])([0-9]{2,7})", _hemisphere_first),
        (r"([0-9]{1,5})([EW])([0-9]{1,4})([NS])", _longitude_first),
        (r"[0-9]{6}[NS][0-9]{7}[EW]", _SECONDS),
        (r"([0-9]{1,6})([NS])([0-9]{1,7})([EW])", _digits),
        (r"[0-9]{3}[EW]|[0-9]{5}[EW]|[0-9]{6,7}[NSEW]", _HALF),
        (r"[0-9]{2}[NS][0-9]{3}|[0-9]{4}[NS][0-9]{5}", _NO_EAST_WEST),
        (r"[NSEW]?[0-9]{1,6}\.[0-9]+.{0,20}[NSEW]?[0-9]*[NSEW.0-9]*", _DECIMALS),
        (r"([0-9]{2}[NS][0-9]{3}[EW])([0-9]{2}[NS][0-9]{3}[EW])", _two_positions),
        (r"([NK])([0-9]{2,3})((?:[FA][0-9]{3}|[SM][0-9]{4}|VFR))", _missing_zero),
        (r"(M)([0-9]{2})((?:[FA][0-9]{3}|[SM][0-9]{4}|VFR))", _missing_zero),
        (r"M0?\.([0-9]{2})((?:[FA][0-9]{3}|[SM][0-9]{4})?)", _mach_point),
        (r"([NK][0-9]{4}|M[0-9]{3})FL([0-9]{3})", _flight_level),
        (r"([A-Z]{4})([0-9]{4})", _AERODROME_TIME),
        (r"[A-Z]{2,5}(?:[0-9]{4,5}|[0-9]{7})|[A-Z]{4,5}[0-9]{3}", _bearing_distance),
        (r"[A-Z]{3,6}-(SID|STAR)", _no_coded_name),
        (r"DIRECT", "direct is written DCT"),
    )
)
"""Near misses, the narrower first. A table, so that the next one is one line."""
