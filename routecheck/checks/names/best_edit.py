"""Check best-edit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limit, Limits, Measured, check, exceeds
from routecheck.checks.cycle import is_out_of_cycle
from routecheck.checks.route_queries import path_points, spans_of_words
from routecheck.checks.usage_queries import usage_facts
from routecheck.citations import OWN_CHOICE
from routecheck.entry_errors.kinds import MOST_WORDS, WORTH_SAYING
from routecheck.formatting import as_sentence, count, listing, nm
from routecheck.model import BestEdit, Correction, Fact, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Route

GAIN = Limit(
    "gain",
    WORTH_SAYING,
    "",
    OWN_CHOICE,
    lowest=-5.0,
    highest=20.0,
    why="what a correction wins in plausibility, log-odds",
)
MOST_NAMED = 3
"""A finding names no more words than a reader can look at."""
# Of the published U.S. routes in order that the scoring was not fitted on, 2.4 % have a correction that wins more, with
# a point written as coordinates 1.6 %; of planted entry errors 96 to 100 % a kind are flagged.


def _has_edits(route: Route) -> bool:
    """Whether a correction was found, or some were not looked for."""
    return bool(route.best_edits or route.edits_not_tried) or len(route.parsed.words) > MOST_WORDS


@check(
    "best-edit",
    Weight.WRONG,
    family=Family.NAMES,
    sentence="One likely entry error explains what is typed much better than the route as it stands.",
    explanation=(
        "Every word of a stretch that bends or contradicts the data is tried with the errors that people make: a "
        "letter changed, dropped, added or swapped, points exchanged or repeated, digits of a position, the number of "
        "an airway, an exit or entry too far. Each correction is scored by how unlikely the error is and by how much "
        "detour, turning and loose linkage it removes. Wrong when the words also contradict data that is for the "
        "day of the route, else Doubtful."
    ),
    false_alarms="published airways that overshoot near their end; a real bend beside a look-alike name.",
    measured=Measured(doubtful=2.19, wrong=0.04),
    limits=[GAIN],
    citations=["same-name-reports", "entry-error-reports"],
    applies_to=_has_edits,
    flagged=["LENDU DCT «PIKOR» DCT UVAGI DCT SARNO", "LENDU DCT «UVAGI» DCT «PIKAR» DCT SARNO"],
    quiet=["LENDU DCT PIKAR DCT UVAGI DCT SARNO", "31S000E 31S002E 30S004E 31S006E", "LENDU UM12 TOVIK DCT SARNO"],
)
def best_edit(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    for best in route.best_edits:
        first = best.corrections[0]
        if exceeds(first.gain, limit[GAIN]):
            yield _finding(route, best, first)
    if len(route.parsed.words) > MOST_WORDS:
        yield NotChecked((), f"corrections are looked for on routes of up to {MOST_WORDS:,} words")
    if route.edits_not_tried:
        places = count(route.edits_not_tried, "more place")
        yield NotChecked((), f"corrections at {places} not tried: too much of this route is suspect")


def _finding(route: Route, best: BestEdit, first: Correction) -> Finding:
    same_words = [one for one in best.alike if one.old == first.old]
    elsewhere = [one for one in best.alike if one.old != first.old]
    instead = "".join(f", or {_correction_words(one)} instead of {_old_words(one)}" for one in elsewhere)
    meant = _say_meant([first, *same_words])
    message = f"{_old_words(first)}: perhaps {meant}{instead}. {_effect(first)}.{_say_usage(first)}"
    facts = (
        Fact("shorter by", round(first.shorter_nm, 1), "NM"),
        Fact("less turning", round(first.straighter_deg), "°"),
        Fact("weight of the evidence", round(first.gain, 1), "log-odds"),
        *usage_facts(first.evidence),
    )
    weight = Weight.WRONG if first.defects > 0 and not is_out_of_cycle(route) else Weight.DOUBTFUL
    words = _end_words(route, first)
    all_words = tuple(sorted({*words, *(word for one in elsewhere for word in _end_words(route, one))}))
    spans = spans_of_words(route, *(all_words if len(all_words) <= MOST_NAMED else words))
    return Finding(spans, message, weight, facts, points=_marked_points(route, best, first))


def _marked_points(route: Route, best: BestEdit, first: Correction) -> tuple[int, ...]:
    """Where the mark goes: the points inside the stretch, or the aerodromes that are in doubt."""
    if first.span is not None:
        return path_points(route, *range(best.first + 1, best.last))
    ends = ((first.departure, 0), (first.destination, len(route.points) - 1))
    return tuple(point for meant, point in ends if meant and meant != route.points[point].text)


def _say_meant(corrections: Sequence[Correction]) -> str:
    """What was meant, and by which error something else stands there; one error is named once."""
    errors = {one.entry_error for one in corrections}
    if len(errors) > 1:
        return f"{listing([_correction_words(one) for one in corrections], 'or')} was meant"
    return f"{listing([_new_words(one) for one in corrections], 'or')} was meant ({errors.pop()})"


def _new_words(correction: Correction) -> str:
    return " ".join(correction.new.split())


def _correction_words(correction: Correction) -> str:
    return f"{_new_words(correction)} ({correction.entry_error})"


def _say_usage(correction: Correction) -> str:
    """What known routes say for it, or against the word typed, as a sentence of its own."""
    evidence = correction.evidence
    if evidence is None:
        return ""
    if not evidence.routes:
        return f" {as_sentence(evidence.clause)}"
    return f" {_new_words(correction)}: {evidence.clause}."


def _old_words(correction: Correction) -> str:
    return " ".join(correction.old.split())


def _end_words(route: Route, correction: Correction) -> tuple[int, ...]:
    """The indices of the first and last word that change; those between only connect them."""
    span = correction.span
    words = [i for i, word in enumerate(route.parsed.words) if span is not None and word.span.overlaps(span)]
    return (words[0], words[-1]) if words else ()


def _effect(correction: Correction) -> str:
    effects = []
    if correction.defects > 0:
        effects.append("it fits the data")
    if correction.shorter_nm >= 1.0:
        effects.append(f"the route is {nm(correction.shorter_nm)} shorter")
    if correction.straighter_deg >= 10.0:
        effects.append(f"it turns {correction.straighter_deg:.0f}° less")
    return "Then " + (listing(effects) if effects else "the points are linked")
