"""What known routes say of a route: how they join its words, and which of them it is nearest to. Values only."""

from __future__ import annotations

from dataclasses import KW_ONLY

from routecheck.frozen_dataclass import dataclass


@dataclass(frozen=True, slots=True)
class OtherWord:
    """A word that stands between the same two words in known routes, in how many of them, and that as a clause."""

    text: str
    routes: int
    clause: str


@dataclass(frozen=True, slots=True)
class WordUsage:
    """How known routes join one word to the words beside it. `word` indexes ParsedRoute.words.

    Words are compared in the form in which they are counted: a procedure without its number.
    """

    word: int
    text: str
    before: str
    after: str
    _: KW_ONLY
    behind: int
    """Known routes in which it stands behind the word before."""
    ahead: int
    """Known routes in which the word after stands behind it."""
    through: int
    """Known routes that have all three in a row."""
    otherwise: int
    """Known routes that have one other word between the same two."""
    others: tuple[OtherWord, ...] = ()
    """These other words, most used first, and not all where there are many."""
    is_counted: bool = True
    """Whether such words are counted: a typed position, or one beside it, is not."""


@dataclass(frozen=True, slots=True)
class UsageEvidence:
    """What known routes say for a word in place of another: a clause, in how many of them, in which collections.

    None of them has the word where they only speak against the other.
    """

    clause: str
    routes: int
    collections: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NearestKnown:
    """The known route between the same aerodromes that differs least.

    `differences` are pairs of words, here and there; "" = nothing stands there.
    """

    name: str
    route: str
    collection: str
    _: KW_ONLY
    differences: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class KnownUsage:
    """What the known routes that are loaded say of one route."""

    collections: tuple[str, ...]
    """The names of the collections that were asked."""
    words: tuple[WordUsage, ...]
    _: KW_ONLY
    between: int = 0
    """Known routes between the same aerodromes."""
    knows_ends: bool = False
    """Whether any known route begins at the departure, and any ends at the destination."""
    nearest: NearestKnown | None = None
