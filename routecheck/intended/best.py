"""The best correction of each stretch: the greatest gain, what stands beside it, and whether it is clear enough."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.intended.candidates import candidates
from routecheck.intended.ends import end_candidates
from routecheck.intended.sketch import sketch
from routecheck.intended.suspects import suspects
from routecheck.model import BestEdit, Correction
from routecheck.slips.costs import WORTH_SAYING

if TYPE_CHECKING:
    from routecheck.intended.edits import Edit
    from routecheck.library.gazetteer import Library
    from routecheck.model import ResolvedRoute

CLEAR_GAP = 0.5
"""A best correction this far ahead of the second may be named alone; nearer ones are both named."""
FAR_BEHIND = 5.0
"""Corrections this far behind the best are not named beside it."""
KEPT = 3


def best_edits(resolved: ResolvedRoute, library: Library) -> tuple[BestEdit, ...]:
    """The best corrections of each stretch, best stretch first; stretches share no leg."""
    drawn = sketch(resolved, library)
    tried = candidates(drawn, suspects(drawn)) + end_candidates(drawn)
    waiting = sorted((e for e in tried if e.gain > WORTH_SAYING - CLEAR_GAP), key=lambda e: -e.gain)
    stretches: list[list[Edit]] = []
    for one in waiting:
        here = next((s for s in stretches if one.first < s[0].last and s[0].first < one.last), None)
        if here is None:
            stretches.append([one])
        else:
            here.append(one)
    return tuple(_best(here) for here in stretches)


def _best(here: list[Edit]) -> BestEdit:
    distinct: dict[tuple[object, str], Edit] = {}
    for one in here:
        distinct.setdefault((one.span, one.new), one)
    kept = [e for e in distinct.values() if here[0].gain - e.gain < FAR_BEHIND][:KEPT]
    clear = len(kept) < 2 or kept[0].gain - kept[1].gain >= CLEAR_GAP
    return BestEdit(tuple(_correction(e) for e in kept), here[0].first, here[0].last, clear)


def _correction(one: Edit) -> Correction:
    return Correction(
        span=one.span,
        old=one.old,
        new=one.new,
        slip=one.slip.value,
        gain=one.gain,
        shorter_nm=one.shorter_nm,
        straighter_deg=one.straighter_deg,
        defects=one.defects,
        departure=one.departure,
        destination=one.destination,
    )
