"""What was meant by a speed, level or runway beside the text that cannot be read. Nothing is tried here."""

from __future__ import annotations

import re
from itertools import product
from typing import TYPE_CHECKING

from routecheck.corrections.candidate import Candidate
from routecheck.corrections.filed_changes import with_digits
from routecheck.formatting import listing
from routecheck.model import FieldChange
from routecheck.performance.speed_bounds import is_usual
from routecheck.reading.input_fields import read_one_value

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.corrections.candidate import Question
    from routecheck.model import RouteInput

LETTER_FOR_DIGIT = 1.0
_SPEED_OR_LEVEL = re.compile(r"(FL?|[AS]|[NKM]) ?([0-9OI]+)")
_RUNWAY = re.compile(r"(RWY? ?|)([0-9OI]{1,2}[LRC]?)")
_PARTS = {
    "speed": _SPEED_OR_LEVEL,
    "level": _SPEED_OR_LEVEL,
    "departure_runway": _RUNWAY,
    "destination_runway": _RUNWAY,
}
_FOUR_DIGITS = {("level", "S"), ("level", "M"), ("speed", "N"), ("speed", "K")}


def mended_values(question: Question) -> Iterator[Candidate]:
    """Unread values with one error taken back each, as they can be read then: all of them, for together they are one
    finding. Of a speed and level those are left out that are not flown together.
    """
    route_input = question.route_input
    for mended in product(*(_mended_values(field, text) for field, text in route_input.typed)):
        changes = tuple(change for change, _, _ in mended)
        if _are_flown(route_input, {change.field: str(change.new) for change in changes}):
            why = listing(list(dict.fromkeys(why for _, _, why in mended)))
            yield Candidate(why, sum(cost for _, cost, _ in mended), beside=changes)


def _mended_values(field: str, text: str) -> Iterator[tuple[FieldChange, float, str]]:
    """Every value that may have been meant, how unlikely, and why."""
    parts = _PARTS[field].fullmatch(" ".join(text.upper().split())) if field in _PARTS else None
    for meant, cost, why in _near_texts(field, parts[1], parts[2]) if parts else ():
        if value := read_one_value(field, meant):
            yield FieldChange(field, text, value), cost, why


def _near_texts(field: str, letters: str, digits: str) -> Iterator[tuple[str, float, str]]:
    """Every text that may have been meant, how unlikely, and why."""
    figures = digits.replace("O", "0").replace("I", "1")
    if figures != digits:
        yield letters + figures, LETTER_FOR_DIGIT, "a letter stands for a digit"
    elif field in ("speed", "level"):
        width = 4 if (field, letters) in _FOUR_DIGITS else 3
        for meant, cost in with_digits(letters[:1], digits, width):
            yield meant, cost, "digits too many or too few"


def _are_flown(route_input: RouteInput, mended: dict[str, str]) -> bool:
    """Whether speed and level are flown together; where one of them is not known, any is."""
    filed = {"speed": route_input.speed, "level": route_input.level} | mended
    if not (filed["speed"] and filed["level"] and mended.keys() & {"speed", "level"}):
        return True
    return is_usual(filed["speed"], filed["level"], route_input.sheet)
