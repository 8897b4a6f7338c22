"""A route as known routes are counted: its words in one form, with both aerodromes and the joints as they resolve.

Capitals, no DCT, no speeds and levels, a procedure without its number: the number changes while the way stays the same.
"""

from __future__ import annotations

import re
from collections import defaultdict
from typing import TYPE_CHECKING, NamedTuple

from routecheck.model import PlaceKind, WordKind, WordRole
from routecheck.procedures.wording import procedure_stem

if TYPE_CHECKING:
    from routecheck.model import ResolvedRoute, Word

UNCOUNTED = "~"
"""What a word begins with that is never counted: a typed position is new on nearly every day, and unread words say
nothing."""
_LEFT_OUT = frozenset(
    {
        WordRole.DEPARTURE,
        WordRole.DESTINATION,
        WordRole.DIRECT,
        WordRole.CHANGE,
        WordRole.RUNWAY,
        WordRole.RULES,
        WordRole.CRUISE_CLIMB,
        WordRole.TRUNCATION,
        WordRole.EUROPEAN,
    }
)
_PROCEDURES = frozenset({WordRole.SID, WordRole.STAR, WordRole.PROCEDURE_ELSEWHERE, WordRole.UNKNOWN_PROCEDURE})
_UNKNOWN = frozenset({WordRole.UNKNOWN_NAME, WordRole.UNKNOWN_AIRWAY})
_PROCEDURE_FORM = re.compile(r"[A-Z]{3,6}\d[A-Z]?")
_UNCOUNTED_KINDS = frozenset({WordKind.POSITION, WordKind.UNREAD})


class SequenceWord(NamedTuple):
    """One word as it is counted; `word` indexes ParsedRoute.words, None = an aerodrome or a joint that none names."""

    text: str
    word: int | None


def word_sequence(resolved: ResolvedRoute) -> list[SequenceWord]:
    """The words of a resolved route as they are counted, from the departure to the destination."""
    joints = _implied_joints(resolved)
    sequence = [SequenceWord(resolved.route_points[0].text, None), *joints.get(-1, ())]
    for index, (word, role) in enumerate(zip(resolved.parsed.words, resolved.roles, strict=True)):
        if role not in _LEFT_OUT:
            sequence.append(SequenceWord(_common_form(word, role), index))
        sequence += joints.get(index, ())
    return [*sequence, SequenceWord(resolved.route_points[-1].text, None)]


def _common_form(word: Word, role: WordRole) -> str:
    if word.kind in _UNCOUNTED_KINDS:
        return UNCOUNTED + word.text
    if role in _PROCEDURES or (role in _UNKNOWN and _PROCEDURE_FORM.fullmatch(word.text)):
        return procedure_stem(word.text)
    return word.text


def _implied_joints(resolved: ResolvedRoute) -> dict[int, list[SequenceWord]]:
    """The joints that no word names, by the word behind which each of them lies; -1 = before the first word."""
    found: dict[int, list[SequenceWord]] = defaultdict(list)
    for index, route_point in enumerate(resolved.route_points):
        place = route_point.place
        if not route_point.implied or place is None or place.kind is PlaceKind.TYPED:
            continue
        before, after = resolved.connections[index - 1 : index + 1]
        behind = max(before.words) if before.words else min(after.words, default=0) - 1
        found[behind].append(SequenceWord(place.ident, None))
    return found
