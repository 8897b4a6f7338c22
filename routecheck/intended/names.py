"""The names one letter off, with their places: asked once a word of each library, which never changes once made."""

from __future__ import annotations

from typing import TYPE_CHECKING
from weakref import WeakKeyDictionary

from routecheck.slips import words

if TYPE_CHECKING:
    from routecheck.library.gazetteer import Library
    from routecheck.model import Place
    from routecheck.slips.costs import Slip

Near = tuple[tuple[str, "Slip", "Place"], ...]
_MOST_KEPT = 50_000
_known: WeakKeyDictionary[Library, dict[str, Near]] = WeakKeyDictionary()


def names_off(library: Library, word: str) -> Near:
    """(name, slip, place) of every place whose name is one entry error away from a word."""
    known = _known.setdefault(library, {})
    near = known.get(word)
    if near is None:
        if len(known) >= _MOST_KEPT:
            known.clear()
        found = words.one_error_off(word, library.names())
        near = known[word] = tuple((name, slip, place) for name, slip in found for place in library.places(name))
    return near
