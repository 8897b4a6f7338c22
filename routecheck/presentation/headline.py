"""The headline of an assessment, in parts, and the other lines about the whole route: counts, totals, data."""

from __future__ import annotations

from collections import Counter
from dataclasses import KW_ONLY, dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from routecheck.formatting import bare_nm, count, listing, nm, percent, short
from routecheck.model import Outcome, Weight, WordRole
from routecheck.presentation.unseen import unseen_sentence

if TYPE_CHECKING:
    from routecheck.model import Assessment, DataSource, Route, Stretch

WEIGHT_NAMES = {Weight.WRONG: "Wrong", Weight.DOUBTFUL: "Doubtful", Weight.NOTE: "Note"}
WEIGHT_MARKS = {Weight.WRONG: "■", Weight.DOUBTFUL: "◆", Weight.NOTE: "○"}
_UNREAD = frozenset({WordRole.UNREAD, WordRole.IMPOSSIBLE_POSITION})
_UNKNOWN = frozenset({WordRole.UNKNOWN_NAME, WordRole.UNKNOWN_AIRWAY, WordRole.UNKNOWN_PROCEDURE})
_ALL_BUT_NOT_USED = "Checked: all of the route, but not all that was given with it."
_MOST_LOST_NAMED = 3
"""How many lost stretches, or values not used, a sentence names; the others are counted."""


class Verdict(StrEnum):
    """What the findings of a route come to: the weight of the heaviest, or why there is none."""

    FAILED = "our program failed"
    NOT_READ = "not read"
    WRONG = "wrong"
    DOUBTFUL = "doubtful"
    NOTE = "note"
    NOTHING_FOUND = "nothing found"
    NOTHING_FOUND_IN_PART = "nothing found in what was checked"


@dataclass(frozen=True, slots=True)
class LostPart:
    """A stretch that was not checked: its two ends as a reader names them, and why."""

    start: str
    end: str
    because: str

    @property
    def name(self) -> str:
        """The stretch by its ends: "PIKOR–TOVIK"."""
        return f"{self.start}–{self.end}"

    @property
    def sentence(self) -> str:
        """The stretch with its reason."""
        return f"{self.name}, {self.because}"


@dataclass(frozen=True, slots=True)
class Headline:
    """What stands over an assessment, in parts. `coverage` says how much of the route was checked, as a sentence.

    `lost` are the stretches that were not checked, in route order; `could_not_run` names the checks that failed by a
    mistake of ours, `not_used` what of the input was not used.
    """

    verdict: Verdict
    coverage: str
    _: KW_ONLY
    lost: tuple[LostPart, ...] = ()
    could_not_run: tuple[str, ...] = ()
    beyond_sight: str = ""
    """What cannot be seen from the route alone, or is stated and compared by nothing, in sentences."""
    not_used: tuple[str, ...] = ()

    @property
    def lost_sentence(self) -> str:
        """Which stretches were not checked, the first with their reasons; "" where none was lost."""
        named = "; ".join([part.sentence for part in self.lost[:_MOST_LOST_NAMED]])
        more = len(self.lost) - _MOST_LOST_NAMED
        rest = f"; and {count(more, 'more stretch', 'more stretches')}" if more > 0 else ""
        return f"Not checked: {named}{rest}." if named else ""

    @property
    def failure_sentence(self) -> str:
        """Which checks could not run; "" where all could."""
        return f"Could not run (our mistake): {listing(self.could_not_run)}." if self.could_not_run else ""

    @property
    def not_used_sentence(self) -> str:
        """How much of the input was not used, the first of it by name; "" where all was."""
        named = list(self.not_used[:_MOST_LOST_NAMED])
        if more := len(self.not_used) - len(named):
            named.append(f"{more:,} more")
        return f"{count(len(self.not_used), 'value')} not used: {listing(named)}." if named else ""

    @property
    def sentence(self) -> str:
        """All of it, for where there is one line for it."""
        parts = (self.coverage, self.lost_sentence, self.beyond_sight, self.failure_sentence, self.not_used_sentence)
        return " ".join(filter(None, parts))


def headline(assessment: Assessment) -> Headline:
    """What stands over an assessment: the first thing a reader sees."""
    route, verdict = assessment.route, _verdict(assessment)
    if verdict is Verdict.FAILED:
        return Headline(verdict, f"Checked nothing: {assessment.failure}.")
    if verdict is Verdict.NOT_READ:
        return Headline(verdict, "Checked nothing: this could not be read.")
    beyond_sight = " ".join(filter(None, (unseen_sentence(route), _uncompared_claims(assessment))))
    not_used = tuple(one.label for one in assessment.not_used)
    if not route.totals.not_checked and not assessment.could_not_run:
        coverage = _ALL_BUT_NOT_USED if not_used else "Checked: all of the route."
        return Headline(verdict, coverage, beyond_sight=beyond_sight, not_used=not_used)
    lost = tuple(_lost_part(route, stretch) for stretch in route.totals.not_checked)
    failed = tuple(name for name, _ in assessment.could_not_run)
    return Headline(
        verdict, _coverage(route), lost=lost, could_not_run=failed, beyond_sight=beyond_sight, not_used=not_used
    )


