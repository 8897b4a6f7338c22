"""Check field-unread."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.altitude_queries import filed_stretches
from routecheck.checks.catalogue import Family, Limit, Limits, case, check, exceeds
from routecheck.checks.route_queries import kinds_of_words, spans_of_words
from routecheck.citations import OWN_CHOICE
from routecheck.formatting import level, listing, quote
from routecheck.model import Fact, Finding, NotChecked, Weight, WordKind
from routecheck.performance.speeds import tas_kt
from routecheck.reading.input_fields import explain_unread, name_value
from routecheck.vertical.levels import level_ft

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.checks.altitude_queries import FiledStretch
    from routecheck.model import Route

SAME_SPEED = Limit(
    "same_speed_kt", 5.0, "kt", OWN_CHOICE, highest=50.0, why="a Mach number of two digits is as rough as that"
)
_SAME_FT = 50.0


def _has_fields(route: Route) -> bool:
    given = route.route_input
    return bool(given.typed or given.speed or given.level)


@check(
    "field-unread",
    Weight.WRONG,
    family=Family.READING,
    sentence="A value beside the text cannot be read, or speed and level there are not those of the text.",
    explanation=(
        "A value that fits no form is used by nothing: Wrong. Where the text begins with speed and level, they are "
        "used; that others stand beside it is Doubtful, for one of the two was meant."
    ),
    false_alarms="a level beside the text that is meant for later than the one with which the text begins.",
    limits=[SAME_SPEED],
    citations=["field-15"],
    applies_to=_has_fields,
    flagged=[
        case("LENDU DCT PIKAR", level="F35O", whole=True),
        case("LENDU DCT PIKAR", speed="N043O", whole=True),
        case("LENDU DCT PIKAR", typed=(("off_block", "soon"),), whole=True),
        case("«N0430F350» LENDU DCT PIKAR", speed="N0450"),
        case("«M078F350» LENDU DCT PIKAR", speed="N0470"),
        case("«N0430F350» LENDU DCT PIKAR", level="F330"),
    ],
    quiet=[
        case("LENDU DCT PIKAR", speed="430", level="FL350"),
        case("N0430F350 LENDU DCT PIKAR", speed="430", level="35000"),
        case("M078F350 LENDU DCT PIKAR", speed="N0450"),
        case("LENDU/N0450F370 DCT PIKAR", speed="N0430", level="F350"),
    ],
)
def field_unread(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    for name, text in route.route_input.typed:
        noun = name_value(name)
        message = f"The {noun} given beside the text is not used: {explain_unread(name, text)}."
        yield Finding((), message, Weight.WRONG, (Fact(noun, quote(text), ""),))
    if WordKind.CHANGE in kinds_of_words(route):
        yield from _disagreement(route, limit[SAME_SPEED])


def _disagreement(route: Route, same_kt: float) -> Iterator[Finding]:
    """Speed and level with which the text begins, against those beside it."""
    stretches = filed_stretches(route)
    if not stretches or stretches[0].word is None:
        return
    begins, given = stretches[0], route.route_input
    differ = []
    if given.speed and _speeds_differ(given.speed, begins, same_kt):
        differ.append(("speed", begins.speed, given.speed))
    if given.level and _levels_differ(given.level, begins.level):
        differ.append(("level", level(begins.level), level(given.level)))
    if differ:
        sides = listing([f"{noun} {in_text}, beside it stands {beside}" for noun, in_text, beside in differ])
        facts = tuple(Fact(f"{noun} beside the text", beside) for noun, _, beside in differ)
        message = f"The text begins with {sides}: that of the text is used."
        yield Finding(spans_of_words(route, begins.word), message, Weight.DOUBTFUL, facts)


def _speeds_differ(speed: str, begins: FiledStretch, same_kt: float) -> bool:
    if speed == begins.speed:
        return False
    one, other = tas_kt(speed, begins.level), tas_kt(begins.speed, begins.level)
    if one is None or other is None or speed[:1] == begins.speed[:1]:
        return True
    return exceeds(abs(one - other), same_kt)


def _levels_differ(one: str, other: str) -> bool:
    """Climbing steps of a cruise climb begin with the first."""
    one_ft, other_ft = level_ft(one), level_ft(other)
    return one != other if one_ft is None or other_ft is None else exceeds(abs(one_ft - other_ft), _SAME_FT)
