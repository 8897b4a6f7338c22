"""Which acceptances are about a finding: those of the same check at the same words. What holds is said elsewhere."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from routecheck.model import Accepted, Finding, RouteInput


def flagged_words(route_input: RouteInput, finding: Finding) -> str:
    """The words that a finding flags, as typed; "" where it is about the whole route."""
    return " ".join(route_input.route[span.start : span.end] for span in finding.spans)


def acceptances_of(route_input: RouteInput, finding: Finding) -> list[Accepted]:
    """The acceptances of the same check at the same words, whatever the finding said then."""
    if not route_input.accepted:
        return []
    words = flagged_words(route_input, finding)
    return [a for a in route_input.accepted if (a.check, a.words) == (finding.check, words)]
