"""The best correction of each stretch: the greatest gain, what stands beside it, and whether it is clear enough."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from routecheck.intended.candidates import candidates
from routecheck.intended.sketch import sketch

if TYPE_CHECKING:
    from routecheck.intended.edits import Edit
    from routecheck.library.gazetteer import Library
    from routecheck.model import ResolvedRoute

CLEAR_GAP = 0.5
KEPT = 3


@dataclass(frozen=True, slots=True)
class Best:
    """The best edit of one stretch with the next best ones (first = best); `clear` = well ahead of the second."""

    edits: tuple[Edit, ...]
    clear: bool


def best_edits(resolved: ResolvedRoute, library: Library) -> tuple[Best, ...]:
    """The best edit of each stretch, best stretch first; stretches share no leg. Only what wins anything at all."""
    drawn = sketch(resolved, library)
    if not drawn.suspects:
        return ()
    waiting = sorted(candidates(drawn), key=lambda e: -e.gain)
    found = []
    while waiting:
        head = waiting[0]
        here = [e for e in waiting if e.first < head.last and head.first < e.last]
        found.append(_best(here))
        waiting = [e for e in waiting if e not in here]
    return tuple(found)


def _best(here: list[Edit]) -> Best:
    distinct: dict[tuple[object, str], Edit] = {}
    for one in here:
        distinct.setdefault((one.span, one.new), one)
    kept = tuple(distinct.values())[:KEPT]
    return Best(kept, len(kept) < 2 or kept[0].gain - kept[1].gain >= CLEAR_GAP)
