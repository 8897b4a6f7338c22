"""Which check explains which: one cause, one finding. The one table of it, and what the runner does by it.

A finding is explained by one of another check at the same words that is no lighter, if the table names that check; of
two that have no words both are about what stands beside the text. It is then taken off the list and counts as not
checked; what explains it stands on the list. One rule more stands in corrections: of the findings that the same
correction clears, only those most to the point stay.
"""

from __future__ import annotations

from bisect import bisect_left
from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass
from routecheck.model import Finding, NotChecked, Weight, as_explained

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from routecheck.model import Span

Table = dict[str, tuple[str, ...]]
"""A check, and the checks that explain its findings, strongest first."""

UNREAD = ("unread-word", "impossible-position", "unread-row")
"""What cannot be read explains everything else at its place."""
UNKNOWN = (
    *UNREAD,
    "unknown-name",
    "unknown-airway",
    "off-airway",
    "airway-broken",
    "airways-apart",
    "unknown-procedure",
    "join-gap",
)
"""Unread or unknown: nothing sure can be said of what follows from it."""
_WRONG_PLACE = (*UNKNOWN, "position-disagrees", "repeated-point", "best-edit")
"""The point is probably another one than the one taken, so that the way to and from it says nothing."""
_UNLIKELY = (*_WRONG_PLACE, "unlike-known")
"""The same of the way there alone: known routes go another way."""
_WRONG_WAY = (*UNKNOWN, "position-disagrees", "best-edit")
"""The same without a point that stands twice: the distances by which altitudes are judged are as flown."""
_LEVEL_FORM = ("speed-or-level-form", "level-size", "level-unknown")
_WINDOW_FORM = ("window-upside-down", "window-error")

EXPLAINED_BY: Table = {
    # Strongest first: what explains a check stands above it, or has no row because nothing explains it.
    "misplaced-word": UNREAD,
    "unknown-name": UNREAD,
    "unknown-airway": UNREAD,
    "off-airway": UNREAD,
    "airway-broken": (*UNREAD, "off-airway"),
    "airways-apart": (*UNREAD, "unknown-airway", "off-airway", "airway-broken"),
    "unknown-procedure": UNREAD,
    "ends-differ": UNREAD,
    "procedure-elsewhere": (*UNREAD, "ends-differ"),
    "runway-unknown": UNREAD,
    "runway-not-served": (*UNREAD, "runway-unknown"),
    "runways-differ": (*UNREAD, "unknown-procedure", "runway-unknown"),
    "join-gap": (*UNREAD, "unknown-name", "runway-unknown", "runway-not-served"),
    "position-disagrees": UNKNOWN,
    "same-name": UNKNOWN,
    "against-airway": UNKNOWN,
    "one-point-airway": UNKNOWN,
    "repeated-point": UNKNOWN,
    "ends-exchanged": UNREAD,
    "best-edit": (*UNKNOWN, "position-disagrees", "repeated-point", "ends-exchanged"),
    "unlike-known": (*UNKNOWN, "position-disagrees", "repeated-point", "ends-exchanged", "best-edit"),
    "zigzag": _UNLIKELY,
    "dogleg": (*_UNLIKELY, "zigzag"),
    "doubling-back": (*_UNLIKELY, "zigzag", "dogleg"),
    "sharp-turn": (*_UNLIKELY, "zigzag", "dogleg", "doubling-back"),
    "leg-too-long": (*_WRONG_PLACE, "dogleg"),
    "crosses-itself": (*_WRONG_PLACE, "zigzag", "dogleg", "doubling-back", "leg-too-long"),
    "ocean-odd-one-out": (*UNREAD, "repeated-point", "best-edit", "zigzag", "dogleg", "doubling-back"),
    "no-length": (*UNKNOWN, "repeated-point"),
    "leg-too-short": (*_WRONG_PLACE, "dogleg", "doubling-back", "sharp-turn", "no-length"),
    "first-leg-away": (*UNKNOWN, "ends-exchanged", "best-edit", "dogleg", "leg-too-long"),
    "early-turn": _WRONG_WAY,
    "level-size": ("speed-or-level-form",),
    "speed-size": ("speed-or-level-form",),
    "level-unknown": ("speed-or-level-form", "level-size"),
    "speed-limit": (*UNREAD, "speed-or-level-form", "level-size", "speed-size"),
    "window-upside-down": UNREAD,
    "window-error": (*UNKNOWN, "window-upside-down"),
    "above-ceiling": (*UNREAD, *_LEVEL_FORM, *_WINDOW_FORM),
    "airway-level": (*UNKNOWN, "best-edit", *_LEVEL_FORM, "above-ceiling"),
    "below-minimum": (*_WRONG_WAY, *_LEVEL_FORM),
    "level-for-direction": (*UNKNOWN, *_LEVEL_FORM),
    "level-never-reached": (*_WRONG_WAY, "level-size", "speed-size", *_WINDOW_FORM, "above-ceiling"),
    "windows-conflict": (*_WRONG_WAY, *_WINDOW_FORM, "above-ceiling"),
    "steep": (*_WRONG_WAY, *_WINDOW_FORM, "windows-conflict"),
    "climb-in-arrival": (*_WRONG_WAY, *_WINDOW_FORM, "windows-conflict"),
    "claimed-distance": (*_WRONG_PLACE, "read-across"),
    "claimed-course": (*_WRONG_PLACE, "read-across"),
    "claimed-level": (*_WRONG_PLACE, *_LEVEL_FORM),
    "claimed-time": (*_WRONG_PLACE, *_LEVEL_FORM, "claimed-distance"),
    "landing-fuel": ("fuel-chain",),
    "descent-in-departure": (*_WRONG_WAY, *_WINDOW_FORM, "windows-conflict"),
}


