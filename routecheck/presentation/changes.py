"""What was changed here against what was entered: the line that stands until it is ticked. The original never goes."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.corrections.candidate import FIELD_NAMES, value_in_words, with_values
from routecheck.formatting import count, listing
from routecheck.model import Change

if TYPE_CHECKING:
    from routecheck.model import Proposal, RouteInput

ELSEWHERE = "Correct it in the aircraft unit, the plan or with ATC before relying on this."


def told(change: Change) -> str:
    """The change as a reader sees it: "PIKOR → PIKAR", "departure runway 09 → 27"."""
    name = f"{FIELD_NAMES.get(change.field, change.field)} " if change.field else ""
    return f"{name}{_one_line(change.old) or 'nothing'} → {_one_line(change.new) or 'nothing'}"


def changes_of(route_input: RouteInput, proposal: Proposal) -> tuple[Change, ...]:
    """The changes a proposal makes to an entry: in its text, and in the values beside it; both ends are one change."""
    made = []
    if proposal.span is not None:
        start, end = proposal.span.start, proposal.span.end
        made.append(Change(route_input.route[start:end], proposal.new, start))
    beside = proposal.beside
    if [one.field for one in beside] == ["departure", "destination"]:
        then = with_values(route_input, beside)
        return (*made, Change(_ends(route_input), _ends(then)))
    return (*made, *(Change(value_in_words(one.old), value_in_words(one.new), field=one.field) for one in beside))


def standing_line(changes: tuple[Change, ...]) -> str:
    """The line under the text and on every sheet while a change is not ticked; "" when all are."""
    left = [change for change in changes if not change.ticked]
    if not left:
        return ""
    kinds = {bool(change.field) for change in left}
    thing = "word" if kinds == {False} else "value"
    subject = count(len(left), thing) if len(kinds) == 1 else f"{len(left)} words and values"
    differ = "differs" if len(left) == 1 else "differ"
    return f"{subject} {differ} from what you entered: {listing([told(change) for change in left])}. {ELSEWHERE}"


def ticked(changes: tuple[Change, ...], index: int) -> tuple[Change, ...]:
    """The changes with one of them ticked: it stays on record."""
    return tuple(replace(change, ticked=True) if i == index else change for i, change in enumerate(changes))


def _ends(route_input: RouteInput) -> str:
    return f"{route_input.departure}–{route_input.destination}"


def _one_line(text: str) -> str:
    return " ".join(text.split())
