"""The sentences that stand over and under an assessment: how much was checked, counts, totals, what was read."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from routecheck.formatting import bare_nm, count, listing, nm, percent, short
from routecheck.model import Outcome, Weight
from routecheck.procedures.follow import WITHOUT_MISSED

if TYPE_CHECKING:
    from routecheck.model import Assessment, DataSource, Route, Stretch

WEIGHT_NAMES = {Weight.WRONG: "Wrong", Weight.DOUBTFUL: "Doubtful", Weight.NOTE: "Note"}
WEIGHT_MARKS = {Weight.WRONG: "■", Weight.DOUBTFUL: "◆", Weight.NOTE: "○"}
_STRETCHES_TOLD = 3


def headline(assessment: Assessment) -> str:
    """How much of the route was checked and what was not: the first thing a reader sees, never a count of findings."""
    route = assessment.route
    if route.route_input.unread:
        return "Checked nothing: this could not be read."
    if not route.totals.not_checked and not assessment.could_not_run:
        return "Checked: all of the route."
    told = [_told(route, s) for s in route.totals.not_checked[:_STRETCHES_TOLD]]
    more = len(route.totals.not_checked) - len(told)
    rest = "; ".join(told) + (f"; and {count(more, 'more stretch', 'more stretches')}" if more else "")
    parts = [_share(route), f"Not checked: {rest}." if told else "", _could_not_run(assessment)]
    return " ".join(filter(None, parts))


def fully_checked(assessment: Assessment) -> bool:
    """Whether every stretch of the route was checked and every check could run: else it is never shown as in order."""
    route = assessment.route
    return not (route.route_input.unread or route.totals.not_checked or assessment.could_not_run or route.faults)


def weights_line(assessment: Assessment) -> str:
    """The findings by weight: "2 Wrong, 1 Doubtful"."""
    weights = Counter(f.weight for f in assessment.findings)
    if weights:
        return ", ".join(f"{weights[w]} {name}" for w, name in WEIGHT_NAMES.items() if weights[w])
    return "Nothing found." if fully_checked(assessment) else "Nothing found in what was checked."


def outcomes(assessment: Assessment) -> dict[Outcome, int]:
    """How many checks had each of the four outcomes; the four add up to the number of checks."""
    had = dict.fromkeys(Outcome, 0)
    for _, outcome in assessment.outcomes:
        had[outcome] += 1
    return had


def counts_line(assessment: Assessment) -> str:
    """The four counts in words."""
    counts = outcomes(assessment)
    told = [f"{counts[o]} {'with findings' if o is Outcome.FINDINGS else o.value}" for o in Outcome]
    return f"{count(len(assessment.outcomes), 'check')}: {', '.join(told)}."


def totals_line(assessment: Assessment) -> str:
    """Distance along the route and direct."""
    totals = assessment.route.totals
    along = f"{'at least ' if totals.gaps else ''}{nm(totals.distance_nm)}"
    if totals.gaps and not totals.distance_nm:
        along = "distance not known"
    direct = f"direct {nm(totals.direct_nm)}" if totals.direct_nm is not None else "direct distance not known"
    gaps = f", {count(totals.gaps, 'stretch', 'stretches')} without a length" if totals.gaps else ""
    return f"{along}{gaps}; {direct}"


def recognised(assessment: Assessment) -> str:
    """What was recognised in the text, in one line: "Route, 9 words, all read."."""
    roles = assessment.route.resolved.roles
    if assessment.route.route_input.unread:
        return "Not read."
    if not roles:
        flown = ": direct from departure to destination" if assessment.route.totals.direct_nm is not None else ""
        return f"No route text{flown}."
    unread = sum(role in ("unread", "impossible position") for role in roles)
    unknown = sum("unknown" in role for role in roles)
    state = f"{unread} unread" if unread else "all read"
    return f"Route, {count(len(roles), 'word')}, {state}{f', {unknown} not in the data' if unknown else ''}."


def data_line(assessment: Assessment) -> str:
    """Which navigation data the answer rests on."""
    sources = assessment.route.resolved.sources
    if not sources:
        return "No navigation data is loaded: only airports of the world list are known."
    mixed = " Where several have a record, the newest is used." if len({s.cycle for s in sources}) > 1 else ""
    return f"Navigation data: {listing([_source(s) for s in sources])}.{mixed}"


def _source(source: DataSource) -> str:
    invented = ", invented" if source.invented else ""
    return f"{source.name} (cycle {source.cycle or 'not said'}{invented})"


def _share(route: Route) -> str:
    totals = route.totals
    if totals.checked_share is None and not totals.checked_nm:
        return "Checked nothing of the route; how long it is cannot be known."
    if totals.checked_share is None:
        return f"Checked {nm(totals.checked_nm)} of the route; how long the rest is cannot be known."
    if not totals.checked_nm:
        return f"Checked nothing of the route (0 of at least {nm(totals.whole_nm or 0.0)})."
    whole = nm(totals.whole_nm or 0.0)
    return f"Checked {percent(totals.checked_share)} of the route ({bare_nm(totals.checked_nm)} of at least {whole})."


def _told(route: Route, stretch: Stretch) -> str:
    ends = [_name(route, stretch.first, "departure"), _name(route, stretch.last, "destination")]
    return f"{ends[0]}–{ends[1]}, {stretch.because}"


def _name(route: Route, index: int, otherwise: str) -> str:
    return short(route.points[index].text) or otherwise


def _could_not_run(assessment: Assessment) -> str:
    names = [name for name, _ in assessment.could_not_run]
    return f"Could not run (our mistake): {listing(names)}." if names else ""


def remarks(assessment: Assessment) -> tuple[str, ...]:
    """What the input held that is not used, and what was taken of procedures where the route leaves it open."""
    route = assessment.route
    # Where there is trouble a finding says so.
    taken = [
        said
        for connection in route.resolved.connections
        if (f := connection.followed) and not f.troubles
        for said in f.unused
        if said != WITHOUT_MISSED
    ]
    return (*route.route_input.remarks, *dict.fromkeys(f"{said[:1].upper()}{said[1:]}." for said in taken))
