"""Item 15 route text to words with spans (ICAO Doc 4444 Appendix 2): slashes and neighbours. No navigation data here.

The ambiguities of the forms are settled thus:

- M082F330 is Mach and level; M0840 a metric level; M and three digits alone an airway unless the first is a zero.
- N or K and four digits is a speed, but N5050 (first digit no zero) is a five-character waypoint code.
- Two or three letters and three digits up to 360 may be a radial, where the navigation data has no such airway.
- 46N alone may be a location identifier; 078W cannot be one and is half a position.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.model import ParsedRoute, RouteInput, Span, Word, WordKind
from routecheck.reading import forms
from routecheck.reading.malformed_words import SHORTHAND_REASON, Malformation, explain_no_form, find_signs
from routecheck.reading.tokens import find_tokens, to_capitals
from routecheck.reading.understood_positions import read_shorthand

if TYPE_CHECKING:
    from collections.abc import Iterator

_ITEM_18 = re.compile(
    "STS|PBN|NAV|COM|DAT|SUR|DEP|DEST|DOF|REG|EET|SEL|TYP|CODE|DLE|OPR|ORGN|PER|ALTN|RALT|TALT|RIF|RMK|RTE"
)
"""The indicators of Item 18 (Doc 4444 Appendix 2)."""
_AFTER_SLASH = Malformation(
    "after a slash stands speed and level (N0430F350), VFR or IFR, or behind an airport its runway"
)
_STAY = re.compile(r"STAY[1-9]/(?:[01][0-9]|2[0-3])[0-5][0-9]")
"""A stay on the way, hours and minutes, in European flight plans (from memory)."""
_NOT_AT_A_POINT = "a change of speed and level is joined to a point"
_NOT_A_CLIMB = Malformation("a cruise climb is C, its point, speed and two levels: C/48N050W/M082F290F350")
_LEFT_OUT = Malformation("part of the route seems left out here; direct is written DCT or with two dots")
_POINTS = frozenset({WordKind.NAME, WordKind.POSITION, WordKind.RADIAL, WordKind.RADIAL_DISTANCE, WordKind.UNREAD})

_NOWHERE = Span(0, 0)

LONGEST_WORD = 64
"""A word of more characters is looked at no further (our choice: no form has more than 20)."""
MOST_WORDS = 10_000
"""The most words that are read of one route (our choice: no route comes near it, a wrong file pasted in does)."""


def read_route(route_input: RouteInput) -> ParsedRoute:
    """Cut the route text into words. Takes any text, raises nothing; the time is linear in its length."""
    text = to_capitals(route_input.route)
    words = list(_judge_changes(_join_torn(text, _read_words(text)), route_input))
    return ParsedRoute(route_input, tuple(_complete_shorthands(words)))


def _complete_shorthands(words: list[Word]) -> list[Word]:
    """Say of each shorthand position (45/50) which one is meant, where the others of the text tell the hemispheres."""
    if not any(word.kind is WordKind.UNREAD and "/" in word.text for word in words):
        return words
    full = [word.text for word in words if word.kind is WordKind.POSITION]
    meant = [read_shorthand(word.text, full) if word.kind is WordKind.UNREAD else "" for word in words]
    return [
        forms.make_unread(word.text, word.span, Malformation(SHORTHAND_REASON, position)) if position else word
        for word, position in zip(words, meant, strict=True)
    ]


def _read_words(text: str) -> Iterator[Word]:
    for number, span in enumerate(find_tokens(text)):
        if number == MOST_WORDS:
            yield _make_rest(text, span.start)
            return
        token = text[span.start : span.end]
        if len(token) > LONGEST_WORD:
            yield forms.make_unread(token, span, _describe_too_long(token))
        elif token.isalnum():
            yield forms.read_form(token, span)
        else:
            yield from _read_signs(token, span)


def _make_rest(text: str, start: int) -> Word:
    why = Malformation(f"the text goes on here, but of one route no more than {MOST_WORDS:,} words are read")
    span = Span(start, len(text.rstrip()))
    return forms.make_unread(text[span.start : span.end], span, why)


def _describe_too_long(token: str) -> Malformation:
    return Malformation(
        f"it has {len(token):,} characters; one of more than {LONGEST_WORD} is no route word and looked at no further"
    )


def _read_signs(token: str, span: Span) -> Iterator[Word]:
    if token[0] in ".…":
        yield _read_dots(token, span)
    elif "/" in token:
        yield from _read_slashes(token, span)
    else:
        yield forms.read_form(token, span)


def _read_dots(token: str, span: Span) -> Word:
    if token == "..":
        return Word(token, span, WordKind.DIRECT)
    return forms.make_unread(token, span, _LEFT_OUT)


def _read_slashes(token: str, span: Span) -> Iterator[Word]:
    if _STAY.fullmatch(token):
        yield Word(token, span, WordKind.EUROPEAN)
        return
    if why := _find_unread_slashes(token):
        yield forms.make_unread(token, span, why)
        return
    parts = list(_split_slashes(token, span.start))
    if parts[0][0] == "C" and len(parts) == 3:
        yield from _read_cruise_climb(*parts)
    else:
        yield from _read_point_and_more(parts)


def _find_unread_slashes(token: str) -> Malformation | None:
    """Why nothing of a word with slashes can be read; None if there is hope."""
    if not any(char.isalnum() for char in token):
        return explain_no_form(token)
    if (slashes := token.count("/")) > 2 or "//" in token:
        return Malformation(f"fits no form of a route word: {slashes:,} slashes stand in it")
    if token.startswith("/") or token.endswith("/"):
        where = "before" if token.startswith("/") else "behind"
        return Malformation(f"something is left out {where} the slash; {_AFTER_SLASH.reason}")
    head, _, behind = token.partition("/")
    # A navaid may be called PER: then a change of speed and level follows.
    if _ITEM_18.fullmatch(head) and not forms.read_change(behind, _NOWHERE):
        return Malformation(f"{head}/ belongs to Item 18: only the route, Item 15, is read here")
    return find_signs(token)


def _read_point_and_more(parts: list[tuple[str, Span]]) -> Iterator[Word]:
    (first, at), (second, upto) = parts[:2]
    used, point = 1, forms.read_form(first, at)
    if radial := forms.read_radial_slash(f"{first}/{second}", Span(at.start, upto.end)):
        used, point = 2, radial
    yield point
    yield from (_read_attached(part, at, point) for part, at in parts[used:] if part)


def _split_slashes(token: str, start: int) -> Iterator[tuple[str, Span]]:
    for part in token.split("/"):
        yield part, Span(start, start + len(part))
        start += len(part) + 1


def _read_cruise_climb(letter: tuple[str, Span], point: tuple[str, Span], change: tuple[str, Span]) -> Iterator[Word]:
    """C/48N050W/M082F290F350: the letter, its point, and the change attached to the point."""
    yield Word(*letter, WordKind.CRUISE_CLIMB)
    if point[0]:
        yield forms.read_form(*point)
    word = forms.read_change(*change, climb=True) or forms.make_unread(*change, _AFTER_SLASH)
    yield replace(word, attached=True)


def _read_attached(part: str, at: Span, point: Word) -> Word:
    if change := forms.read_change(part, at):
        bad = change.bad or ("" if point.kind in _POINTS else _NOT_AT_A_POINT)
        return replace(change, attached=True, bad=bad)
    if part in ("VFR", "IFR"):
        return Word(part, at, WordKind.RULES, attached=True)
    if point.kind is WordKind.NAME and (runway := forms.read_runway(part, at)):
        return runway
    word = forms.read_form(part, at)
    if word.kind in (WordKind.UNREAD, WordKind.CHANGE):
        return replace(word, attached=True)
    return forms.make_unread(part, at, _NOT_A_CLIMB if point.text == "C" else _AFTER_SLASH, attached=True)


# ---- what only the neighbours tell


_SPEED = re.compile(r"N0[0-9]{3}|K[0-9]{4}|M0[0-9]{2}")
_LEVEL = re.compile(r"[FA][0-9]{3}|[SM][0-9]{4}|VFR")
_LATITUDE = re.compile(r"[0-9]{2}(?:[0-9]{2})?[NS]")
_LONGITUDE = re.compile(r"[0-9]{3}(?:[0-9]{2})?[EW]")
_LATITUDE_TURNED = re.compile(r"[NS][0-9]{2}(?:[0-9]{2})?")
_LONGITUDE_TURNED = re.compile(r"[EW](?:0[0-9]{2}|[0-9]{5})")
_FIRST_HALF = re.compile(r"NAT|[NKMS][0-9]{2,4}|[0-9]{2,4}[NS]")


def _join_torn(text: str, words: Iterator[Word]) -> Iterator[Word]:
    """Make one word again of neighbours that a blank has torn apart: unread, but explained."""
    pending: Word | None = None
    for word in words:
        if pending and (one := _join_pair(text, pending, word)):
            pending = one
            continue
        if pending:
            yield pending
        pending = word
    if pending:
        yield pending


def _join_pair(text: str, first: Word, second: Word) -> Word | None:
    if second.attached or not _FIRST_HALF.fullmatch(first.text):
        return None
    span = Span(first.span.start, second.span.end)
    if first.text == "NAT" and len(second.text) == 1 and second.text.isalpha():
        return Word(text[span.start : span.end], span, WordKind.TRACK, ident=second.text)
    why = _find_torn(first.text, second.text)
    return forms.make_unread(text[span.start : span.end], span, why, attached=first.attached) if why else None


def _find_torn(first: str, second: str) -> Malformation | None:
    """Why two neighbours are one word that a blank has torn apart; None if they are not."""
    if _SPEED.fullmatch(first) and _LEVEL.fullmatch(second):
        return Malformation("no blank stands between speed and level", f"{first}{second}")
    if _LATITUDE.fullmatch(first) and _LONGITUDE.fullmatch(second):
        return Malformation("no blank stands between latitude and longitude", f"{first}{second}")
    if _LATITUDE_TURNED.fullmatch(first) and _LONGITUDE_TURNED.fullmatch(second):
        turned = f"{first[1:]}{first[0]}{second[1:]}{second[0]}"
        return Malformation("hemisphere letters go after the digits, without a blank", turned)
    return None


def _judge_changes(words: Iterator[Word], route_input: RouteInput) -> Iterator[Word]:
    """Let speed and level stand alone at the beginning; refuse them later where no point carries them."""
    beginning = True
    for number, word in enumerate(words):
        yield forms.read_first_word(word) if beginning else _refuse_lone_change(word)
        beginning = beginning and (word.attached or (number == 0 and _is_departure(word, route_input)))


def _is_departure(word: Word, route_input: RouteInput) -> bool:
    return word.text == to_capitals(route_input.departure).strip() or (
        word.kind is WordKind.NAME and len(word.text) == 4
    )


def _refuse_lone_change(word: Word) -> Word:
    if word.kind is WordKind.CHANGE and not word.attached and not word.bad:
        bad = f"a change of speed and level is joined to its point with a slash: POINT/{word.text}"
        return replace(word, bad=bad)
    return word
