"""What checks ask of known routes: what they say for a word, and by how many of them some words are flown."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, collect
from routecheck.formatting import count, listing
from routecheck.model import Fact, Weight

if TYPE_CHECKING:
    from routecheck.model import Assessment, Finding, Route, Span, UsageEvidence

EVIDENCE = "known routes that have it"
NO_KNOWN_ROUTES = "no known routes are loaded"
LEAST_FLOWN = 2
"""So many known routes must fly words in the same order: what one alone does may be a mistake."""
_OF_THE_WAY = frozenset({"best-edit", "leg-too-long", "first-leg-away"})
"""Checks of other families that judge by the shape of the way; a best edit that clears a contradiction is Wrong."""


def lacking_known_routes(route: Route) -> str:
    """The route needs known routes to be compared with."""
    return "" if route.usage is not None else NO_KNOWN_ROUTES


def usage_facts(evidence: UsageEvidence | None) -> tuple[Fact, ...]:
    """In how many known routes a word stands, and of which collections they are."""
    if evidence is None:
        return ()
    found = (Fact(EVIDENCE, evidence.routes),) if evidence.routes else ()
    return (*found, Fact("collection", listing(evidence.collections)))


def weigh_findings_by_usage(assessment: Assessment) -> Assessment:
    """The assessment with what is Doubtful for its shape alone as a Note, where known routes fly the same words."""
    if assessment.route.usage is None:
        return assessment
    findings = tuple(_weigh_finding(finding, assessment.route) for finding in assessment.findings)
    return assessment if findings == assessment.findings else replace(assessment, findings=findings)


def _weigh_finding(finding: Finding, route: Route) -> Finding:
    if finding.weight is not Weight.DOUBTFUL or not _is_of_shape(finding.check):
        return finding
    flown = count_flown_so(route, finding.spans)
    if flown < LEAST_FLOWN or any(fact.name == EVIDENCE for fact in finding.facts):
        return finding
    return replace(
        finding,
        weight=Weight.NOTE,
        message=f"{finding.message} Flown so by {count(flown, 'known route')}.",
        facts=(*finding.facts, Fact("known routes that fly so", flown)),
    )


def _is_of_shape(name: str) -> bool:
    return name in _OF_THE_WAY or any(check.name == name and check.family is Family.SHAPE for check in collect())


def count_flown_so(route: Route, spans: tuple[Span, ...]) -> int:
    """By how many known routes at least the words at these places are flown in their order, with those beside them.

    0 where no word stands there, or one that is not counted.
    """
    usage = route.usage
    if usage is None or not spans:
        return 0
    words = route.parsed.words
    at = [number for number, one in enumerate(usage.words) if any(words[one.word].span.overlaps(s) for s in spans)]
    if not at:
        return 0
    return min(one.through for one in usage.words[at[0] : at[-1] + 1])
