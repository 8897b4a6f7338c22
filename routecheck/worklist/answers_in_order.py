"""Takes the parts of a run, checked elsewhere at the same time, in the order of the routes."""

from __future__ import annotations

from collections import deque
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence

    from routecheck.model import RouteInput
    from routecheck.report.run import Run, WrittenAnswer

    Part = tuple[Run, list[WrittenAnswer]]


class Pending(Protocol):
    """A part of a run that is being checked."""

    def result(self) -> Part:
        """Wait for it."""


def take_in_order(
    groups: Iterable[Sequence[RouteInput]],
    submit: Callable[[Sequence[RouteInput]], Pending],
    run: Run,
    most_waiting: int,
) -> Iterator[WrittenAnswer]:
    """Submit groups of routes, and give the answers in their order, each counted in `run`.

    Only so many groups wait at a time: memory does not grow with the number of routes.
    """
    waiting: deque[Pending] = deque()
    for group in groups:
        waiting.append(submit(group))
        if len(waiting) > most_waiting:
            yield from _take(waiting.popleft(), run)
    while waiting:
        yield from _take(waiting.popleft(), run)


def _take(pending: Pending, run: Run) -> list[WrittenAnswer]:
    part, answers = pending.result()
    run.merge(part)
    return answers
