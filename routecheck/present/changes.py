"""What was changed here against what was entered: the line that stands until it is ticked. The original never goes."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.model import Change
from routecheck.wording import listing

if TYPE_CHECKING:
    from routecheck.model import Proposal

ELSEWHERE = "Correct it in the aircraft unit, the plan or with ATC before relying on this."


def told(change: Change) -> str:
    """The change as a reader sees it: "PIKOR → PIKAR"."""
    return f"{_one_line(change.old) or 'nothing'} → {_one_line(change.new) or 'nothing'}"


def change_of(text: str, proposal: Proposal, departure: str, destination: str) -> Change:
    """The change a proposal makes to a route text, or to the aerodromes beside it."""
    if proposal.span is None:
        return Change(f"{departure}–{destination}", proposal.new)
    return Change(text[proposal.span.start : proposal.span.end], proposal.new, proposal.span.start)


def standing_line(changes: tuple[Change, ...]) -> str:
    """The line under the text and on every sheet while a change is not ticked; "" when all are."""
    left = [change for change in changes if not change.ticked]
    if not left:
        return ""
    subject = "1 word differs" if len(left) == 1 else f"{len(left)} words differ"
    return f"{subject} from what you entered: {listing([told(change) for change in left])}. {ELSEWHERE}"


def ticked(changes: tuple[Change, ...], index: int) -> tuple[Change, ...]:
    """The changes with one of them ticked: it stays on record."""
    return tuple(replace(change, ticked=True) if i == index else change for i, change in enumerate(changes))


def _one_line(text: str) -> str:
    return " ".join(text.split())
