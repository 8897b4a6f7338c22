"""The drills that a class has done: who answered what. Kept compressed, out of sight; a name is deleted easily."""

from __future__ import annotations

import zlib
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from routecheck.drill.cases import DrillCase, read_case, write_case
from routecheck.drill.marking import Mark, TraineeAnswer, mark_all
from routecheck.drill.progress import pack_values, unpack_values

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

NOBODY = "no name"
"""Whose drill it is where no name was typed."""


class DoneDrill(NamedTuple):
    """A drill that somebody has answered, all of it or in part."""

    trainee: str
    cases: tuple[DrillCase, ...]
    answers: tuple[TraineeAnswer, ...]

    @property
    def marks(self) -> list[Mark]:
        """The mark of each of its routes."""
        return mark_all(self.cases, {one.name: one for one in self.answers})

    def is_replaced_by(self, later: DoneDrill) -> bool:
        """Whether it is the same work, renamed since, or was done again under the same name."""
        if self.cases != later.cases:
            return False
        is_same_work = _without_names(self.answers) == _without_names(later.answers)
        return is_same_work or (bool(self.trainee) and self.trainee == later.trainee)


def _without_names(answers: Iterable[TraineeAnswer]) -> list[TraineeAnswer]:
    return [one._replace(trainee="") for one in answers]


@dataclass(slots=True)
class ClassList:
    """The drills that a class has done, in the order in which they came."""

    drills: list[DoneDrill] = field(default_factory=list)

    @property
    def marks(self) -> dict[str, list[Mark]]:
        """All marks by trainee; whoever did several drills has those of all."""
        marks: dict[str, list[Mark]] = {}
        for drill in self.drills:
            marks.setdefault(drill.trainee or NOBODY, []).extend(drill.marks)
        return marks

    def add(self, drill: DoneDrill) -> None:
        """Take a drill. The same answers under another name go, and what the same trainee said of the same routes."""
        self.drills = [one for one in self.drills if not one.is_replaced_by(drill)]
        self.drills.append(drill)

    def add_answers(self, cases: Sequence[DrillCase], answers: Iterable[TraineeAnswer], name: str) -> None:
        """Take answers that were handed in; those without a trainee are of `name`."""
        by_trainee: dict[str, list[TraineeAnswer]] = {}
        for one in answers:
            by_trainee.setdefault(one.trainee or name, []).append(one)
        for trainee, given in by_trainee.items():
            self.add(DoneDrill(trainee, tuple(cases), tuple(given)))

    def forget(self, trainee: str) -> None:
        """Delete a trainee with all that is kept of him or her."""
        self.drills = [one for one in self.drills if (one.trainee or NOBODY) != trainee]

    def pack(self) -> bytes:
        """All of it, compressed."""
        return pack_values(
            [
                {
                    "trainee": drill.trainee,
                    "cases": [write_case(case) for case in drill.cases],
                    "answers": [one._asdict() for one in drill.answers],
                }
                for drill in self.drills
            ]
        )


def unpack_class(content: bytes) -> ClassList | None:
    """Read a class list; None where it is none, or damaged."""
    try:
        drills = [
            DoneDrill(
                str(values["trainee"]),
                tuple(read_case(line) for line in values["cases"]),
                tuple(TraineeAnswer(**one) for one in values["answers"]),
            )
            for values in unpack_values(content)
        ]
        whole = ClassList(drills)
        _ = whole.marks  # an answer of another type would show only there
    except (ValueError, KeyError, TypeError, AttributeError, zlib.error, RecursionError):
        return None
    return whole
