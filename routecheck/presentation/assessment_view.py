"""Everything the window shows of one assessment, made off the window's thread. No Qt."""

from __future__ import annotations

from dataclasses import KW_ONLY, replace
from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Weight
from routecheck.presentation import acceptance, finding_rows, headline
from routecheck.presentation.alternate_view import brief_alternate
from routecheck.presentation.demo_offer import fits_the_demo
from routecheck.presentation.leg_table import LegTable, leg_table
from routecheck.presentation.map_scene import draw_picture
from routecheck.presentation.verdict import cure_sentence

if TYPE_CHECKING:
    from collections.abc import Mapping

    from routecheck.model import Assessment
    from routecheck.presentation.drawn_map import Picture
    from routecheck.presentation.headline import Headline
    from routecheck.presentation.side_view import SideView

_LONGEST = 123
"""A sentence about what was not checked that is longer names the stretches without their reasons."""
_MOST_NAMED = 4
MOST_FINDINGS = 150
"""So many findings the window shows (our choice: more than anybody reads, and each is drawn three times)."""
MOST_REMARKS = 40
"""So many sentences on what was recognised or not used stand under the text (our choice)."""
MOST_REASONS = 300
"""So many reasons why something was not checked the window lists (our choice)."""


@dataclass(frozen=True, slots=True)
class AssessmentView:
    """One assessment as the window shows it. `how_much` is line two of the headline: what was checked, and what not.

    `accepted` are the indices of the findings that somebody answers for; `acceptance_sentences` tells by the index of a
    finding who accepted it and why. `assessment` has the heaviest findings alone where there are too many to show, and
    `findings_line` says so; it counts all of them by weight, `outcomes_line` the checks by
    outcome. `reasons` has (check, why) for what was not checked or could not run, `reasons_title` stands above it.
    `offer_data` = no navigation data but the invented demo region is loaded; `offer_demo` = other data is, though the
    route is one of the demo region.
    """

    assessment: Assessment
    _: KW_ONLY
    picture: Picture
    legs: LegTable
    side: SideView | None
    accepted: frozenset[int]
    acceptance_sentences: Mapping[int, str]
    cures: tuple[str, ...]
    """For each finding what would clear it, in a sentence; "" where nothing is proposed."""
    headline: Headline
    how_much: str
    findings_line: str
    outcomes_line: str
    recognised: str
    totals_line: str
    reasons_title: str
    reasons: tuple[tuple[str, str], ...]
    offer_data: bool
    offer_demo: bool


def view_assessment(assessment: Assessment, *, with_side: bool = True, straightened: bool = False) -> AssessmentView:
    """What the window shows of an assessment; the Side view, and a straightened Picture, only where asked for."""
    head, findings_line = headline.headline(assessment), _findings_line(assessment)
    outcomes_line = headline.outcomes_line(assessment)
    assessment = _keep_heaviest(assessment)
    reasons = _reasons(assessment, head)
    legs = leg_table(assessment)
    totals = "; ".join(filter(None, (headline.totals_line(assessment), legs.brief, brief_alternate(assessment.route))))
    accepted = acceptance.valid_acceptances(assessment)
    accepted_note = f" ({len(accepted)} accepted with reason)" if accepted else ""
    return AssessmentView(
        assessment=assessment,
        picture=draw_picture(assessment, straightened=straightened),
        legs=legs,
        side=_side_view(assessment) if with_side else None,
        accepted=frozenset(accepted),
        acceptance_sentences=acceptance.acceptance_sentences(assessment),
        cures=tuple(cure_sentence(assessment, finding) for finding in assessment.findings),
        headline=head,
        how_much=_how_much(head),
        findings_line=findings_line + accepted_note,
        outcomes_line=outcomes_line,
        recognised=_recognised_paragraph(assessment),
        totals_line=totals[:1].upper() + totals[1:],
        reasons_title=f"Not checked, and why ({formatting.count(len(reasons), 'reason')})",
        reasons=(
            *reasons[:MOST_REASONS],
            *(("more", said) for said in _count_more(len(reasons) - MOST_REASONS, "reason")),
        ),
        offer_data=all(source.invented for source in assessment.route.resolved.sources),
        offer_demo=fits_the_demo(assessment),
    )


def _findings_line(assessment: Assessment) -> str:
    line = headline.findings_line(assessment)
    more = len(assessment.findings) > MOST_FINDINGS
    return f"{line} Shown: the {MOST_FINDINGS} heaviest." if more else line


def _keep_heaviest(assessment: Assessment) -> Assessment:
    """The assessment with no more findings than are shown, the heaviest, in their order."""
    if len(assessment.findings) <= MOST_FINDINGS:
        return assessment
    weights = list(Weight)
    order = sorted(range(len(assessment.findings)), key=lambda i: (weights.index(assessment.findings[i].weight), i))
    kept = sorted(order[:MOST_FINDINGS])
    return replace(assessment, findings=tuple(assessment.findings[i] for i in kept))


def _side_view(assessment: Assessment) -> SideView:
    """The Side view. It is imported when it is first wanted: the start must not wait for it."""
    from routecheck.presentation.side_view import lay_out_side_view

    return lay_out_side_view(assessment)


def _how_much(head: Headline) -> str:
    """Line two of the headline; lost stretches by their ends alone where their reasons are long."""
    lost = head.lost_sentence
    if len(lost) > _LONGEST:
        names = [part.name for part in head.lost]
        more = len(names) - _MOST_NAMED
        if more > 0:
            names[_MOST_NAMED:] = [formatting.count(more, "more stretch", "more stretches")]
        lost = f"Lost: {formatting.listing(names)}."
    return head.describe_how_much(lost)


def _recognised_paragraph(assessment: Assessment) -> str:
    remarks = headline.input_remarks(assessment)
    more = _count_more(len(remarks) - MOST_REMARKS, "remark")
    lines = (headline.recognised_line(assessment), headline.data_line(assessment), *remarks[:MOST_REMARKS], *more)
    return " ".join(lines)


def _reasons(assessment: Assessment, head: Headline) -> tuple[tuple[str, str], ...]:
    ours = [("noticed while computing", fault) for fault in assessment.route.own_mistakes]
    stretches = [(part.name, part.because) for part in (*head.lost, *head.open_by_design)]
    return (*ours, *stretches, *finding_rows.not_checked_rows(assessment))


def _count_more(more: int, what: str) -> tuple[str, ...]:
    """A sentence about what is left out of a list for its length; none where nothing is."""
    return (f"{formatting.count(more, f'more {what}')}: “routecheck proof FILE” prints all.",) if more > 0 else ()
