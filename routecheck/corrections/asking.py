"""Corrections are tried by assessing entries again: what many routes ask for comes in one call. No choosing here."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Generator, Iterable, Sequence
from functools import partial
from itertools import islice
from typing import TYPE_CHECKING, Generic, TypeVar

if TYPE_CHECKING:
    from routecheck.model import Assessment, RouteInput

T = TypeVar("T")
Again = Callable[[Sequence["RouteInput"]], Iterable["Assessment"]]
"""Assesses entries, without corrections."""
Asking = Generator[Sequence["RouteInput"], Sequence["Assessment"], T]
"""Work that asks for entries to be assessed, is sent the answers in their order, and comes to a T."""
AT_ONCE = 256
"""So many entries are assessed in one call, so that a thousand broken routes do not fill the memory."""


def together(works: Sequence[Asking[T]], again: Again) -> list[T | Exception]:
    """What each work comes to, or the exception that it failed with: one that fails takes no other down."""
    rounds = _Rounds(works)
    while rounds.asking:
        rounds.answer(again)
    return [rounds.ended[number] for number in range(len(works))]


class _Rounds(Generic[T]):
    """The works that have ended, and those that are `asking`: the number of the work and its entries."""

    def __init__(self, works: Sequence[Asking[T]]) -> None:
        self._works = works
        self.ended: dict[int, T | Exception] = {}
        self.asking: deque[tuple[int, Sequence[RouteInput]]] = deque()
        for number, work in enumerate(works):
            self._go_on(number, partial(next, work))

    def answer(self, again: Again) -> None:
        """Assess what the first of those that are asking want, and let them go on."""
        asked = [self.asking.popleft()]
        while self.asking and sum(len(route_inputs) for _, route_inputs in asked) < AT_ONCE:
            asked.append(self.asking.popleft())
        for (number, _), answers in zip(
            asked, _answers([route_inputs for _, route_inputs in asked], again), strict=True
        ):
            self._send(number, answers)

    def _send(self, number: int, answers: Sequence[Assessment] | Exception) -> None:
        work = self._works[number]
        step = partial(work.throw, answers) if isinstance(answers, Exception) else partial(work.send, answers)
        self._go_on(number, step)

    def _go_on(self, number: int, step: Callable[[], Sequence[RouteInput]]) -> None:
        try:
            self.asking.append((number, step()))
        except StopIteration as end:
            self.ended[number] = end.value
        except Exception as error:
            self.ended[number] = error


def _answers(asked: Sequence[Sequence[RouteInput]], again: Again) -> list[Sequence[Assessment] | Exception]:
    """The answers to each; where they cannot be had in one call, each by itself, so that only what fails is lost."""
    try:
        answers = iter(again([route_input for route_inputs in asked for route_input in route_inputs]))
        return [list(islice(answers, len(route_inputs))) for route_inputs in asked]
    except Exception:
        return [_by_itself(route_inputs, again) for route_inputs in asked]


def _by_itself(route_inputs: Sequence[RouteInput], again: Again) -> Sequence[Assessment] | Exception:
    try:
        return list(again(route_inputs))
    except Exception as error:
        return error
