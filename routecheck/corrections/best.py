"""The best correction of each stretch: the greatest gain, what stands beside it, and whether it is clear enough."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.corrections.candidates import candidates
from routecheck.corrections.edits import Scorer
from routecheck.corrections.ends import end_candidates
from routecheck.corrections.sketch import sketch
from routecheck.corrections.suspects import suspects
from routecheck.corrections.thresholds import CLEAR_GAP
from routecheck.model import BestEdit, Correction

if TYPE_CHECKING:
    from routecheck.corrections.edits import Edit
    from routecheck.corrections.thresholds import Thresholds
    from routecheck.model import Route
    from routecheck.navdata.database import NavDatabase

AIRPORT_GAP = 1.0
"""The same of airports, which are weighed twice (corrections/fields)."""
OTHER_WORD_GAP = 2.0
"""The same of the best at another word of the stretch. Of 24 planted exits and entries too far that had one nearer, it
was at the right word in 11; of 25 that had one 2 to 5 behind, in 3."""
FAR_BEHIND = 5.0
"""Corrections this far behind the best are not named beside it."""
KEPT = 3
"""So many corrections of a stretch are kept, and tried."""
MOST_STRETCHES = 40


def best_edits(route: Route, database: NavDatabase, thresholds: Thresholds) -> tuple[BestEdit, ...]:
    """The best corrections of each stretch, best stretch first; stretches share no leg."""
    scorer = Scorer(sketch(route.resolved, database), thresholds)
    tried = candidates(scorer, suspects(scorer.drawn)) + end_candidates(scorer, route.date)
    waiting = sorted((e for e in tried if e.gain > thresholds.least_gain), key=lambda e: -e.gain)
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
    near = [e for e in distinct.values() if here[0].gain - e.gain < FAR_BEHIND]
    alike = _alike(near)
    kept = near[:KEPT]
    if alike and alike[-1] not in kept:
        kept[-1] = alike[-1]
    corrections = tuple(_correction(e) for e in kept)
    named = tuple(c for e, c in zip(kept, corrections, strict=True) if e in alike)
    return BestEdit(corrections, here[0].first, here[0].last, named)


def _alike(near: list[Edit]) -> list[Edit]:
    """Those that cannot be told from the best: the next one at its words, and the best one at another word."""
    best, others = near[0], near[1:]
    gap = CLEAR_GAP if best.span else AIRPORT_GAP
    found = [e for e in others[:1] if _of_same_words(best, e) and best.gain - e.gain < gap]
    elsewhere = next((e for e in others if best.span and e.span and not best.span.overlaps(e.span)), None)
    if elsewhere and best.gain - elsewhere.gain < OTHER_WORD_GAP and explains_as_well(best, elsewhere):
        found.append(elsewhere)
    return found


def explains_as_well(best: Edit | Correction, other: Edit | Correction) -> bool:
    """Whether a correction does away with what the best one of its stretch does: at its words, or with most of it."""
    if other.span is None or best.span is None or other.span.overlaps(best.span):
        return True
    return other.defects >= best.defects and other.shorter_nm >= best.shorter_nm / 2.0


def _of_same_words(one: Edit, other: Edit) -> bool:
    if one.span is None or other.span is None:
        return one.span is other.span and one.old == other.old
    return one.span.overlaps(other.span)


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
