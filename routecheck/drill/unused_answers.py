"""What of the answers of trainees counts for nothing, in sentences, so that nothing is dropped without a word."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from routecheck.drill.error_kinds import CLEAN, ERROR_KINDS
from routecheck.formatting import count, list_first, quote

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from routecheck.drill.cases import DrillCase
    from routecheck.drill.marking import TraineeAnswer

_MOST_NAMED = 5


def describe_unused(cases: Iterable[DrillCase], answers: Sequence[TraineeAnswer]) -> Iterator[str]:
    """Answers to no route of the key, routes that one trainee answered several times, kinds that are none."""
    names = {case.name for case in cases}
    strange = dict.fromkeys(one.name for one in answers if one.name not in names)
    if strange:
        yield f"{count(len(strange), 'answer')} to no route of the key: {list_first(list(strange), _MOST_NAMED)}."
    given = Counter((one.trainee, one.name) for one in answers)
    twice = dict.fromkeys(name for (_, name), times in given.items() if times > 1)
    if twice:
        yield f"Answered more than once, and the last counts: {list_first(list(twice), _MOST_NAMED)}."
    kinds = {"", CLEAN, *ERROR_KINDS}
    unknown = dict.fromkeys(one.kind for one in answers if " ".join(one.kind.split()).casefold() not in kinds)
    if unknown:
        yield f"No kind of error: {list_first([quote(kind) for kind in unknown], _MOST_NAMED)}."
