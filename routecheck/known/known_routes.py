"""All collections in use as one: their counts added up, with how likely one word stands behind another."""

from __future__ import annotations

import math
from collections import Counter
from typing import TYPE_CHECKING

from routecheck.known.word_sequence import UNCOUNTED

if TYPE_CHECKING:
    from collections.abc import Iterable

    from routecheck.known.collection import Collection, KnownRoute

SMOOTHING = 0.05
SMOOTHING_TOTAL = 5.0
"""What is added to the count of a pair, and to that of its first word: what was never seen is rare, not impossible."""
_MOST_CACHED = 100_000


class KnownRoutes:
    """The known routes of a run. It never changes; what was asked once is cached."""

    def __init__(self, collections: Iterable[Collection], unusable: Iterable[str] = ()) -> None:
        """`unusable` says in sentences which collections could not be opened."""
        self.collections = tuple(collections)
        self.unusable = tuple(unusable)
        self._pairs: dict[tuple[str, str], int] = {}
        self._behind: dict[str, int] = {}
        self._between: dict[tuple[str, str], dict[str, int]] = {}

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the collections."""
        return tuple(one.about.name for one in self.collections)

    def count_pair(self, first: str, second: str) -> int:
        """In how many known routes the second word stands behind the first."""
        found = self._pairs.get((first, second))
        if found is None:
            found = sum(one.count_pair(first, second) for one in self.collections)
            _keep(self._pairs, (first, second), found)
        return found

    def count_behind(self, first: str) -> int:
        """How many words stand behind a word in all known routes together."""
        found = self._behind.get(first)
        if found is None:
            found = sum(one.count_behind(first) for one in self.collections)
            _keep(self._behind, first, found)
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

    def routes_between(self, departure: str, destination: str) -> list[tuple[str, KnownRoute]]:
        """The known routes between two aerodromes, each with the name of its collection."""
        return [
            (one.about.name, route) for one in self.collections for route in one.routes_between(departure, destination)
        ]

    def knows_ends(self, departure: str, destination: str) -> bool:
        """Whether any known route begins at the one aerodrome, and any ends at the other."""
        return any(one.knows_ends(departure, destination) for one in self.collections)

    def log_likelihood(self, first: str, second: str) -> float:
        """The logarithm of how likely the second word stands behind the first; 0 where such words are not counted."""
        if first.startswith(UNCOUNTED) or second.startswith(UNCOUNTED):
            return 0.0
        behind = self.count_behind(first)
        seen = self.count_pair(first, second) if behind else 0
        return math.log((seen + SMOOTHING) / (behind + SMOOTHING_TOTAL))


def _keep(cache: dict, key: object, value: object) -> None:  # type: ignore[type-arg]
    if len(cache) >= _MOST_CACHED:
        cache.clear()
    cache[key] = value
