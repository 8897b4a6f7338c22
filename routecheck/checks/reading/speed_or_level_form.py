"""Check speed-or-level-form."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import Family, Limits, check
from routecheck.checks.route_queries import spans_of_words
from routecheck.model import Finding, NotChecked, Weight, WordKind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route


@check(
    "speed-or-level-form",
    Weight.WRONG,
    family=Family.READING,
    sentence="A speed or level has no form of Item 15, or a change gives only one of the two.",
    explanation="A change always gives both speed and level, even if only one of them changes.",
    false_alarms="none known.",
    citations=["field-15"],
    applies_to=preconditions.has_impossible_words,
    flagged=["LENDU/«N0430» DCT PIKAR", "LENDU/«F350» DCT PIKAR"],
    quiet=["N0430F350 LENDU/M082F370 DCT PIKAR/K0830S1130", "LENDU/N0284A045 DCT PIKAR"],
)
def speed_or_level_form(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    for index, word in enumerate(route.parsed.words):
        if word.bad and word.kind is WordKind.CHANGE:
            message = f"Speed and level “{word.text}”: {word.bad}."
            yield Finding(spans_of_words(route, index), message, Weight.WRONG)
