"""Changes made in this window against what was entered, and the line that stands until each is ticked."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.corrections.candidate import FIELD_NAMES, value_in_words
from routecheck.formatting import count, listing
from routecheck.model import Change

if TYPE_CHECKING:
    from routecheck.model import Proposal, RouteInput

ELSEWHERE = "Correct it in the aircraft unit, the plan or with ATC before relying on this."


def change_label(change: Change) -> str:
    """A change as a reader sees it: "PIKOR → PIKAR", "departure runway 09 → 27"."""
    name = f"{FIELD_NAMES.get(change.field, change.field)} " if change.field else ""
    return f"{name}{_one_line(change.old) or 'nothing'} → {_one_line(change.new) or 'nothing'}"


def make_changes(route_input: RouteInput, proposal: Proposal) -> tuple[Change, ...]:
    """The changes that a proposal makes: one of the text, one of each field."""
    changes = []
    if proposal.span is not None:
        start, end = proposal.span.start, proposal.span.end
        changes.append(Change(route_input.route[start:end], proposal.new, start))
    fields = (Change(value_in_words(one.old), value_in_words(one.new), field=one.field) for one in proposal.beside)
    return (*changes, *fields)


def pending_changes_line(changes: tuple[Change, ...]) -> str:
    """The line under the text and on every sheet while a change is not ticked; "" when all are."""
    left = [change for change in changes if not change.ticked]
    if not left:
        return ""
    in_fields = sum(bool(change.field) for change in left)
    if 0 < in_fields < len(left):
        subject = f"{len(left)} words and values"
    else:
        subject = count(len(left), "value" if in_fields else "word")
    differ = "differs" if len(left) == 1 else "differ"
    labels = listing([change_label(change) for change in left])
    return f"{subject} {differ} from what you entered: {labels}. {ELSEWHERE}"


def tick_change(changes: tuple[Change, ...], index: int) -> tuple[Change, ...]:
    """The changes with one of them ticked: it stays on record."""
    return tuple(replace(change, ticked=True) if i == index else change for i, change in enumerate(changes))


def _one_line(text: str) -> str:
    return " ".join(text.split())
