"""The marks of a class summed: for each trainee, and for each kind of error."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from routecheck.drill.error_kinds import CLEAN, ERROR_KINDS
from routecheck.drill.marking import WHOLE
from routecheck.formatting import count

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from routecheck.drill.marking import Mark


class TraineeSum(NamedTuple):
    """What a trainee has come to. `average` is of 100 over all routes, those that were not answered too."""

    trainee: str
    routes: int
    average: float
    false_alarms: int
    not_answered: int
    reveals: int
    seconds: int


class KindSum(NamedTuple):
    """How the class did with a kind of error: the averages of its answers."""

    kind: str
    answers: int
    place: float
    kind_marks: float
    correction: float
    average: float
    called_clean: int
    """How often it was called clean: an error that was not seen, or a clean route that was."""


TRAINEE_HEADS = "trainee", "routes", "of 100", "false alarms", "not answered", "reveals", "time"
KIND_HEADS = "kind", "answers", "place", "kind", "correction", "of 100", "called clean"


def trainee_cells(one: TraineeSum) -> tuple[str, ...]:
    """The sum of a trainee under TRAINEE_HEADS."""
    time = minutes_and_seconds(one.seconds) if one.seconds else ""
    counts = (str(number) for number in (one.false_alarms, one.not_answered, one.reveals))
    return one.trainee, str(one.routes), f"{one.average:.0f}", *counts, time


def kind_cells(one: KindSum) -> tuple[str, ...]:
    """The sum of a kind under KIND_HEADS."""
    averages = (f"{number:.0f}" for number in (one.place, one.kind_marks, one.correction, one.average))
    return one.kind, str(one.answers), *averages, str(one.called_clean)


def sum_by_trainee(marks: Mapping[str, Sequence[Mark]]) -> list[TraineeSum]:
    """A sum for each trainee, in the order in which they came."""
    return [_sum_trainee(trainee, of_trainee) for trainee, of_trainee in marks.items()]


def sum_by_kind(marks: Mapping[str, Sequence[Mark]]) -> list[KindSum]:
    """A sum for each kind of error that the routes had, in the order of kinds, clean last."""
    every = [mark for of_trainee in marks.values() for mark in of_trainee]
    by_kind = ((kind, [mark for mark in every if mark.case.kind == kind]) for kind in (*ERROR_KINDS, CLEAN))
    return [_sum_kind(kind, of_kind) for kind, of_kind in by_kind if of_kind]


def describe_class(marks: Mapping[str, Sequence[Mark]]) -> Iterator[str]:
    """A line for each trainee, then the class by kind of error."""
    for one in sum_by_trainee(marks):
        lacking = f", {count(one.not_answered, 'route')} not answered" if one.not_answered else ""
        over = f"{one.average:.0f} of {WHOLE} on average over {count(one.routes, 'route')}"
        time = f"; {minutes_and_seconds(one.seconds)} min" if one.seconds else ""
        yield f"{one.trainee}: {over}; {count(one.false_alarms, 'false alarm')}{lacking}{time}"
    yield "By kind of error, on average:"
    for kind in sum_by_kind(marks):
        yield f"  {kind.kind}: {kind.average:.0f} ({count(kind.answers, 'answer')})"


def minutes_and_seconds(seconds: float) -> str:
    """A stretch of time on a clock: "3:07"."""
    minutes, rest = divmod(int(seconds), 60)
    return f"{minutes}:{rest:02d}"


def _sum_trainee(trainee: str, marks: Sequence[Mark]) -> TraineeSum:
    given = [mark.given for mark in marks if mark.given]
    return TraineeSum(
        trainee,
        len(marks),
        _average(mark.total for mark in marks),
        sum(mark.is_false_alarm for mark in marks),
        len(marks) - len(given),
        sum(one.reveals for one in given),
        sum(one.seconds for one in given),
    )


def _sum_kind(kind: str, marks: Sequence[Mark]) -> KindSum:
    return KindSum(
        kind,
        len(marks),
        _average(mark.place for mark in marks),
        _average(mark.kind for mark in marks),
        _average(mark.correction for mark in marks),
        _average(mark.total for mark in marks),
        sum(mark.given is not None and mark.given.calls_it_clean for mark in marks),
    )


def _average(numbers: Iterable[int]) -> float:
    known = list(numbers)
    return sum(known) / len(known) if known else 0.0
