"""How much likelier known routes make a correction of one route: its words joined as they are there, or not."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from routecheck.known.usage import Side, find_airways, say_missed, say_side, say_way
from routecheck.known.word_sequence import UNCOUNTED, word_sequence
from routecheck.model import Span, UsageEvidence, WordKind
from routecheck.procedures.wording import procedure_stem
from routecheck.reading.forms import read_form

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.known.known_routes import KnownRoutes
    from routecheck.model import Correction, ResolvedRoute

LEAST_ROUTES = 2
"""What one known route alone has is no evidence: a collection holds mistakes too."""
MOST_MISSED = 3.0
"""Beyond about forty known routes without the typed word (log(40 / LEAST_ROUTES)) more of them add nothing."""
_NOWHERE = Span(0, 0)
_DIRECT = "DCT"


class LikelihoodChange(NamedTuple):
    """What a correction adds to the log-likelihood of the pairs of words, and to that of three in a row.

    `missed` is log(times / LEAST_ROUTES), where known routes have the word beside the typed one so many times and never
    the two together.
    """

    pairs: float
    triples: float
    missed: float = 0.0


NO_CHANGE = LikelihoodChange(0.0, 0.0)


class RouteLikelihood:
    """The words of one route as they are counted, for corrections of it to be weighed by."""

    def __init__(self, resolved: ResolvedRoute, known: KnownRoutes) -> None:
        self._known = known
        sequence = word_sequence(resolved)
        self._texts = [word.text for word in sequence]
        words = resolved.parsed.words
        self._spans = [None if word.word is None else words[word.word].span for word in sequence]
        self._airways = find_airways(resolved, sequence)
        self._typed = ["" if word.word is None else words[word.word].text for word in sequence]

    def change(self, correction: Correction) -> LikelihoodChange:
        """What a correction changes in how the words are joined; nothing where their number changes.

        A typed position in place of a word, or the other way round, says nothing either.
        """
        if correction.span is None:
            first, last = correction.departure or self._texts[0], correction.destination or self._texts[-1]
            return self._compare(self._texts, [first, *self._texts[1:-1], last])
        found = self.three_parts(correction.span, correction.new)
        if found is None or len(found[1]) != len(found[2]):
            return NO_CHANGE
        before, old, new, after = found
        change = self._compare([before, *old, after], [before, *new, after])
        return change._replace(missed=self._missed(before, old[0], after)) if len(old) == 1 else change

    def find_evidence(self, correction: Correction) -> UsageEvidence | None:
        """What the known routes say for a correction of one word; None where they do not speak for it."""
        found = self._one_word(correction)
        if found is None:
            return None
        before, old, new, after = found
        middles = self._known.words_between(before, after)
        routes, of_old = middles.get(new, 0), middles.get(old, 0)
        if routes < LEAST_ROUTES or routes <= of_old:
            return None
        clause = say_way((before, old, after), self._airways, routes, of_old)
        return UsageEvidence(clause, routes, self._known.collections_with(before, after, new))

    def find_weak_evidence(self, correction: Correction) -> UsageEvidence | None:
        """What they say against the word typed, of one side of it alone; None where they have it on both sides.

        They have the corrected word there, or at least what stands beside it.
        """
        found = self._one_word(correction)
        sides = self._unseen_sides(found[0], found[1], found[3]) if found else []
        if found is None or not sides:
            return None
        known, (_, old, new, _) = self._known, found
        side = max(sides, key=lambda one: known.count_pair(*one.pair(new)))
        routes = known.count_pair(*side.pair(new))
        if routes >= LEAST_ROUTES:
            clause = say_side(side, self._airways, routes, old)
            return UsageEvidence(clause, routes, known.collections_with_pair(*side.pair(new)))
        side = max(sides, key=lambda one: known.count_word(one.fixed))
        times = known.count_word(side.fixed)
        if times <= LEAST_ROUTES:
            return None
        return UsageEvidence(say_missed(side, self._airways, times, old), 0, known.names)

    def _one_word(self, correction: Correction) -> tuple[str, str, str, str] | None:
        """The word before, the one typed, the one in its place, and the word after; None of any other correction."""
        found = None if correction.span is None else self.three_parts(correction.span, correction.new)
        if found is None or len(found[1]) != 1 or len(found[2]) != 1:
            return None
        before, (old,), (new,), after = found
        return before, old, new, after

    def _missed(self, before: str, typed: str, after: str) -> float:
        """How often known routes have a word beside, and never this one with it: a logarithm, MOST_MISSED at most."""
        beside = [self._known.count_word(side.fixed) for side in self._unseen_sides(before, typed, after)]
        return min(math.log(max(LEAST_ROUTES, *beside) / LEAST_ROUTES), MOST_MISSED) if beside else 0.0

    def _unseen_sides(self, before: str, typed: str, after: str) -> list[Side]:
        """The sides on which known routes never have the word typed; none where a position is among the three."""
        if any(word.startswith(UNCOUNTED) for word in (before, typed, after)):
            return []
        return [
            side for side in (Side(before, True), Side(after, False)) if not self._known.count_pair(*side.pair(typed))
        ]

    def _compare(self, old: Sequence[str], new: Sequence[str]) -> LikelihoodChange:
        pairs = self._sum_pairs(new) - self._sum_pairs(old)
        return LikelihoodChange(pairs, self._sum_triples(new) - self._sum_triples(old))

    def _sum_pairs(self, words: Sequence[str]) -> float:
        return sum(self._known.pair_likelihood(*pair) for pair in pairwise(words))

    def _sum_triples(self, words: Sequence[str]) -> float:
        rows = zip(words, words[1:], words[2:], strict=False)
        return sum(self._known.triple_likelihood(*three) for three in rows)

    def three_parts(self, span: Span, new: str) -> tuple[str, list[str], list[str], str] | None:
        """The counted word before a span, those in it, those that a text puts there, and the word behind it.

        None where no counted word stands in the span.
        """
        places = [place for place, one in enumerate(self._spans) if one is not None and one.overlaps(span)]
        if not places:
            return None
        first, last = places[0], places[-1]
        old = self._texts[first : last + 1]
        typed = self._typed[first : last + 1]
        is_procedure = [text != word and not text.startswith(UNCOUNTED) for text, word in zip(old, typed, strict=True)]
        words = [word for word in new.upper().split() if word != _DIRECT]
        made = [
            _common_form(word, is_procedure=len(words) == len(old) and is_procedure[number])
            for number, word in enumerate(words)
        ]
        return self._texts[first - 1], old, made, self._texts[last + 1]


def _common_form(word: str, *, is_procedure: bool) -> str:
    if is_procedure:
        return procedure_stem(word)
    kind = read_form(word, _NOWHERE).kind
    return UNCOUNTED + word if kind in (WordKind.POSITION, WordKind.UNREAD) else word
