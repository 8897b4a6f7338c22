"""Marks the answers of a drill: place 40, kind 30, correction 30; each reveal costs 10. Time is never scored."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from routecheck.drill.cases import LEAVE_OUT
from routecheck.drill.entered_legs import DIRECT
from routecheck.drill.error_kinds import CLEAN, family_of
from routecheck.frozen_dataclass import dataclass

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from routecheck.drill.cases import DrillCase

PLACE, NEIGHBOUR, KIND, FAMILY, CORRECTION, REVEAL = 40, 20, 30, 15, 30, 10
WHOLE = PLACE + KIND + CORRECTION
MOST_BESIDE = 2
"""Who points at more words than the wrong ones and so many others points at no place."""


class TraineeAnswer(NamedTuple):
    """What a trainee says of a route; `word` and `kind` "" or kind "clean" = that nothing is wrong."""

    name: str
    word: str = ""
    kind: str = ""
    correction: str = ""
    trainee: str = ""
    reveals: int = 0
    seconds: int = 0
    """Time spent on it: shown, never scored."""

    @property
    def calls_it_clean(self) -> bool:
        """Whether the trainee says that nothing is wrong with it."""
        return not self.word.strip() and _plain_text(self.kind) in ("", CLEAN)


@dataclass(frozen=True, slots=True)
class Mark:
    """The marks for one route, of 100 each."""

    case: DrillCase
    given: TraineeAnswer | None
    """None = nothing was said of this route."""
    place: int = 0
    kind: int = 0
    correction: int = 0
    reveals: int = 0
    """What the reveals cost."""

    @property
    def total(self) -> int:
        """All together, never below 0."""
        return max(self.place + self.kind + self.correction - self.reveals, 0)

    @property
    def is_false_alarm(self) -> bool:
        """Whether a route without an error was accused."""
        return self.case.kind == CLEAN and self.given is not None and not self.given.calls_it_clean


def mark_all(cases: Iterable[DrillCase], answers: Mapping[str, TraineeAnswer]) -> list[Mark]:
    """Mark every route of a drill by the answers of one trainee."""
    return [mark_case(case, answers.get(case.name)) for case in cases]


def mark_case(case: DrillCase, given: TraineeAnswer | None) -> Mark:
    """Mark one answer. A clean route called clean is worth all, an accused one nothing; so is an error not seen."""
    if given is None:
        return Mark(case, None)
    cost = REVEAL * given.reveals
    if case.kind == CLEAN or given.calls_it_clean:
        marks = (PLACE, KIND, CORRECTION) if case.kind == CLEAN and given.calls_it_clean else (0, 0, 0)
        return Mark(case, given, *marks, reveals=cost)
    return Mark(
        case,
        given,
        place=_mark_place(case, given.word),
        kind=_mark_kind(case, given.kind),
        correction=_mark_correction(case, given.correction),
        reveals=cost,
    )


def _mark_place(case: DrillCase, word: str) -> int:
    said = _plain_words(word.split())
    if len(said) > len(case.words) + MOST_BESIDE:
        return 0
    if said & (_plain_words(case.words) | _plain_words(case.astray)):
        return PLACE
    return NEIGHBOUR if said & _plain_words(case.beside) else 0


def _plain_words(words: Iterable[str]) -> set[str]:
    """The words that say where something is: “DCT” stands everywhere, and says it only where it is the one word."""
    found = {_plain_text(one) for one in words}
    return found - {DIRECT.casefold()} or found


def _mark_kind(case: DrillCase, kind: str) -> int:
    if _plain_text(kind) == case.kind:
        return KIND
    return FAMILY if family_of(_plain_text(kind)) == family_of(case.kind) else 0


def _mark_correction(case: DrillCase, correction: str) -> int:
    said = _plain_text(correction)
    if case.correction == LEAVE_OUT and said in (LEAVE_OUT, "-"):
        return CORRECTION
    return CORRECTION if said in (_plain_text(case.correction), _plain_text(_leave_out_same(case))) else 0


def _leave_out_same(case: DrillCase) -> str:
    """The correction without the words that are right where they stand, as the airway between two exchanged points."""
    meant = case.correction.split()
    if len(meant) != len(case.words):
        return case.correction
    return " ".join(right for right, wrong in zip(meant, case.words, strict=True) if right != wrong)


def _plain_text(text: str) -> str:
    """The words without what is attached to them (speed and level), and capital as small."""
    return " ".join(word.partition("/")[0] for word in text.split()).casefold()
