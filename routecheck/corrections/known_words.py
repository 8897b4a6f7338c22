"""Other words for one that known routes do not have where it stands: those that they have there."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from routecheck.corrections.candidate import Candidate
from routecheck.corrections.known_edits import LEAST_ROUTES
from routecheck.model import WordRole
from routecheck.procedures.wording import procedure_stem

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.corrections.candidate import Question
    from routecheck.model import OtherWord

_ENDS = {WordRole.SID: ("SID", 0), WordRole.STAR: ("STAR", -1)}


def words_of_known_routes(question: Question) -> Iterator[Candidate]:
    """The words that known routes have there, the likelier the more of them have it."""
    route = question.route
    for one in route.usage.words if route.usage else ():
        word = route.parsed.words[one.word]
        if word.span in question.finding.spans:
            for other in one.others:
                if other.routes >= LEAST_ROUTES:
                    for name in _full_names(question, one.word, other):
                        yield Candidate(other.clause, -math.log(other.routes), word.span, name)


def _full_names(question: Question, word: int, other: OtherWord) -> list[str]:
    """The word as it is typed: of a procedure, which is counted without its number, those in the data."""
    resolved = question.route.resolved
    if resolved.roles[word] not in _ENDS:
        return [other.text]
    kind, end = _ENDS[resolved.roles[word]]
    names = question.database.procedure_names(resolved.route_points[end].text, kind)
    return [name for name in names if procedure_stem(name) == other.text]
