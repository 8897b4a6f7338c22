"""Check impossible-position."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import Family, Limits, check
from routecheck.checks.route_queries import spans_of_words
from routecheck.model import Finding, NotChecked, Weight, WordKind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

_KINDS = frozenset({WordKind.POSITION, WordKind.RADIAL, WordKind.RADIAL_DISTANCE})


@check(
    "impossible-position",
    Weight.WRONG,
    family=Family.READING,
    sentence="A position is nowhere: minutes of 60 and more, latitude over 90, longitude over 180, bearing over 360.",
    explanation="Usually a digit was typed twice or two digits were exchanged.",
    false_alarms="none known.",
    citations=["field-15"],
    applies_to=preconditions.has_impossible_words,
    flagged=[
        "LENDU DCT «3175S00200E» DCT TOVIK",
        "LENDU DCT «91S002E» DCT TOVIK",
        "LENDU DCT «31S181E» DCT TOVIK",
        "LENDU DCT «VAL361040» DCT TOVIK",
    ],
    quiet=["LENDU DCT 3159S00200E DCT TOVIK", "90S180E", "LENDU DCT VAL360040"],
)
def impossible_position(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    for index, word in enumerate(route.parsed.words):
        if word.bad and word.kind in _KINDS:
            message = f"{word.text} is nowhere: {word.bad}."
            yield Finding(spans_of_words(route, index), message, Weight.WRONG)
