"""All collections in use as one: their counts added up, with how likely one word stands behind another."""

from __future__ import annotations

import math
from collections import Counter
from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass
from routecheck.known.collection import open_image
from routecheck.known.likelihood import RouteLikelihood
from routecheck.known.usage import find_usage
from routecheck.known.word_sequence import UNCOUNTED

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterable

    from routecheck.known.collection import Collection, KnownRoute
    from routecheck.model import KnownUsage, ResolvedRoute
    from routecheck.navdata.database import NavDatabase

BACK_OFF, SEEN_TOTAL = 0.003, 20.0
"""What is added to the count of a pair for each time that its second word is there, and to the count of its first word:
two words that were never seen together are the rarer the rarer the second is."""
UNSEEN_WORD = 0.5
"""So often a word is taken to be there that is not: never seen is rare, not impossible."""
TRIPLE_LEAST = 0.3
"""The same for three words in a row. All of them were fitted on one half of the published U.S. routes of January 2023,
by the departure (tests/bench/test_bench_known.py reports on the other)."""
_MOST_CACHED = 100_000


class KnownRoutes:
    """The known routes of a run. It never changes; what was asked once is cached."""

    def __init__(self, collections: Iterable[Collection], unusable: Iterable[str] = ()) -> None:
        """`unusable` says in sentences which collections could not be opened."""
        self.collections = tuple(collections)
        self.unusable = tuple(unusable)
        self._pairs: dict[tuple[str, str], int] = {}
        self._words: dict[str, int] = {}
        self._between: dict[tuple[str, str], dict[str, int]] = {}

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the collections."""
        return tuple(one.about.name for one in self.collections)

    def pack(self) -> PackedKnown:
        """The same as a value that can be sent to another process."""
        return PackedKnown(tuple(one.serialize() for one in self.collections))

    def count_pair(self, first: str, second: str) -> int:
        """In how many known routes the second word stands behind the first."""
        found = self._pairs.get((first, second))
        if found is None:
            found = sum(one.count_pair(first, second) for one in self.collections)
            _keep(self._pairs, (first, second), found)
        return found

    def count_word(self, text: str) -> int:
        """How often a word stands in all known routes together."""
        found = self._words.get(text)
        if found is None:
            found = sum(one.count_word(text) for one in self.collections)
            _keep(self._words, text, found)
        return found

    def words_between(self, first: str, last: str) -> dict[str, int]:
        """The words that stand between two words, and in how many known routes each does."""
        found = self._between.get((first, last))
        if found is None:
            counted: Counter[str] = Counter()
            for one in self.collections:
                counted.update(one.words_between(first, last))
            found = dict(counted)
            _keep(self._between, (first, last), found)
        return found

    def collections_with(self, first: str, last: str, middle: str) -> tuple[str, ...]:
        """The names of the collections that have a word between two others."""
        return tuple(one.about.name for one in self.collections if middle in one.words_between(first, last))

    def collections_with_pair(self, first: str, second: str) -> tuple[str, ...]:
        """The names of the collections that have a word behind another."""
        return tuple(one.about.name for one in self.collections if one.count_pair(first, second))

    def routes_between(self, departure: str, destination: str) -> list[tuple[str, KnownRoute]]:
        """The known routes between two aerodromes, each with the name of its collection."""
        return [
            (one.about.name, route) for one in self.collections for route in one.routes_between(departure, destination)
        ]

    def knows_ends(self, departure: str, destination: str) -> bool:
        """Whether any known route begins at the one aerodrome, and any ends at the other."""
        return any(one.knows_ends(departure, destination) for one in self.collections)

    def find_usage(self, resolved: ResolvedRoute) -> KnownUsage:
        """What the known routes say of a route."""
        return find_usage(resolved, self)

    def weigh(self, resolved: ResolvedRoute) -> RouteLikelihood:
        """What weighs corrections of a route."""
        return RouteLikelihood(resolved, self)

    def pair_likelihood(self, first: str, second: str) -> float:
        """How likely the second word stands behind the first, as a logarithm; 0 where such words are not counted."""
        if first.startswith(UNCOUNTED) or second.startswith(UNCOUNTED):
            return 0.0
        seen = self.count_pair(first, second) + BACK_OFF * (self.count_word(second) + UNSEEN_WORD)
        return math.log(seen / (self.count_word(first) + SEEN_TOTAL))

    def triple_likelihood(self, first: str, middle: str, last: str) -> float:
        """How often three words stand in a row, as a logarithm; 0 where such words are not counted."""
        if any(word.startswith(UNCOUNTED) for word in (first, middle, last)):
            return 0.0
        return math.log(self.words_between(first, last).get(middle, 0) + TRIPLE_LEAST)


@dataclass(frozen=True, slots=True)
class PackedKnown:
    """The images of all collections."""

    images: tuple[bytes, ...]

    def load(self, _database: NavDatabase, _today: dt.date) -> KnownRoutes:
        """Open them. Raises UnusableError."""
        return KnownRoutes(map(open_image, self.images))


def _keep(cache: dict, key: object, value: object) -> None:  # type: ignore[type-arg]
    if len(cache) >= _MOST_CACHED:
        cache.clear()
    cache[key] = value
