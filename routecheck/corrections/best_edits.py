"""The best edit of each stretch of a route: which points are suspect, what wins most there, what is as likely."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.corrections.aerodrome_edits import aerodrome_edits
from routecheck.corrections.known_edits import edits_by_usage
from routecheck.corrections.outline import draw_outline
from routecheck.corrections.scoring import CLEAR_GAP, Scorer
from routecheck.corrections.verify import most_tries
from routecheck.corrections.word_edits import word_edits
from routecheck.earth import sphere
from routecheck.entry_errors.kinds import MOST_WORDS
from routecheck.model import BestEdit, Correction, ProcedureOutOfPlace

if TYPE_CHECKING:
    from routecheck.corrections.outline import Line, Outline
    from routecheck.corrections.scoring import Edit, Thresholds
    from routecheck.known.known_routes import KnownRoutes
    from routecheck.model import Route
    from routecheck.navdata.database import NavDatabase

SUSPECT_ADDED_NM = 4.0
SUSPECT_TURN_DEG = 25.0
"""A point that adds and turns less than this is not looked at: in a trial no planted error was lost by it."""
MOST_SUSPECTS = 60
AIRPORT_GAP = 1.0
"""What CLEAR_GAP is for words, of airports, which are weighed twice (corrections/aerodrome_likelihood)."""
OTHER_WORD_GAP = 2.0
"""The same of the best at another word of the stretch. Of 24 planted exits and entries too far that had one nearer, it
was at the right word in 11; of 25 that had one 2 to 5 behind, in 3."""
FAR_BEHIND = 5.0
"""Corrections this far behind the best are not named beside it."""
MOST_KEPT = 3
"""So many corrections of a stretch are kept, and tried."""
MOST_STRETCHES = 4
"""So many stretches are corrected at most (our choice: a route with more is not mistyped but another text)."""


def with_best_edits(
    route: Route, database: NavDatabase, thresholds: Thresholds, known: KnownRoutes | None = None
) -> Route:
    """The route with the best edit of each stretch, of a very long one only the clearest or none.

    With known routes corrections are weighed by them too.
    """
    if len(route.parsed.words) > MOST_WORDS:
        return route
    scorer = Scorer(draw_outline(route.resolved, database), thresholds)
    found = _best_edits(scorer, route, thresholds, known)
    most = min(MOST_STRETCHES, most_tries(route) // MOST_KEPT)
    left_out = len(found[most:]) + max(len(_suspicion(scorer.outline)) - MOST_SUSPECTS, 0)
    return replace(route, best_edits=found[:most], edits_not_tried=left_out) if found or left_out else route


def best_edits(route: Route, database: NavDatabase, thresholds: Thresholds) -> tuple[BestEdit, ...]:
    """The best corrections of each stretch, best stretch first; stretches share no leg."""
    return _best_edits(Scorer(draw_outline(route.resolved, database), thresholds), route, thresholds)


def _best_edits(
    scorer: Scorer, route: Route, thresholds: Thresholds, known: KnownRoutes | None = None
) -> tuple[BestEdit, ...]:
    if known is None:
        edits = word_edits(scorer, suspect_points(scorer.outline)) + aerodrome_edits(scorer, route.date)
    else:
        edits = edits_by_usage(scorer, route, suspect_points(scorer.outline), known)
    enough = [edit for edit in edits if edit.correction.gain > thresholds.least_gain]
    stretches: list[list[Edit]] = []
    for edit in sorted(enough, key=lambda one: -one.correction.gain):
        overlapping = (s for s in stretches if edit.first < s[0].last and s[0].first < edit.last)
        here = next(overlapping, None)
        if here is None:
            stretches.append([edit])
        else:
            here.append(edit)
    return tuple(_best_of(stretch) for stretch in stretches)


# ---- which points are suspect


def suspect_points(outline: Outline) -> list[int]:
    """Route points that bend the route, have no place or sit at a fault, and their neighbours; the worst of many."""
    suspicion = _suspicion(outline)
    worst = sorted(suspicion, key=lambda index: (-suspicion[index], index))[:MOST_SUSPECTS]
    near = {index + step for index in worst for step in (-1, 0, 1)}
    return sorted(index for index in near if 0 <= index <= outline.last)


def _suspicion(outline: Outline) -> dict[int, float]:
    """How suspect each suspect route point is."""
    suspicion = _bends(outline)
    for index, connection in enumerate(outline.resolved.connections):
        blocked = connection.is_blocked and not isinstance(connection.fault, ProcedureOutOfPlace)
        if index in outline.faulty or blocked:
            suspicion[index] = suspicion[index + 1] = math.inf
    return suspicion


def _bends(outline: Outline) -> dict[int, float]:
    """The NM that each route point adds that turns enough to be suspect; a little where a leg has no length."""
    found: dict[int, float] = {}
    line = outline.line
    flown, turns = line.flown_nm, line.turns_deg
    visits = Counter(line.points[here] for here in line.position if here is not None)
    again = {point for point, number in visits.items() if number > 1}
    for index, here in enumerate(line.position):
        if here is None:
            found[index] = math.inf
        elif not 0 < index < outline.last or not 0 < here < len(flown) - 1:
            continue
        elif turns[here] >= SUSPECT_TURN_DEG:
            added = _added_nm(line, here, index)
            if added >= SUSPECT_ADDED_NM:
                found[index] = added
        elif flown[here - 1] == flown[here] or flown[here] == flown[here + 1] or line.points[here] in again:
            found[index] = SUSPECT_ADDED_NM
    return found


def _added_nm(line: Line, here: int, index: int) -> float:
    """What a route point adds in its line, and where that is little between the route points beside it.

    An airway that overshoots may have a point of its own a mile before.
    """
    legs = line.flown_nm[here + 1] - line.flown_nm[here - 1]
    added = legs - sphere.distance_nm(line.points[here - 1], line.points[here + 1])
    before, after = line.position[index - 1], line.position[index + 1]
    if added >= SUSPECT_ADDED_NM or before is None or after is None:
        return added
    a, b, c = line.points[before], line.points[after], line.points[here]
    by_here = sphere.distance_nm(a, c) + sphere.distance_nm(c, b)
    return by_here - sphere.distance_nm(a, b)


# ---- which corrections stand beside the best


def _best_of(stretch: list[Edit]) -> BestEdit:
    """The best correction of a stretch with those not far behind, and those that cannot be told from it."""
    distinct: dict[tuple[object, str], Correction] = {}
    for edit in stretch:
        distinct.setdefault((edit.correction.span, edit.correction.new), edit.correction)
    best = stretch[0].correction
    near = [one for one in distinct.values() if best.gain - one.gain < FAR_BEHIND]
    alike = _as_likely(near)
    kept = near[:MOST_KEPT]
    if alike and alike[-1] not in kept:
        kept[-1] = alike[-1]
    named = tuple(one for one in kept if one in alike)
    return BestEdit(tuple(kept), stretch[0].first, stretch[0].last, named)


def _as_likely(near: list[Correction]) -> list[Correction]:
    """Those that cannot be told from the best: the next one at its words, and the best one at another word."""
    best, others = near[0], near[1:]
    gap = CLEAR_GAP if best.span else AIRPORT_GAP
    found = [one for one in others[:1] if _is_of_same_words(best, one) and best.gain - one.gain < gap]
    elsewhere = next((one for one in others if best.span and one.span and not best.span.overlaps(one.span)), None)
    if elsewhere and best.gain - elsewhere.gain < OTHER_WORD_GAP and explains_as_well(best, elsewhere):
        found.append(elsewhere)
    return found


def explains_as_well(best: Correction, other: Correction) -> bool:
    """Whether a correction does away with what the best one of its stretch does: at its words, or with most of it."""
    if other.span is None or best.span is None or other.span.overlaps(best.span):
        return True
    return other.defects >= best.defects and other.shorter_nm >= best.shorter_nm / 2.0


def _is_of_same_words(one: Correction, other: Correction) -> bool:
    if one.span is None or other.span is None:
        return one.span is other.span and one.old == other.old
    return one.span.overlaps(other.span)
