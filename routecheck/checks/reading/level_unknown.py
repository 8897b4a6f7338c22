"""Check level-unknown."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limits, case, check
from routecheck.checks.route_queries import kinds_of_words, spans_of_words
from routecheck.model import Finding, NotChecked, Weight, WordKind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

_RVSM_TOP, _VFR_TOP = 410, 285


def _has_level(route: Route) -> bool:
    return bool(route.route_input.level) or WordKind.CHANGE in kinds_of_words(route)


@check(
    "level-unknown",
    Weight.DOUBTFUL,
    family=Family.READING,
    sentence="A flight level is in no table of cruising levels.",
    explanation=(
        "The tables have whole tens up to FL410, then 430, 450, 470 and so on; levels halfway (FL085) are for VFR "
        "below FL290. Altitudes and metric levels are read as such and left alone."
    ),
    false_alarms="block levels and test flights; a level assigned in between.",
    citations=["cruising-levels"],
    applies_to=_has_level,
    flagged=[
        "«N0430F385» LENDU DCT PIKAR",
        "N0430F350 LENDU/«N0430F420» DCT PIKAR",
        case("LENDU DCT PIKAR", level="F383", whole=True),
    ],
    quiet=[
        "N0430F410 LENDU/N0430F430 DCT PIKAR/N0430F290",
        "N0120F085 LENDU DCT PIKAR",
        "K0830S1130 LENDU DCT PIKAR/N0284A045",
        "N0430VFR LENDU DCT PIKAR",
    ],
)
def level_unknown(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    beside = route.route_input.level.upper()
    if beside and not _is_in_table(beside):
        yield Finding((), _message(beside), Weight.DOUBTFUL)
    for index, word in enumerate(route.parsed.words):
        if word.kind is WordKind.CHANGE and not word.bad:
            unknown = [level for level in re.findall(r"F\d{3}", word.level) if not _is_in_table(level)]
            if unknown:
                yield Finding(spans_of_words(route, index), _message(unknown[0]), Weight.DOUBTFUL)


def _is_in_table(level: str) -> bool:
    match = re.fullmatch(r"F(\d{3})", level)
    if not match:
        return True
    number = int(match[1])
    if number % 10:
        return number % 5 == 0 and number <= _VFR_TOP
    return number <= _RVSM_TOP or number % 20 == 10


def _message(level: str) -> str:
    return f"FL{level[1:]} is in no table of cruising levels."
