"""A drill in hand: what a trainee has said so far, kept compressed so that it is out of sight. It is no secret."""

from __future__ import annotations

import json
import zlib
from dataclasses import KW_ONLY, dataclass, field
from typing import TYPE_CHECKING, Any, NamedTuple

from routecheck.drill.cases import read_case, write_case
from routecheck.drill.marking import TraineeAnswer, mark_case

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.drill.cases import DrillCase
    from routecheck.drill.marking import Mark

_LARGEST = 20_000_000
"""Characters of a drill in hand: more is none of ours."""


class Draft(NamedTuple):
    """What is pointed at and typed of an answer that is not given yet. `chosen` are places among the shown words."""

    chosen: tuple[int, ...] = ()
    kind: str = ""
    correction: str = ""


_NO_DRAFT = Draft()


@dataclass(slots=True)
class DrillInHand:
    """The cases of a drill and the answers so far, in the order of the cases."""

    cases: Sequence[DrillCase]
    _: KW_ONLY
    trainee: str = ""
    answers: list[TraineeAnswer] = field(default_factory=list)
    seconds: float = 0.0
    """Time spent on the route in hand; that of the others stands in their answers. Shown, never scored."""
    about: str = ""
    """What the drill is: its seed and what it was made from; "" = not known."""
    data: str = ""
    """The navigation data that it was made on; "" = not known."""
    revealed: list[str] = field(default_factory=list)
    """What was revealed of the route in hand."""
    draft: Draft = _NO_DRAFT

    @property
    def case(self) -> DrillCase | None:
        """The route that is to be answered next; None at the end."""
        return self.cases[len(self.answers)] if len(self.answers) < len(self.cases) else None

    @property
    def marks(self) -> list[Mark]:
        """The marks so far."""
        return [mark_case(case, given) for case, given in zip(self.cases, self.answers, strict=False)]

    @property
    def whole_seconds(self) -> float:
        """Time spent on all of it."""
        return self.seconds + sum(given.seconds for given in self.answers)

    def answer(self, given: TraineeAnswer) -> Mark:
        """Take the answer to the route in hand with what it cost, and go on to the next."""
        case = self.cases[len(self.answers)]
        whole = given._replace(
            name=case.name, trainee=self.trainee, reveals=len(self.revealed), seconds=int(self.seconds)
        )
        self.answers.append(whole)
        self.seconds, self.revealed, self.draft = 0.0, [], Draft()
        return mark_case(case, whole)

    def name_trainee(self, name: str) -> None:
        """Give the drill and its answers the name of a trainee."""
        self.trainee = name.strip()
        self.answers = [one._replace(trainee=self.trainee) for one in self.answers]

    def pack(self) -> bytes:
        """All of it, compressed."""
        values = {
            "trainee": self.trainee,
            "seconds": self.seconds,
            "about": self.about,
            "data": self.data,
            "revealed": self.revealed,
            "draft": self.draft,
            "cases": [write_case(case) for case in self.cases],
            "answers": [one._asdict() for one in self.answers],
        }
        return pack_values(values)


def pack_values(values: object) -> bytes:
    """Values as compressed JSON: out of sight."""
    return zlib.compress(json.dumps(values).encode())


def unpack_values(content: bytes) -> Any:
    """Values that were packed. Raises ValueError, zlib.error or RecursionError where they were not."""
    return json.loads(zlib.decompressobj().decompress(content, _LARGEST))


def unpack_drill(content: bytes) -> DrillInHand | None:
    """Read a drill in hand; None where it is none, or damaged."""
    try:
        values = unpack_values(content)
        whole = DrillInHand(
            [read_case(line) for line in values["cases"]],
            trainee=str(values["trainee"]),
            answers=[TraineeAnswer(**one) for one in values["answers"]],
            seconds=float(values["seconds"]),
            about=str(values.get("about", "")),
            data=str(values.get("data", "")),
            revealed=[str(one) for one in values.get("revealed", [])],
            draft=_read_draft(values.get("draft", ((), "", ""))),
        )
        _ = whole.marks  # an answer of another type would show only there
    except (ValueError, KeyError, TypeError, AttributeError, zlib.error, RecursionError):
        return None
    return whole if whole.cases and len(whole.answers) <= len(whole.cases) else None


def _read_draft(found: Any) -> Draft:
    chosen, kind, correction = found
    return Draft(tuple(int(one) for one in chosen), str(kind), str(correction))