def is_fully_checked(assessment: Assessment) -> bool:
    """Whether every stretch of the route was checked and every check could run: else it is never shown as in order."""
    route = assessment.route
    lost = route.route_input.unread or route.totals.not_checked or _uncompared_claims(assessment)
    return not (lost or assessment.could_not_run or route.own_mistakes)


def _uncompared_claims(assessment: Assessment) -> str:
    """That the plan states figures which no check compares; "" where there are none, or all are compared."""
    return next((f"Not checked: {one.because}." for one in assessment.not_checked if one.check == "claims"), "")


def findings_line(assessment: Assessment) -> str:
    """The findings by weight: "2 Wrong, 1 Doubtful"."""
    weights = Counter(f.weight for f in assessment.findings)
    if weights:
        return ", ".join(f"{weights[w]} {name}" for w, name in WEIGHT_NAMES.items() if weights[w])
    if assessment.failure:
        return "No check could run."
    return "Nothing found." if _verdict(assessment) is Verdict.NOTHING_FOUND else "Nothing found in what was checked."


def count_outcomes(assessment: Assessment) -> dict[Outcome, int]:
    """How many checks had each of the four outcomes. They add up to the number of checks."""
    counts = dict.fromkeys(Outcome, 0)
    for _, outcome in assessment.outcomes:
        counts[outcome] += 1
    return counts


def outcomes_line(assessment: Assessment) -> str:
    """The four counts in words."""
    counts = count_outcomes(assessment)
    parts = [f"{counts[o]} {'with findings' if o is Outcome.FINDINGS else o.value}" for o in Outcome]
    return f"{count(len(assessment.outcomes), 'check')}: {', '.join(parts)}."


def totals_line(assessment: Assessment) -> str:
    """Distance along the route and direct."""
    totals = assessment.route.totals
    along = f"{'at least ' if totals.gaps else ''}{nm(totals.distance_nm)}"
    if totals.gaps and not totals.distance_nm:
        along = "distance not known"
    direct = f"direct {nm(totals.direct_nm)}" if totals.direct_nm is not None else "direct distance not known"
    gaps = f", {count(totals.gaps, 'stretch', 'stretches')} without a length" if totals.gaps else ""
    return f"{along}{gaps}; {direct}"


def recognised_line(assessment: Assessment) -> str:
    """What was recognised in the text, in one line: "Route, 9 words, all read."."""
    roles = assessment.route.resolved.roles
    if assessment.route.route_input.unread or assessment.failure:
        return "Not read."
    if not roles:
        flown = ": direct from departure to destination" if assessment.route.totals.direct_nm is not None else ""
        return f"No route text{flown}."
    unread = sum(role in _UNREAD for role in roles)
    unknown = sum(role in _UNKNOWN for role in roles)
    state = f"{unread} unread" if unread else "all read"
    return f"Route, {count(len(roles), 'word')}, {state}{f', {unknown} not in the data' if unknown else ''}."


def data_line(assessment: Assessment) -> str:
    """Which navigation data the answer rests on."""
    sources = assessment.route.resolved.sources
    if not sources:
        return "No navigation data is loaded: only airports of the world list are known."
    mixed = " Where several have a record, the newest is used." if len({s.cycle for s in sources}) > 1 else ""
    return f"Navigation data: {listing([_source_name(s) for s in sources])}.{mixed}"


def _source_name(source: DataSource) -> str:
    invented = ", invented" if source.invented else ""
    return f"{source.name} (cycle {source.cycle or 'not said'}{invented})"


def _coverage(route: Route) -> str:
    totals = route.totals
    if totals.checked_share is None and not totals.checked_nm:
        return "Checked nothing of the route; how long it is cannot be known."
    if totals.checked_share is None:
        return f"Checked {nm(totals.checked_nm)} of the route; how long the rest is cannot be known."
    if not totals.checked_nm:
        return f"Checked nothing of the route (0 of at least {nm(totals.whole_nm or 0.0)})."
    whole = nm(totals.whole_nm or 0.0)
    return f"Checked {percent(totals.checked_share)} of the route ({bare_nm(totals.checked_nm)} of at least {whole})."


def _verdict(assessment: Assessment) -> Verdict:
    if assessment.failure:
        return Verdict.FAILED
    if assessment.route.route_input.unread:
        return Verdict.NOT_READ
    if assessment.findings:
        heaviest = min((finding.weight for finding in assessment.findings), key=list(Weight).index)
        return Verdict(heaviest.value)
    whole = is_fully_checked(assessment) and not assessment.not_used
    return Verdict.NOTHING_FOUND if whole else Verdict.NOTHING_FOUND_IN_PART


def _lost_part(route: Route, stretch: Stretch) -> LostPart:
    points = route.points
    start, end = short(points[stretch.first].text) or "departure", short(points[stretch.last].text) or "destination"
    return LostPart(start, end, stretch.because)


def input_remarks(assessment: Assessment) -> tuple[str, ...]:
    """What the input holds that is not used, and what was assumed of procedures where the route leaves it open."""
    route = assessment.route
    assumed: dict[str, None] = {}
    for connection in route.resolved.connections:
        # Of a procedure with a fault a finding speaks.
        if connection.procedure and not connection.procedure.faults:
            assumed |= dict.fromkeys(connection.procedure.remarks)
    not_used = [one.sentence for one in assessment.not_used]
    return (*not_used, *route.route_input.remarks, *(f"{note[:1].upper()}{note[1:]}." for note in assumed))
