"""Everything the window says about one assessment, ready to show. Sentences come from present/headline; no Qt."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.presentation import acceptance, headline, rows
from routecheck.presentation.leg_table import LegTable, leg_table
from routecheck.presentation.map_scene import Picture, picture

if TYPE_CHECKING:
    from collections.abc import Mapping

    from routecheck.model import Assessment
    from routecheck.presentation.headline import Headline
    from routecheck.presentation.side_view import SideView

_LONGEST = 123
"""A sentence about what was not checked that is longer names the stretches without their reasons."""
_MOST_NAMED = 4


@dataclass(frozen=True, slots=True)
class Screen:
    """One assessment as the window shows it. `reasons`: (check, why) for what was not checked or could not run.

    `headline` is the verdict and how much was checked, `not_checked` what was not, "" where all was. `accepted` are
    the findings that somebody answers for, `said_of` what is said of them, both by the index of the finding.
    """

    assessment: Assessment
    picture: Picture
    legs: LegTable
    side: SideView | None
    accepted: frozenset[int]
    said_of: Mapping[int, str]
    headline: Headline
    not_checked: str
    weights: str
    counts: str
    recognised: str
    totals: str
    unchecked: str
    reasons: tuple[tuple[str, str], ...]
    offer_data: bool


def screen(assessment: Assessment, *, with_side: bool = True) -> Screen:
    """Say everything about an assessment once, off the GUI thread; of the Side view only where it is asked for."""
    head = headline.headline(assessment)
    reasons = _reasons(assessment, head)
    legs = leg_table(assessment)
    totals = "; ".join(filter(None, (headline.totals_line(assessment), legs.brief)))
    standing = acceptance.standing(assessment)
    return Screen(
        assessment=assessment,
        picture=picture(assessment),
        legs=legs,
        side=_side(assessment) if with_side else None,
        accepted=frozenset(standing),
        said_of=acceptance.said_of(assessment),
        headline=head,
        not_checked=_not_checked(head),
        weights=headline.weights_line(assessment) + (f" ({len(standing)} accepted with reason)" if standing else ""),
        counts=headline.counts_line(assessment),
        recognised=_recognised(assessment),
        totals=totals[:1].upper() + totals[1:],
        unchecked=f"Not checked, and why ({formatting.count(len(reasons), 'reason')})",
        reasons=reasons,
        offer_data=all(source.invented for source in assessment.route.resolved.sources),
    )


def _side(assessment: Assessment) -> SideView:
    """The Side view, read in when it is first wanted: the start must not wait for it."""
    from routecheck.presentation.side_view import side_view

    return side_view(assessment)


def _not_checked(head: Headline) -> str:
    """What was not checked or could not run: stretches with their reasons where these are short, else by their ends."""
    lost = head.lost_sentence
    if len(lost) > _LONGEST:
        names = [part.name for part in head.lost]
        more = len(names) - _MOST_NAMED
        if more > 0:
            names[_MOST_NAMED:] = [formatting.count(more, "more stretch", "more stretches")]
        lost = f"Not checked: {formatting.listing(names)}."
    return " ".join(filter(None, (lost, head.failure_sentence)))


def _recognised(assessment: Assessment) -> str:
    said = (headline.recognised(assessment), headline.data_line(assessment), *headline.remarks(assessment))
    return " ".join(said)


def _reasons(assessment: Assessment, head: Headline) -> tuple[tuple[str, str], ...]:
    ours = [("noticed while computing", fault) for fault in assessment.route.faults]
    stretches = [(part.name, part.because) for part in head.lost]
    return (*ours, *stretches, *rows.not_checked_rows(assessment))
