"""A drill in hand: what a trainee has said so far, kept compressed so that it is out of sight. It is no secret."""

from __future__ import annotations

import json
import zlib
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from routecheck.drill.cases import read_case, write_case
from routecheck.drill.marking import Mark, TraineeAnswer, mark_case

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.drill.cases import DrillCase

_LARGEST = 20_000_000
"""Characters of a drill in hand: more is none of ours."""


@dataclass(slots=True)
class DrillInHand:
    """The cases of a drill and the answers so far, in the order of the cases."""

    cases: Sequence[DrillCase]
    trainee: str = ""
    answers: list[TraineeAnswer] = field(default_factory=list)
    seconds: float = 0.0
    """Time spent on it: shown, never scored."""

    @property
    def case(self) -> DrillCase | None:
        """The route that is to be answered next; None at the end."""
        return self.cases[len(self.answers)] if len(self.answers) < len(self.cases) else None

    @property
    def marks(self) -> list[Mark]:
        """The marks so far."""
        return [mark_case(case, given) for case, given in zip(self.cases, self.answers, strict=False)]

    def answer(self, given: TraineeAnswer) -> Mark:
        """Take the answer to the route in hand, and go on to the next."""
        case = self.cases[len(self.answers)]
        self.answers.append(given._replace(name=case.name, trainee=self.trainee))
        return mark_case(case, self.answers[-1])

    def pack(self) -> bytes:
        """All of it, compressed."""
        values = {
            "trainee": self.trainee,
            "seconds": self.seconds,
            "cases": [write_case(case) for case in self.cases],
            "answers": [one._asdict() for one in self.answers],
        }
        return zlib.compress(json.dumps(values).encode())


def unpack_drill(content: bytes) -> DrillInHand | None:
    """Read a drill in hand; None where it is none, or damaged."""
    try:
        text = zlib.decompressobj().decompress(content, _LARGEST)
        values: Any = json.loads(text)
        cases = [read_case(line) for line in values["cases"]]
        answers = [TraineeAnswer(**one) for one in values["answers"]]
        whole = DrillInHand(cases, str(values["trainee"]), answers, float(values["seconds"]))
        _ = whole.marks  # an answer of another type would show only there
    except (ValueError, KeyError, TypeError, AttributeError, zlib.error, RecursionError):
        return None
    return whole if cases and len(answers) <= len(cases) else None
