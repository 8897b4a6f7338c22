"""A route as the clearance that a controller or a printed slip would give of it.

Phraseology of ICAO Doc 4444, 12.3.2, and FAA Order JO 7110.65, 4-2; letters, figures and the spoken prefixes of airways
of ICAO Annex 10 Volume II, 5.2.1, and Annex 11 Appendix 1 (all from memory).
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.drill.difficulty import ClearanceForm
from routecheck.model import WordRole
from routecheck.procedures.wording import procedure_stem

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from routecheck.model import Assessment, Word

_LETTERS = (
    "Alfa Bravo Charlie Delta Echo Foxtrot Golf Hotel India Juliett Kilo Lima Mike November Oscar Papa Quebec Romeo "
    "Sierra Tango Uniform Victor Whiskey X-ray Yankee Zulu"
)
_DIGITS = "zero one two three four five six seven eight nine"
_SIGNS = dict(zip("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789", f"{_LETTERS} {_DIGITS}".split(), strict=True))
_AIRWAY_PREFIXES = {"U": "Upper", "K": "Kopter", "S": "Super"}
_SIDES = {"N": "north", "S": "south", "E": "east", "W": "west"}
_PROCEDURES = {WordRole.SID: "departure", WordRole.STAR: "arrival"}
_AIRWAYS = frozenset({WordRole.AIRWAY, WordRole.UNKNOWN_AIRWAY})
_WAYS = _AIRWAYS | {WordRole.RADIAL}
_AIRWAY = re.compile(r"[UKS]?[A-Z]\d{1,3}[A-Z]?")
_POSITION = re.compile(r"(\d{2,4})([NS])(\d{3,5})([EW])")


def write_clearance(clean: Assessment, form: ClearanceForm) -> str:
    """The clearance of a route that is in order, from its departure to its level."""
    given = clean.route.route_input
    if form is ClearanceForm.TYPED:
        return " ".join(filter(None, (given.departure, given.route, given.destination, given.level)))
    spell = _spell if form is ClearanceForm.SPOKEN else str
    limit = f" to {spell(given.destination)}" if given.destination else ""
    sentences = [f"From {spell(given.departure)}"] if given.departure else []
    sentences.append(f"Cleared{limit} via {', '.join(_say_route(clean, form))}")
    sentences += (f"{level[0].upper()}{level[1:]}" for level in _say_level(given.level, form))
    return " ".join(f"{sentence}." for sentence in sentences)


def _say_route(clean: Assessment, form: ClearanceForm) -> Iterator[str]:
    """The words of the route as phrases: each point with the way to it."""
    say = _say_aloud if form is ClearanceForm.SPOKEN else _say_in_print
    to = " to " if form is ClearanceForm.SPOKEN else " "
    ways: list[str] = []
    is_first = True
    for word, role in zip(clean.route.resolved.parsed.words, clean.route.resolved.roles, strict=True):
        if role is WordRole.DIRECT:
            continue
        if role in _WAYS:
            ways.append(say(word, role))
        elif role is WordRole.CHANGE:
            yield f"from there {' '.join((*_say_level(word.level, form), *_say_speed(word.speed, form)))}"
        elif role in _PROCEDURES:
            yield say(word, role)
        else:
            way = f"{', '.join(ways)}{to}" if ways else "direct " * (not is_first)
            yield f"{way}{say(word, role)}"
            ways = []
        is_first = is_first and role in _PROCEDURES
    yield from ways


def _say_in_print(word: Word, role: WordRole) -> str:
    if role in _PROCEDURES:
        return _say_procedure(word.text, role, str, str)
    if match := _POSITION.fullmatch(word.text):
        lat, north, lon, east = match.groups()
        return f"{_part(lat, 2)} {_SIDES[north]} {_part(lon, 3)} {_SIDES[east]}"
    return _say_radial(word, str, str) or word.text


def _say_aloud(word: Word, role: WordRole) -> str:
    text = word.text
    if role in _PROCEDURES:
        return _say_procedure(text, role, _say_name, _spell)
    if role in _AIRWAYS and _AIRWAY.fullmatch(text):
        prefix = _AIRWAY_PREFIXES.get(text[0], "") if text[1].isalpha() else ""
        return f"{prefix} {_spell(text[1:] if prefix else text)}".strip()
    if match := _POSITION.fullmatch(text):
        lat, north, lon, east = match.groups()
        return f"{_spell(lat)} {_SIDES[north]}, {_spell(lon)} {_SIDES[east]}"
    return _say_radial(word, _say_name, _spell) or _say_name(text)


def _say_radial(word: Word, name: Callable[[str], str], digits: Callable[[str], str]) -> str:
    """A radial of a station, with a distance on it where there is one; "" for any other word."""
    if not word.ident or word.bearing_deg is None:
        return ""
    distance = "" if word.distance_nm is None else f" {digits(f'{word.distance_nm:.0f}')} miles"
    return f"{name(word.ident)} {digits(f'{word.bearing_deg:03.0f}')} radial{distance}"


def _say_procedure(text: str, role: WordRole, name: Callable[[str], str], letters: Callable[[str], str]) -> str:
    stem = procedure_stem(text)
    number, rest = text[len(stem) : len(stem) + 1], text[len(stem) + 1 :]
    said = _spell(number) if name is _say_name else _spell(number).upper()
    return " ".join(filter(None, (name(stem), said, letters(rest), _PROCEDURES[role])))


def _say_name(text: str) -> str:
    """A name that is made to be spoken as a word; all others letter by letter."""
    return text.capitalize() if len(text) == 5 and text.isalpha() else _spell(text)


def _spell(text: str) -> str:
    return " ".join(_SIGNS.get(sign, sign) for sign in text)


def _part(digits: str, degrees: int) -> str:
    """Degrees, and minutes behind a blank where there are any: "31 06"."""
    return f"{digits[:degrees]} {digits[degrees:]}".strip()


def _say_level(level: str, form: ClearanceForm) -> Iterator[str]:
    """A level of Item 15 as it is said; none where there is none."""
    is_spoken = form is ClearanceForm.SPOKEN
    if level.startswith("F"):
        yield f"flight level {_spell(level[1:]) if is_spoken else level[1:]}"
    elif level.startswith("A") and level[1:].isdigit():
        feet = int(level[1:]) * 100
        yield f"{_say_feet(feet) if is_spoken else f'{feet:,}'} feet"
    elif level:
        yield _spell(level) if is_spoken else level


def _say_feet(feet: int) -> str:
    thousands, hundreds = divmod(feet, 1000)
    said = [f"{_spell(str(thousands))} thousand"] if thousands else []
    return " ".join([*said, *([f"{_spell(str(hundreds // 100))} hundred"] if hundreds else [])])


def _say_speed(speed: str, form: ClearanceForm) -> Iterator[str]:
    is_spoken = form is ClearanceForm.SPOKEN
    figures = speed[1:].lstrip("0")
    if speed.startswith("N"):
        yield f"at {_spell(figures) if is_spoken else figures} knots"
    elif speed.startswith("M"):
        yield f"at Mach {_spell(speed[1:]) if is_spoken else f'0.{figures}'}"
    elif speed:
        yield f"at {_spell(speed) if is_spoken else speed}"
