"""Which form one word of Item 15 has, by its letters and digits alone. No navigation data, neighbours or slashes."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.model import Position, PositionForm, Span, Word, WordKind
from routecheck.reading.malformed_words import Malformation, explain_no_form, find_near_miss

if TYPE_CHECKING:
    from collections.abc import Callable

# ICAO Doc 4444 Appendix 2, Item 15: the forms of speed and level.
_SPEED = r"(?:[NK][0-9]{4}|M[0-9]{3})"
_LEVEL = r"(?:[FA][0-9]{3}|[SM][0-9]{4})"
_ONE_LEVEL = re.compile(rf"({_SPEED})({_LEVEL}|VFR)")
_TWO_LEVELS = re.compile(rf"({_SPEED})({_LEVEL}(?:{_LEVEL}|PLUS))")

_TOGETHER = "both are always given together, even if only one changes, as in N0430F350"
_ONLY_SPEED = f"only a speed is given; {_TOGETHER}"
_ONLY_LEVEL = f"only a level is given; {_TOGETHER}"
_NOT_A_CLIMB = "two levels are given only in a cruise climb, which begins with C/"
_NO_TWO_LEVELS = "a cruise climb gives two levels, or one and PLUS, as in M082F290F350"

_NO_SUCH_RUNWAY = Malformation("no such runway: they are numbered 01 to 36")

_LONGEST = 40
"""No form of one word is longer: a longer one is not tried."""

_DEGREES = re.compile(r"([0-9]{2})([NS])([0-9]{3})([EW])")
_MINUTES = re.compile(r"([0-9]{2})([0-9]{2})([NS])([0-9]{3})([0-9]{2})([EW])")
# Letters of a navaid or point, or a waypoint of the U.S. grid (K, centre letter, two digits, letter).
_IDENT = r"([A-Z]{1,5}|K[A-Z][0-9]{2}[A-Z])"
_RADIAL_DISTANCE = re.compile(_IDENT + r"([0-9]{3})([0-9]{3})")
_RADIAL_SLASH = re.compile(r"([A-Z]{2,5})([0-9]{3})/([0-9]{1,3})")
_RADIAL = re.compile(r"([A-Z]{2,3})([0-9]{3})")
_TRACK = re.compile(r"NAT([A-Z])")
_NAME = re.compile(r"[A-Z0-9]{1,7}")
_RUNWAY = re.compile(r"(?:RWY?)?([0-9]{1,2})([LRC]?)")

SURE_NAME = re.compile(
    r"(?!DCT$|T$|[VI]FR$|NAT[A-Z]$|DIRECT$|[OG]AT$|IFPSTOP$)[A-Z]{1,7}|[A-Z]{1,2}[0-9]{1,2}|[A-Z]{3,5}[0-9]|(?!F|M0)[A-Z][0-9]{3}"
)
"""Names that can be nothing else, looked for first: nearly all words of a route are such."""

_LEVEL_AT_START = re.compile(r"A0[0-9]{2}|S[01][0-9]{3}")
_SIGN = {"N": 1, "S": -1, "E": 1, "W": -1}

_FIXED = {
    "DCT": WordKind.DIRECT,
    "T": WordKind.TRUNCATION,
    "VFR": WordKind.RULES,
    "IFR": WordKind.RULES,
    # Words of European flight plans, from memory: operational and general air traffic, IFR stopped and resumed.
    "OAT": WordKind.EUROPEAN,
    "GAT": WordKind.EUROPEAN,
    "IFPSTOP": WordKind.EUROPEAN,
    "IFPSTART": WordKind.EUROPEAN,
}


def read_form(text: str, span: Span) -> Word:
    """Read `text` (upper case, no slash, no blank) as a word that stands alone."""
    if SURE_NAME.fullmatch(text):
        return Word(text, span, WordKind.NAME)
    if text in _FIXED:
        return Word(text, span, _FIXED[text])
    if len(text) > _LONGEST:
        return make_unread(text, span, explain_no_form(text))
    for pattern, make in _MAKERS:
        if match := pattern.fullmatch(text):
            return make(text, span, match)
    if near_miss := find_near_miss(text):
        return make_unread(text, span, near_miss)
    return _read_bad_or_name(text, span)


def make_unread(text: str, span: Span, why: Malformation, *, attached: bool = False) -> Word:
    """Make a word that fits no form, and say why.

    Where a speed and level or a position is meant, they are filled in: the word is then that, whatever else it is.
    """
    change = _ONE_LEVEL.fullmatch(why.meant)
    speed, level = change.groups() if change else ("", "")
    return Word(
        text,
        span,
        WordKind.UNREAD,
        attached=attached,
        why=why.sentence,
        meant=why.meant,
        position=read_position(why.meant),
        speed=speed,
        level=level,
    )


def read_position(text: str) -> Position | None:
    """A position in degrees or in degrees and minutes; None for any other text and for one that is nowhere."""
    for pattern, make in ((_DEGREES, _make_degrees), (_MINUTES, _make_minutes)):
        if match := pattern.fullmatch(text):
            return make(text, Span(0, 0), match).position
    return None


def read_change(text: str, span: Span, *, climb: bool = False) -> Word | None:
    """Read the speed and level behind a slash, with `climb` those of a cruise climb. None if it looks like neither."""
    one, two = _ONE_LEVEL.fullmatch(text), _TWO_LEVELS.fullmatch(text)
    if match := two if climb else one:
        return _make_change(text, span, match)
    if one:
        return _make_bad_change(text, span, _NO_TWO_LEVELS)
    bad = next((bad for pattern, bad in _BAD_BEHIND_SLASH if pattern.fullmatch(text)), "")
    return _make_bad_change(text, span, bad) if bad else None


def read_first_word(word: Word) -> Word:
    """Read the first word again: there A045 and S1130 are a level without its speed (A100 and M201 are airways)."""
    if word.kind is WordKind.NAME and not word.attached and _LEVEL_AT_START.fullmatch(word.text):
        return _make_bad_change(word.text, word.span, _ONLY_LEVEL)
    return word


def read_runway(text: str, span: Span) -> Word | None:
    """Read a runway behind a slash (27R, RW27R, 9) as two digits and a letter. None if it has another form."""
    match = _RUNWAY.fullmatch(text)
    if not match:
        return None
    number, side = int(match[1]), match[2]
    if not 1 <= number <= 36:
        return make_unread(text, span, _NO_SUCH_RUNWAY, attached=True)
    return Word(f"{number:02}{side}", span, WordKind.RUNWAY, attached=True)


def read_radial_slash(text: str, span: Span) -> Word | None:
    """Read the U.S. form VNY095/010. None if it has another form."""
    match = _RADIAL_SLASH.fullmatch(text)
    return _make_radial_distance(text, span, match) if match else None


def _read_bad_or_name(text: str, span: Span) -> Word:
    for pattern, bad in _BAD_ANYWHERE:
        if pattern.fullmatch(text):
            return _make_bad_change(text, span, bad)
    if _NAME.fullmatch(text) and not text.isdigit():
        return Word(text, span, WordKind.NAME)
    return make_unread(text, span, explain_no_form(text))


def _make_change(text: str, span: Span, match: re.Match[str]) -> Word:
    if not int(match[1][1:]):
        return _make_bad_change(text, span, "a speed of zero")
    return Word(text, span, WordKind.CHANGE, speed=match[1], level=match[2])


def _make_bad_change(text: str, span: Span, bad: str) -> Word:
    return Word(text, span, WordKind.CHANGE, bad=bad)


def _make_degrees(text: str, span: Span, match: re.Match[str]) -> Word:
    lat, lon = float(match[1]), float(match[3])
    return _make_position(text, span, (lat, match[2]), (lon, match[4]), PositionForm.DEGREES)


def _make_minutes(text: str, span: Span, match: re.Match[str]) -> Word:
    for minutes in (match[2], match[5]):
        if int(minutes) >= 60:
            return Word(text, span, WordKind.POSITION, bad=f"it has {minutes} minutes, and a degree has 60 (00 to 59)")
    lat, lon = int(match[1]) + int(match[2]) / 60, int(match[4]) + int(match[5]) / 60
    return _make_position(text, span, (lat, match[3]), (lon, match[6]), PositionForm.MINUTES)


def _make_position(text: str, span: Span, lat: tuple[float, str], lon: tuple[float, str], form: PositionForm) -> Word:
    for figure, most, what in ((lat[0], 90, "latitude"), (lon[0], 180, "longitude")):
        if figure > most:
            return Word(text, span, WordKind.POSITION, bad=f"a {what} of more than {most} degrees")
    precision = 0.5 / 60 if form is PositionForm.MINUTES else 0.0
    # Added zero, so that 00N000W is no negative zero.
    position = Position(lat[0] * _SIGN[lat[1]] + 0.0, lon[0] * _SIGN[lon[1]] + 0.0, form, precision)
    return Word(text, span, WordKind.POSITION, position=position)


def _make_radial_distance(text: str, span: Span, match: re.Match[str]) -> Word:
    ident, bearing, distance = match[1], int(match[2]), float(match[3])
    kind = WordKind.RADIAL_DISTANCE
    if bad := _explain_bearing(bearing) or ("" if distance else "a distance of zero: 001 to 999 NM"):
        return Word(text, span, kind, ident=ident, bad=bad)
    return Word(text, span, kind, ident=ident, bearing_deg=float(bearing % 360), distance_nm=distance)


def _make_radial(text: str, span: Span, match: re.Match[str]) -> Word:
    ident, bearing = match[1], int(match[2])
    bad = _explain_bearing(bearing)
    if bad and len(ident) == 2:
        return Word(text, span, WordKind.NAME)  # an airway such as UN615
    if bad:
        return Word(text, span, WordKind.RADIAL, ident=ident, bad=bad)
    return Word(text, span, WordKind.RADIAL, ident=ident, bearing_deg=float(bearing % 360))


def _explain_bearing(bearing: int) -> str:
    return f"a bearing of {bearing}: 000 to 360 degrees" if bearing > 360 else ""


def _make_track(text: str, span: Span, match: re.Match[str]) -> Word:
    return Word(text, span, WordKind.TRACK, ident=match[1])


_MAKERS: tuple[tuple[re.Pattern[str], Callable[[str, Span, re.Match[str]], Word]], ...] = (
    (_TRACK, _make_track),
    (_DEGREES, _make_degrees),
    (_MINUTES, _make_minutes),
    (_RADIAL, _make_radial),
    (_RADIAL_DISTANCE, _make_radial_distance),
    (_ONE_LEVEL, _make_change),
)
"""Each form, and the function that makes a word of it."""

_BAD_ANYWHERE = (
    (_TWO_LEVELS, _NOT_A_CLIMB),
    # Of these no airway, navaid or location identifier is made, so they are a speed or a level wherever they stand.
    (re.compile(r"N0[0-9]{3}|K[0-9]{4}|M0[0-9]{2}"), _ONLY_SPEED),
    (re.compile(r"F[0-9]{3}|M[0-9]{4}"), _ONLY_LEVEL),
    (re.compile(_LEVEL + _SPEED), "the speed stands before the level, as in N0430F350"),
    (
        re.compile(r"[NKM][0-9]{1,5}(?:FL?|A|S|M)[0-9]{1,5}"),
        "no form of speed and level: N or K and 4 digits or M and 3, then F or A and 3 digits or S or M and 4",
    ),
)
"""Wrong forms of speed and level, each with what is said of it."""
_BAD_BEHIND_SLASH = (
    (_TWO_LEVELS, _NOT_A_CLIMB),
    (re.compile(_SPEED), _ONLY_SPEED),
    (re.compile(_LEVEL), _ONLY_LEVEL),
)
