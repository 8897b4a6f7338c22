"""Check unread-word."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import Family, Limits, check
from routecheck.checks.route_queries import spans_of_words
from routecheck.formatting import short
from routecheck.model import Finding, NotChecked, Weight, WordKind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route


@check(
    "unread-word",
    Weight.WRONG,
    family=Family.READING,
    sentence="A word fits no form that a route word can have.",
    explanation=(
        "Usually a slip of the fingers: the hemisphere letter before the digits, a speed without its zero, a blank "
        "inside a group, the letter O for a zero. Where the form betrays what was probably meant, the finding says it. "
        "The word stays in the route as a point without a place, so that nothing passes unseen. An organised track "
        "(NATB) is read, but its points change daily: not checked. Nor are the words of European flight plans for "
        "stays and for operational air traffic (STAY1/0030, OAT, GAT, IFPSTOP, IFPSTART: their forms from memory)."
    ),
    false_alarms="forms of other documents (nav logs, clearances) pasted as a route.",
    citations=["field-15", "nat-errors"],
    applies_to=preconditions.has_words_of(WordKind.TRACK, WordKind.EUROPEAN, WordKind.UNREAD),
    flagged=[
        "LENDU DCT «N31E002» DCT TOVIK",
        "«N430F350» LENDU DCT PIKAR",
        "LENDU DCT «3ON002E» DCT TOVIK",
        "LENDU DCT «☂»",
    ],
    quiet=[
        "N0430F350 LENDU DCT 31S002E DCT TOVIK",
        "lendu dct pikar, um12\ntovik",
        "LENDU OAT UM12 PIKAR STAY1/0030 UM12 TOVIK GAT DCT SARNO IFPSTOP DCT KEBUL IFPSTART DCT RIPAS",
    ],
)
def unread_word(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    for index, word in enumerate(route.parsed.words):
        if word.kind is WordKind.TRACK:
            because = f"track {word.ident} of which day? Paste its points"
            yield NotChecked(spans_of_words(route, index), because)
        if word.kind is WordKind.EUROPEAN:
            because = f"{word.text} is a word of European flight plans that is not used here"
            yield NotChecked(spans_of_words(route, index), because)
        if word.kind is WordKind.UNREAD:
            message = f"“{short(word.text)}” cannot be read: {word.why}."
            yield Finding(spans_of_words(route, index), message, Weight.WRONG)
