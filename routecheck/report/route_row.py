"""An answer as one row of a table: where the route stands, verdict, counts, the heaviest finding, length, shares."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from routecheck.checks import acceptances
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Weight
from routecheck.presentation.headline import headline
from routecheck.presentation.time_words import known_times
from routecheck.report.batch_text import flagged_words
from routecheck.report.checked_parts import is_nothing_checked

if TYPE_CHECKING:
    from routecheck.model import Assessment, Finding
    from routecheck.presentation.verdict import Verdict
    from routecheck.report.output_options import OutputOptions

_HEAVIEST_FIRST = tuple(Weight)


class RowFinding(NamedTuple):
    """A finding in plain values; texts are "" where there is nothing to say."""

    weight: Weight
    check: str
    words: str
    """The words that it flags, as short as a table has room for."""
    whole_words: str
    """The same, whole, as an acceptance knows them."""
    message: str
    likely_intended: str
    """The first correction proposed for it, with its evidence."""
    entry_error: str
    """The kind of entry error that this correction undoes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RouteRow:
    """One route. Texts are "", figures None where there is nothing to say or nothing is known."""

    file: str
    line: int | None
    name: str
    departure: str
    destination: str
    verdict: Verdict
    counts: tuple[int, ...]
    """How many findings of each weight, the heaviest first."""
    not_shown: int
    findings: tuple[RowFinding, ...]
    """Those shown, the heaviest first."""
    distance_nm: float | None
    has_gaps: bool
    """Whether the distance is the least it can be."""
    direct_nm: float | None
    time_min: float | None
    checked_share: float | None
    lost_nm: float | None
    not_used: str
    headline: str
    how_much: str
    """How much of it was checked, in words: the headline without its verdict."""
    columns: tuple[tuple[str, str], ...]
    """Titles and texts of the columns that nothing reads."""

    @property
    def first(self) -> RowFinding | None:
        """The finding to look at first."""
        return self.findings[0] if self.findings else None


def make_row(assessment: Assessment, options: OutputOptions) -> RouteRow:
    """Make the row of an answer. `options` say which findings are shown."""
    route, origin = assessment.route, assessment.route.route_input.origin
    totals, head = route.totals, headline(assessment)
    times = known_times(route)
    return RouteRow(
        file=origin.file,
        line=origin.line,
        name=route.route_input.name or route.route_input.title,
        departure=route.points[0].text,
        destination=route.points[-1].text,
        verdict=head.verdict,
        counts=tuple(sum(one.weight is weight for one in assessment.findings) for weight in Weight),
        not_shown=options.count_hidden(assessment),
        findings=_row_findings(assessment, options),
        distance_nm=None if is_nothing_checked(assessment) else round(totals.distance_nm, 1),
        has_gaps=totals.gaps > 0,
        direct_nm=None if totals.direct_nm is None else round(totals.direct_nm, 1),
        time_min=times.minutes if times else None,
        checked_share=_round_share(assessment),
        lost_nm=_sum_lost_nm(assessment),
        not_used=" ".join(one.sentence for one in assessment.not_used),
        headline=head.sentence,
        how_much=head.how_much,
        columns=origin.columns,
    )


def _row_findings(assessment: Assessment, options: OutputOptions) -> tuple[RowFinding, ...]:
    shown = [finding for finding in assessment.findings if options.shows(finding)]
    shown.sort(key=lambda one: _HEAVIEST_FIRST.index(one.weight))
    return tuple(_row_finding(assessment, finding) for finding in shown)


def _row_finding(assessment: Assessment, finding: Finding) -> RowFinding:
    cure = finding.likely_intended[0] if finding.likely_intended else None
    return RowFinding(
        finding.weight,
        finding.check,
        flagged_words(assessment, finding),
        acceptances.flagged_words(assessment.route.route_input, finding),
        finding.message,
        cure.why if cure else "",
        cure.entry_error if cure else "",
    )


def _round_share(assessment: Assessment) -> float | None:
    """The share that was checked; whatever is less than all of it stays less when rounded."""
    share = assessment.route.totals.checked_share
    if assessment.route.route_input.unread or assessment.failure:
        return 0.0
    return share if share is None or share in (0.0, 1.0) else min(round(share, 3), 0.999)


def _sum_lost_nm(assessment: Assessment) -> float | None:
    known = [stretch.least_nm for stretch in assessment.route.totals.lost]
    return None if None in known else round(sum(nm for nm in known if nm is not None), 1)
