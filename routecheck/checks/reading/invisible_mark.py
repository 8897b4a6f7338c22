"""Check invisible-mark."""

from __future__ import annotations

import unicodedata
from bisect import bisect_right
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limits, check
from routecheck.formatting import count, short
from routecheck.model import Fact, Finding, NotChecked, Weight
from routecheck.reading.tokens import find_invisible_marks

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route, Word

_TURNING = frozenset({"RLE", "LRE", "RLO", "LRO", "RLI", "LRI", "FSI", "PDF", "PDI"})
"""Bidirectional classes of the marks that let text be shown in another order than it stands (Unicode Annex 9)."""


def _has_marks(route: Route) -> bool:
    return bool(find_invisible_marks(route.route_input.route))


@check(
    "invisible-mark",
    Weight.WRONG,
    family=Family.READING,
    sentence="The text holds a character that nobody sees, perhaps one that shows it in another order.",
    explanation=(
        "Such marks come along when text is copied from a page, a mail or a table. They part words or join them "
        "unseen: Doubtful. Marks of direction show the words in another order than they are read in: Wrong. Type the "
        "words at that place again."
    ),
    false_alarms="a soft hyphen or a zero-width blank that a page put in between two words.",
    applies_to=_has_marks,
    flagged=["LENDU DCT «PIKAR»\u200b", "«LENDU»\u200bDCT PIKAR", "LENDU DCT \u202e«PIKAR»", "LENDU DCT «PI\u00adKAR»"],
    quiet=["LENDU DCT\u00a0PIKAR", "LENDU\tDCT\r\nPIKAR", "LENDU DCT “PIKAR”"],
)
def invisible_mark(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    text, words = route.route_input.route, route.parsed.words
    places: dict[str, list[int]] = {}
    for at in find_invisible_marks(text):
        places.setdefault(text[at], []).append(at)
    for char, found in places.items():
        word = _nearest_word(words, found[0])
        where = f"at {short(word.text)}" if word else "in the text"
        name = unicodedata.name(char, "a control character")
        code = f"U+{ord(char):04X}"
        turns = unicodedata.bidirectional(char) in _TURNING
        more = f", {count(len(found), 'time')}" if len(found) > 1 else ""
        shown = "it shows the text in another order than it is read in" if turns else "nobody sees it"
        message = f"{code} {name} stands {where}{more}: {shown}."
        weight = Weight.WRONG if turns else Weight.DOUBTFUL
        yield Finding((word.span,) if word else (), message, weight, (Fact("mark", code), Fact("times", len(found))))


def _nearest_word(words: tuple[Word, ...], at: int) -> Word | None:
    """The word that holds a place of the text or ends there, else the next one, else the last."""
    index = bisect_right(words, at, key=lambda word: word.span.start) - 1
    if index >= 0 and words[index].span.end >= at:
        return words[index]
    return words[min(index + 1, len(words) - 1)] if words else None
