"""Proposals for what no entry error of the text's own words explains: runways, approaches, joints, windows, levels.

Each is tried by assessing the corrected entry: it must clear its finding and raise nothing but Notes.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from routecheck.corrections.joint_options import joint_options
from routecheck.corrections.level_options import level_options
from routecheck.corrections.options import Asked, Option
from routecheck.corrections.route_inputs import is_heavy, named, words_at
from routecheck.corrections.runway_options import approach_options, differing_options, runway_options
from routecheck.corrections.window_options import window_options
from routecheck.formatting import listing
from routecheck.model import Fact, Proposal

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence

    from routecheck.corrections.route_inputs import Again
    from routecheck.model import Assessment, Finding, NotChecked
    from routecheck.navdata.database import NavDatabase

ABOUT_EQUAL = 0.5
"""Options nearer to each other than this are about equal: all of them are named, or none."""
FAR_BEHIND = 2.0
"""Options this far behind the best are not named beside it."""
FOR_A_NOTE = 0.3
"""What it costs an option that it raises a Note."""
MOST, MOST_LEVELS = 3, 1
"""So many are named; of levels, of which only one can be clearly right, none beside the best."""
MOST_ASKED, MOST_TRIED = 6, 9
MOST_TOLD = 4
MOST_STOPS = 150
"""Longer routes get no such proposals: each try assesses the whole of it (our choice: no route flown comes near it)."""

JOINT = "join-gap"
OPTIONS: dict[str, Callable[[Asked], Iterator[Option]]] = {
    "runway-not-served": runway_options,
    "runway-unknown": runway_options,
    "runways-differ": differing_options,
    "unknown-procedure": approach_options,
    JOINT: joint_options,
    "window-error": window_options,
    "window-upside-down": window_options,
    "windows-conflict": window_options,
    "climb-in-arrival": window_options,
    "descent-in-departure": window_options,
    "level-never-reached": level_options,
    "above-ceiling": level_options,
    "level-unknown": level_options,
}
Words = tuple[str, ...]
Key = tuple[str, Words, Words]


@dataclass(frozen=True, slots=True)
class _Held:
    """An option that held when it was tried, and what it clears."""

    option: Option
    cost: float
    cleared: frozenset[Key]
    longer_nm: float


def with_beside(assessment: Assessment, database: NavDatabase, again: Again) -> Assessment:
    """The same assessment with such proposals under the findings that have none; each is tried."""
    asked = [f for f in assessment.findings if f.check in OPTIONS and _may_have_more(f) and is_heavy(f)]
    if not asked or len(assessment.route.resolved.route_points) > MOST_STOPS:
        return assessment
    found: dict[Key, tuple[Proposal, ...]] = {}
    silent: dict[Key, str] = {}
    for finding in asked[:MOST_ASKED]:
        if _key(assessment, finding) not in found:
            proposals, why_none = _proposals(Asked(assessment, finding, database), again)
            found = proposals | found
            silent |= {_key(assessment, finding): why_none} if why_none else {}
    findings = (_carrying(f, found.get(key, ()), silent.get(key, "")) for key, f in _keyed(assessment))
    return replace(assessment, findings=tuple(findings)) if found or silent else assessment


def _keyed(assessment: Assessment) -> list[tuple[Key, Finding]]:
    return [(_key(assessment, finding), finding) for finding in assessment.findings]


def _carrying(finding: Finding, proposals: tuple[Proposal, ...], silent: str) -> Finding:
    """The finding with proposals, or the fact that says why there are none.

    Beside those of the best edit stands only the likeliest, where it is another one.
    """
    own = finding.likely_intended
    if not is_heavy(finding) or not _may_have_more(finding):
        return finding
    if silent and not own and not proposals:
        return replace(finding, facts=(*finding.facts, Fact("likely intended", silent)))
    there = {(proposal.route, proposal.beside) for proposal in own}
    more = [one for one in proposals[: 1 if own else MOST] if (one.route, one.beside) not in there]
    return replace(finding, likely_intended=(*own, *more)) if more else finding


def _may_have_more(finding: Finding) -> bool:
    """Whether no best edit explains it, or where it explains a joint: then another transition stands beside it."""
    return not finding.likely_intended or (finding.check == JOINT and len(finding.likely_intended) < MOST)


def _proposals(asked: Asked, again: Again) -> tuple[dict[Key, tuple[Proposal, ...]], str]:
    """For the finding asked about, and for each other that they clear too, what is proposed; why nothing is, if so."""
    own = _key(asked.assessment, asked.finding)
    options = _distinct(asked, OPTIONS[asked.finding.check](asked))
    answers = again([option.made_in(asked.route_input) for option in options])
    clearing = [held for held in _held(asked, options, answers) if own in held.cleared]
    kept = _kept(clearing, own[0])
    if clearing and not kept:
        return {}, f"none named: {_listed(clearing)} are about equally likely"
    keys = {key for held in kept for key in held.cleared}
    made = [(_proposal(asked.assessment, held), held.cleared) for held in kept]
    return {key: tuple(proposal for proposal, cleared in made if key in cleared) for key in keys}, ""


def _listed(clearing: list[_Held]) -> str:
    values = sorted({held.option.new or named(held.option.beside) for held in clearing})
    return listing(values) if len(values) <= MOST_TOLD else f"{len(values)} others"


def _held(asked: Asked, options: Sequence[Option], answers: Sequence[Assessment]) -> Iterator[_Held]:
    before, unsure = _told(asked.assessment), _words_of(asked.assessment, asked.assessment.not_checked)
    explained = _words_of(asked.assessment, [one for one in asked.assessment.not_checked if one.explained_by])
    for option, after in zip(options, answers, strict=True):
        now = _told(after)
        lost = _words_of(after, after.not_checked) - unsure
        gone = (key for key, finding in before.items() if is_heavy(finding) and key not in now)
        cleared = frozenset(key for key in gone if key[:2] not in lost)
        raised = [now[key] for key in now.keys() - before.keys() if key[:2] not in explained]
        if not any(is_heavy(finding) for finding in raised):
            longer = after.route.totals.distance_nm - asked.route.totals.distance_nm
            yield _Held(option, option.cost + FOR_A_NOTE * len(raised), cleared, longer)


def _distinct(asked: Asked, options: Iterable[Option]) -> list[Option]:
    """The likeliest options, each only once, none that changes nothing."""
    seen: dict[tuple[object, ...], Option] = {}
    for option in sorted(options, key=lambda one: one.cost):
        seen.setdefault((option.span, option.new, option.beside), option)
    return [option for option in seen.values() if option.made_in(asked.route_input) != asked.route_input][:MOST_TRIED]


def _kept(held: list[_Held], check: str) -> list[_Held]:
    """The best with those not far behind; nothing where more are about equal than are named there."""
    ranked = sorted(held, key=lambda one: one.cost)
    near = [one for one in ranked if one.cost < ranked[0].cost + FAR_BEHIND]
    equal = [one for one in near if one.cost < ranked[0].cost + ABOUT_EQUAL]
    most = MOST_LEVELS if OPTIONS[check] is level_options else MOST
    return [] if len(equal) > most else near[:most]


def _proposal(assessment: Assessment, held: _Held) -> Proposal:
    option, route_input = held.option, assessment.route.route_input
    told = " and ".join(filter(None, (" ".join(option.new.split()), named(option.beside))))
    checks = tuple(sorted({check for check, *_ in held.cleared}))
    why = f"{told}: {option.why}; clears {listing(checks)}"
    route = option.made_in(route_input).route
    new = option.new if option.span is not None else told
    distance = assessment.route.totals.distance_nm + held.longer_nm
    return Proposal(option.span, new, route, why=why, clears=checks, distance_nm=distance, beside=option.beside)


def _told(assessment: Assessment) -> dict[Key, Finding]:
    return {_key(assessment, finding): finding for finding in assessment.findings}


def _words_of(assessment: Assessment, not_checked: Iterable[NotChecked]) -> set[tuple[str, Words]]:
    """The checks that could not be judged, each with its words.

    A finding that is only taken out of sight is not cleared; one that another finding explained so far is not raised.
    """
    text = assessment.route.route_input.route
    return {(one.check, words_at(text, one.spans)) for one in not_checked}


def _key(assessment: Assessment, finding: Finding) -> Key:
    """What tells one finding from another: check, words, and the points where these do not: one STAR has many."""
    words = words_at(assessment.route.route_input.route, finding.spans)
    options = OPTIONS.get(finding.check)
    if options is None or (words and options is not window_options):
        return finding.check, words, ()
    last = len(assessment.route.points) - 1
    ends = {0: "departure", last: "destination"}
    return finding.check, words, tuple(ends.get(i, assessment.route.points[i].text) for i in finding.points)
