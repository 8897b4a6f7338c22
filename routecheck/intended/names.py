"""The names and airports one letter off, with their places: asked once of each library, which never changes."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from routecheck.intended import sphere
from routecheck.library.kept import Kept
from routecheck.slips import words

if TYPE_CHECKING:
    from routecheck.intended.sphere import Vector
    from routecheck.library.gazetteer import Library
    from routecheck.model import Place
    from routecheck.model.data import PlaceKey
    from routecheck.slips.costs import Slip


class Near(NamedTuple):
    """A place whose name is one entry error away from a word, and that error; its key and vector are often asked."""

    name: str
    slip: Slip
    place: Place
    key: PlaceKey
    vector: Vector


_airports: Kept[str, tuple[tuple[str, Place], ...]] = Kept(50_000)
_designators: Kept[str, tuple[tuple[str, Slip], ...]] = Kept(50_000)
_known: Kept[str, tuple[Near, ...]] = Kept(50_000)


def names_off(library: Library, word: str) -> tuple[Near, ...]:
    """Every place whose name is one entry error away from a word."""
    known = _known.of(library)
    near = known.get(word)
    if near is None:
        found = words.one_error_off(word, library.names())
        near = known[word] = tuple(
            Near(name, slip, place, place.key, sphere.unit(place.lat, place.lon))
            for name, slip in found
            for place in library.places(name)
        )
    return near


def airways_off(library: Library, designator: str) -> tuple[tuple[str, Slip], ...]:
    """Every airway whose designator is one entry error away from a given one, and that error."""
    known = _designators.of(library)
    near = known.get(designator)
    if near is None:
        near = known[designator] = tuple(words.designators_off(designator, library.airway_names()))
    return near


class _Airports:
    """The airports there are, as a set that is asked and never listed."""

    def __init__(self, library: Library) -> None:
        self._library = library

    def __contains__(self, name: object) -> bool:
        return isinstance(name, str) and self._library.airport(name) is not None


def airports_off(library: Library, ident: str) -> tuple[tuple[str, Place], ...]:
    """(ident, place) of every airport whose ident is one entry error away from a given one."""
    known = _airports.of(library)
    near = known.get(ident)
    if near is None:
        names = [name for name, _ in words.one_error_off(ident, _Airports(library))]
        near = known[ident] = tuple((name, place) for name in names if (place := library.airport(name)))
    return near