@dataclass(frozen=True, slots=True)
class LighterCause:
    """A cause that explains a finding heavier than itself: how light it may be, and why."""

    lightest: Weight
    why: str


_SAME_CONTRADICTION = LighterCause(
    Weight.DOUBTFUL,
    "the best edit is Wrong only because its words contradict the data; what names the contradiction weighs it itself",
)
LIGHTER_CAUSES: dict[tuple[str, str], LighterCause] = {
    **{("best-edit", cause): _SAME_CONTRADICTION for cause in EXPLAINED_BY["best-edit"]},
    ("leg-too-short", "no-length"): LighterCause(
        Weight.NOTE, "two names of one spot are common, and no aircraft turns between them"
    ),
}
"""All other causes are at least as heavy as what they explain: nothing Wrong is hidden by something Doubtful."""

FIRST_OF_ALL = "ends-differ"
"""The finding of this check stands first: what else is said rests on the aerodromes it is about."""
_OF_THE_ENDS = (
    "procedure-elsewhere", "runway-unknown", "runway-not-served", "runways-differ", "ends-exchanged", "best-edit",
    "long-way-round", "first-leg-away", "leg-too-long", "dogleg", "doubling-back", "sharp-turn", "crosses-itself",
)  # fmt: skip
EXPLAINED_ANYWHERE_BY: Table = {"leg-too-short": ("speed-size",), **dict.fromkeys(_OF_THE_ENDS, (FIRST_OF_ALL,))}
"""The same wherever the stronger one stands: a speed holds on every leg until another is filed, and what other
aerodromes stand at the ends changes the way there and all of its shape."""
_HEAVY_FIRST = tuple(Weight)


class Causes:
    """What explains the findings of a route: worked out once, then asked about each finding."""

    def __init__(self, findings: Mapping[str, Sequence[Finding]], table: Mapping[str, Sequence[str]]) -> None:
        """`findings` are those of the checks that have any, by the check's name."""
        self._cause_of: dict[int, Finding] = {}
        if len(findings) < 2:
            return
        for check in findings.keys() & table.keys():
            named = [finding for name in table[check] for finding in findings.get(name, ())]
            if named:
                self._explain(check, findings[check], named)
        for check in findings.keys() & EXPLAINED_ANYWHERE_BY.keys():
            causes = [one for name in EXPLAINED_ANYWHERE_BY[check] for one in findings.get(name, ())]
            for finding in findings[check] if causes else ():
                if cause := next((one for one in causes if may_explain(one, check, finding.weight)), None):
                    self._cause_of.setdefault(id(finding), cause)

    def _explain(self, check: str, findings: Sequence[Finding], causes: Sequence[Finding]) -> None:
        """Note for each finding of a check the first of these causes that stands at its words."""
        for weight in {finding.weight for finding in findings}:
            stronger = _ByWord([one for one in causes if may_explain(one, check, weight)])
            for finding in findings:
                if finding.weight is weight and (cause := stronger.first_at(finding)):
                    self._cause_of[id(finding)] = cause

    def unexplained_findings(self, findings: Sequence[Finding]) -> Sequence[Finding]:
        """Those that nothing explains."""
        return [finding for finding in findings if id(finding) not in self._cause_of] if self._cause_of else findings

    def explained_findings(self, findings: Sequence[Finding]) -> Sequence[NotChecked]:
        """What stands in the place of those that are explained."""
        return [as_explained(one, self._root(one).check) for one in findings if id(one) in self._cause_of]

    def _root(self, finding: Finding) -> Finding:
        """What explains a finding and is itself explained by nothing, so that the reader finds it on the list."""
        while id(finding) in self._cause_of:
            finding = self._cause_of[id(finding)]
        return finding


def may_explain(cause: Finding, check: str, weight: Weight) -> bool:
    """Whether a cause is heavy enough to explain a finding of that check and weight."""
    exception = LIGHTER_CAUSES.get((check, cause.check))
    lightest = exception.lightest if exception else weight
    return _HEAVY_FIRST.index(cause.weight) <= _HEAVY_FIRST.index(lightest)


class _ByWord:
    """Findings to be asked for by words: sorted once, so that each of thousands costs no more than each of a few."""

    def __init__(self, findings: Sequence[Finding]) -> None:
        first_of: dict[Span, int] = {}
        for rank, finding in enumerate(findings):
            for span in finding.spans:
                first_of.setdefault(span, rank)
        self._findings = findings
        self._beside = next((finding for finding in findings if not finding.spans), None)
        self._spans = sorted(first_of)
        self._ranks = [first_of[span] for span in self._spans]

    def first_at(self, finding: Finding) -> Finding | None:
        """The first of them that shares a word with this one. Spans are those of words: the same, or apart."""
        if not finding.spans:
            return self._beside
        places = [(span, bisect_left(self._spans, span.end, key=_start) - 1) for span in finding.spans]
        ranks = [self._ranks[i] for span, i in places if i >= 0 and self._spans[i].overlaps(span)]
        return self._findings[min(ranks)] if ranks else None


def _start(span: Span) -> int:
    return span.start
