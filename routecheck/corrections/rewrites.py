"""A word in the form that it should have, where only one thing can be meant by it. Nothing is tried here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.corrections.candidate import Candidate, Question
from routecheck.reading.understood_positions import read_short_code

if TYPE_CHECKING:
    from collections.abc import Iterator


def rewritten_words(question: Question) -> Iterator[Candidate]:
    """Each word of the finding rewritten: a misspelt form as it is meant, a short code as a position in full.

    That changes nothing of what is flown: whatever else is found there was there before.
    """
    for word in question.route.parsed.words:
        meant = word.meant or read_short_code(word.text)
        if word.span in question.finding.spans and meant:
            yield Candidate("in the form of Item 15", 0.0, word.span, meant, beyond_doubt=True)
