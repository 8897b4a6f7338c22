"""What known routes say of one resolved route: how they join each of its words, and which of them is nearest."""

from __future__ import annotations

from difflib import SequenceMatcher
from typing import TYPE_CHECKING, NamedTuple

from routecheck.formatting import count
from routecheck.known.word_sequence import UNCOUNTED, word_sequence
from routecheck.model import KnownUsage, NearestKnown, OtherWord, WordRole, WordUsage

if TYPE_CHECKING:
    from collections.abc import Container, Sequence

    from routecheck.known.collection import KnownRoute
    from routecheck.known.known_routes import KnownRoutes
    from routecheck.known.word_sequence import SequenceWord
    from routecheck.model import ResolvedRoute

_AIRWAYS = frozenset({WordRole.AIRWAY, WordRole.UNKNOWN_AIRWAY})
MOST_OTHERS = 5
"""So many other words are named, those used most."""


def find_usage(resolved: ResolvedRoute, known: KnownRoutes) -> KnownUsage:
    """What the known routes say of a route."""
    sequence = word_sequence(resolved)
    texts = [word.text for word in sequence]
    departure, destination = texts[0], texts[-1]
    between = known.routes_between(departure, destination)
    airways = find_airways(resolved, sequence)
    words = [
        _word_usage(word.word, (texts[here - 1], word.text, texts[here + 1]), airways, known)
        for here, word in enumerate(sequence[1:-1], start=1)
        if word.word is not None
    ]
    return KnownUsage(
        collections=known.names,
        words=tuple(words),
        between=len(between),
        knows_ends=bool(between) or known.knows_ends(departure, destination),
        nearest=_find_nearest(texts, between),
    )


def _word_usage(word: int, three: tuple[str, str, str], airways: Container[str], known: KnownRoutes) -> WordUsage:
    """How known routes join the middle one of three words."""
    before, text, after = three
    if any(one.startswith(UNCOUNTED) for one in (before, text, after)):
        return WordUsage(word, text, before, after, behind=0, ahead=0, through=0, otherwise=0, is_counted=False)
    middles = known.words_between(before, after)
    through = middles.get(text, 0)
    others = sorted(((n, other) for other, n in middles.items() if other != text), key=lambda one: (-one[0], one[1]))
    return WordUsage(
        word,
        text,
        before,
        after,
        behind=known.count_pair(before, text),
        ahead=known.count_pair(text, after),
        through=through,
        otherwise=sum(middles.values()) - through,
        others=tuple(OtherWord(other, n, say_way(three, airways, n, through)) for n, other in others[:MOST_OTHERS]),
    )


def find_airways(resolved: ResolvedRoute, sequence: Sequence[SequenceWord]) -> frozenset[str]:
    """The words of a route that are airways."""
    return frozenset(one.text for one in sequence if one.word is not None and resolved.roles[one.word] in _AIRWAYS)


def say_way(three: tuple[str, str, str], airways: Container[str], routes: int, of_typed: int) -> str:
    """Say what so many known routes do with another word in the middle, and how many do with the one typed."""
    before, typed, after = three
    ways = {
        (True, True): f"change there from {before} to {after}, {{}} at {typed}",
        (True, False): f"leave {before} there for {after}, {{}} at {typed}",
        (False, True): f"join {after} there from {before}, {{}} at {typed}",
        (False, False): f"go by it from {before} to {after}, {{}} by {typed}",
    }
    way = ways[before in airways, after in airways]
    if typed in airways:
        way = f"fly it from {before} to {after}, {{}} {typed}"
    return f"{count(routes, 'known route')} {way.format(f'{of_typed:,}' if of_typed else 'none')}"


class Side(NamedTuple):
    """Two words in a row, of which the one may be another than the one typed."""

    fixed: str
    is_before: bool
    """Whether the fixed word stands before the other."""

    def pair(self, other: str) -> tuple[str, str]:
        """The pair that the fixed word makes with another."""
        return (self.fixed, other) if self.is_before else (other, self.fixed)


def say_side(side: Side, airways: Container[str], routes: int, typed: str) -> str:
    """Say what so many known routes do at another word than the one typed, which none has there."""
    ways = {
        (True, True): f"leave {side.fixed} there, none at {typed}",
        (False, True): f"join {side.fixed} there, none at {typed}",
        (True, False): f"go there from {side.fixed}, none to {typed}",
        (False, False): f"go from there to {side.fixed}, none from {typed}",
    }
    return f"{count(routes, 'known route')} {ways[side.is_before, side.fixed in airways]}"


def say_missed(side: Side, airways: Container[str], times: int, typed: str) -> str:
    """Say that known routes have a word so many times, and never the typed one beside it."""
    ways = {
        (True, True): f"leave it at {typed}",
        (False, True): f"join it at {typed}",
        (True, False): f"go from it to {typed}",
        (False, False): f"go to it from {typed}",
    }
    return f"known routes have {side.fixed} {times:,} times and never {ways[side.is_before, side.fixed in airways]}"


# ---- the nearest known route


def _find_nearest(texts: Sequence[str], between: Sequence[tuple[str, KnownRoute]]) -> NearestKnown | None:
    """The known route that differs in the fewest words; of several the one flown most."""
    best: tuple[tuple[int, int], int, list[tuple[str, str]]] | None = None
    for place, (_, route) in enumerate(between):
        differences = _differences(texts[1:-1], route.words)
        rank = (sum(max(len(here.split()), len(there.split())) for here, there in differences), -route.times)
        if best is None or rank < best[0]:
            best = rank, place, differences
    if best is None:
        return None
    collection, route = between[best[1]]
    name = route.name or f"{route.departure}–{route.destination} {best[1] + 1}"
    return NearestKnown(name, route.text, collection, differences=tuple(best[2]))


def _differences(here: Sequence[str], there: Sequence[str]) -> list[tuple[str, str]]:
    """What stands here and what there, wherever the two differ."""
    matcher = SequenceMatcher(None, here, there, autojunk=False)
    return [
        (_joined_words(here[a:b]), _joined_words(there[c:d]))
        for tag, a, b, c, d in matcher.get_opcodes()
        if tag != "equal"
    ]


def _joined_words(words: Sequence[str]) -> str:
    return " ".join(word.removeprefix(UNCOUNTED) for word in words)
