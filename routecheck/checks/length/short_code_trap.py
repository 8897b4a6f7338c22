"""Check short-code-trap."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limits, check
from routecheck.checks.route_queries import spans_of_words
from routecheck.model import Finding, NotChecked, Weight, WordKind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

_SIDES = {"N": ("N", "W"), "E": ("N", "E"), "S": ("S", "E"), "W": ("S", "W")}
_LAST = re.compile(r"(\d\d)(\d\d)([NESW])")
_THIRD = re.compile(r"(\d\d)([NESW])(\d\d)")
_HALF = re.compile(r"([NESW])(\d\d)(\d\d)")
_HALF_ATLANTIC = re.compile(r"H(\d\d)(\d\d)")


@check(
    "short-code-trap",
    Weight.DOUBTFUL,
    family=Family.LENGTH,
    sentence="A five-character short code of an ocean position means another place when its letter is moved.",
    explanation=(
        "`5050N` is 50°N 050°W, `N5050` is 50°30′N 050°W, 30 NM away; `52N20` is 52°N 120°W, 100 degrees from `5220N`; "
        "`H5050` is 50°30′N 050°W in the North Atlantic (from memory). Such codes are names in data files, not "
        "positions for Item 15. The finding gives both readings; `5050N` and `H5050` are placed where the data has no "
        "such name. In four months of 2014 such codes led to 33 gross errors of 30 NM."
    ),
    false_alarms="such a code used on purpose as a database name.",
    citations=["half-degree-names"],
    flagged=[
        "52N020W «5050N» 50N060W",
        "52N020W «N5050» 50N060W",
        "52N120W «52N20» 50N130W",
        "52N020W «H5050» 50N060W",
    ],
    quiet=["52N020W 50N050W 50N060W", "52N020W 5030N05000W 50N060W", "LENDU DCT PIKAR"],
)
def short_code_trap(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    for index, word in enumerate(route.parsed.words):
        if len(word.text) != 5 or word.text.isalpha() or word.kind is not WordKind.NAME:
            continue
        reading = _readings(word.text)
        if reading:
            here, other_form, there = reading
            message = f"{word.text} as a short code means {here}; {other_form} would mean {there}. Write it in full."
            yield Finding(spans_of_words(route, index), message, Weight.DOUBTFUL)


def _readings(text: str) -> tuple[str, str, str] | None:
    """(what it means, the look-alike, what that means) of a short code; None for any other word."""
    if match := _LAST.fullmatch(text):
        lat, lon, letter = match.groups()
        return _position_words(lat, lon, letter), f"{letter}{lat}{lon}", _position_words(lat, lon, letter, half=True)
    if match := _HALF.fullmatch(text):
        letter, lat, lon = match.groups()
        return _position_words(lat, lon, letter, half=True), f"{lat}{lon}{letter}", _position_words(lat, lon, letter)
    if match := _HALF_ATLANTIC.fullmatch(text):
        lat, lon = match.groups()
        return _position_words(lat, lon, "N", half=True), f"{lat}{lon}N", _position_words(lat, lon, "N")
    if match := _THIRD.fullmatch(text):
        lat, letter, lon = match.groups()
        return _position_words(lat, f"1{lon}", letter), f"{lat}{lon}{letter}", _position_words(lat, lon, letter)
    return None


def _position_words(lat: str, lon: str, letter: str, *, half: bool = False) -> str:
    north, east = _SIDES[letter]
    return f"{lat}°{'30′' if half else ''}{north} {lon:0>3}°{east}"
