"""The headline of an assessment, in parts, and the other lines about the whole route: counts, totals, data."""

from __future__ import annotations

from collections import Counter
from dataclasses import KW_ONLY
from typing import TYPE_CHECKING

from routecheck.formatting import as_sentence, bare_nm, count, listing, nm, percent, short
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Outcome, WordRole
from routecheck.presentation.comparison import compared_sentence, not_used_sentence
from routecheck.presentation.read_across import read_across_line
from routecheck.presentation.unseen import unseen_sentence
from routecheck.presentation.verdict import (
    Verdict,
    count_by_weight,
    find_verdict,
    is_fully_checked,
    is_in_order,
    is_nothing_given,
    uncompared_claims,
    verdict_sentence,
)

if TYPE_CHECKING:
    from routecheck.model import Assessment, DataSource, Route, Stretch

_UNREAD = frozenset({WordRole.UNREAD, WordRole.IMPOSSIBLE_POSITION})
_UNKNOWN = frozenset({WordRole.UNKNOWN_NAME, WordRole.UNKNOWN_AIRWAY, WordRole.UNKNOWN_PROCEDURE})
_ALL_BUT_NOT_USED = "Checked: all of the route, but not all that was given with it."
_NOTHING_GIVEN = "Nothing is checked until there is a route with its departure and destination."
_MOST_LOST_NAMED = 3
"""How many lost stretches, or values not used, a sentence names; the others are counted."""


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
    """What stands over an assessment. Line one is `verdict_line`; line two says how much was checked: `how_much`.

    `lost` are the stretches that were not checked, `open_by_design` those that are published without a fixed path,
    both in route order; `could_not_run` names the checks that failed by a mistake of ours, `not_used` what of the
    input was not used.
    """

    verdict: Verdict
    verdict_line: str
    coverage: str = ""
    _: KW_ONLY
    lost: tuple[LostPart, ...] = ()
    open_by_design: tuple[LostPart, ...] = ()
    could_not_run: tuple[str, ...] = ()
    beyond_sight: str = ""
    """What cannot be seen from the route alone, or is stated and compared by nothing, in sentences."""
    not_used: tuple[str, ...] = ()
    is_in_order: bool = False
    """Whether nothing heavy was found in all that can be checked."""

    @property
    def lost_sentence(self) -> str:
        """Which stretches were lost, the first with their reasons; "" where none was."""
        named = "; ".join([part.sentence for part in self.lost[:_MOST_LOST_NAMED]])
        more = len(self.lost) - _MOST_LOST_NAMED
        rest = f"; and {count(more, 'more stretch', 'more stretches')}" if more > 0 else ""
        return f"Lost: {named}{rest}." if named else ""

    @property
    def open_sentence(self) -> str:
        """Which stretches have no fixed path as they are published; "" where all have one."""
        names = [part.name for part in self.open_by_design]
        return f"Published without a fixed path: {listing(names)}." if names else ""

    @property
    def failure_sentence(self) -> str:
        """Which checks could not run; "" where all could."""
        return f"Could not run (our mistake): {listing(self.could_not_run)}." if self.could_not_run else ""

    @property
    def not_used_sentence(self) -> str:
        """How much of the input was not used, the first of it by name; "" where all was."""
        return not_used_sentence(self.not_used)

    @property
    def how_much(self) -> str:
        """Line two: how much was checked, what was lost, what is open, and what else stands in the way."""
        return self.describe_how_much(self.lost_sentence)

    def describe_how_much(self, lost: str) -> str:
        """Line two with another sentence about what was lost."""
        stretches = (self.coverage, lost, self.open_sentence)
        return " ".join(filter(None, (*stretches, self.beyond_sight, self.failure_sentence, self.not_used_sentence)))

    @property
    def sentence(self) -> str:
        """All of it, for where there is one line for it."""
        return " ".join(filter(None, (self.verdict_line, self.how_much)))


def headline(assessment: Assessment) -> Headline:
    """What stands over an assessment: the first thing a reader sees."""
    route, verdict, line = assessment.route, find_verdict(assessment), verdict_sentence(assessment)
    if verdict in (Verdict.FAILED, Verdict.NOT_READ):
        return Headline(verdict, line)
    if is_nothing_given(assessment):
        return Headline(verdict, line, _NOTHING_GIVEN, not_used=tuple(one.label for one in assessment.not_used))
    return Headline(
        verdict,
        line,
        _coverage(assessment),
        lost=tuple(_lost_part(route, stretch) for stretch in route.totals.lost),
        open_by_design=tuple(_lost_part(route, stretch) for stretch in route.totals.open_by_design),
        could_not_run=tuple(name for name, _ in assessment.could_not_run),
        beyond_sight=_beyond_sight(assessment),
        not_used=tuple(one.label for one in assessment.not_used),
        is_in_order=is_in_order(assessment),
    )


def _beyond_sight(assessment: Assessment) -> str:
    seen = unseen_sentence(assessment), compared_sentence(assessment), read_across_line(assessment.route)
    return " ".join(filter(None, (*seen, uncompared_claims(assessment))))


def findings_line(assessment: Assessment) -> str:
    """The findings by weight: "2 Wrong, 1 Doubtful"; "" where there is none, which the verdict says."""
    counts = count_by_weight(Counter(f.weight for f in assessment.findings))
    return counts or ("No check could run." if assessment.failure else "")


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
    """Distance along the route and direct. With gaps it is the least that the route can measure."""
    totals = assessment.route.totals
    if is_nothing_given(assessment):
        return "no route is given"
    along = f"at least {nm(totals.least_nm)}" if totals.gaps else nm(totals.distance_nm)
    if totals.gaps and not totals.least_nm:
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
        return "No route text."
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


def _coverage(assessment: Assessment) -> str:
    totals = assessment.route.totals
    if not totals.not_checked and not assessment.could_not_run and totals.unread:
        return f"Checked: all of the way that was read; {count(totals.unread, 'word')} could not be."
    if not totals.not_checked and not assessment.could_not_run:
        return _ALL_BUT_NOT_USED if assessment.not_used else "Checked: all of the route."
    if totals.checked_share is None and not totals.checked_nm:
        return "Checked nothing of the route; how long it is cannot be known."
    if totals.checked_share is None:
        return f"Checked {nm(totals.checked_nm)} of the route; how long the rest is cannot be known."
    whole = nm(totals.whole_nm or 0.0)
    if not totals.checked_nm:
        return f"Checked nothing of the route (0 of at least {whole})."
    how_far = f"({bare_nm(totals.checked_nm)} of at least {whole})"
    if is_fully_checked(assessment):
        return f"Checked: all of the route that can be {how_far}."
    return f"Checked {percent(totals.checked_share)} of the route {how_far}."


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
    return (*not_used, *route.route_input.remarks, *(as_sentence(note) for note in assumed))
