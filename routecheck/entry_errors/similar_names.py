"""The names, airways and airports one entry error away from a word, with their places."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from routecheck.earth import sphere
from routecheck.entry_errors.words import designators_one_error_away, words_one_error_away
from routecheck.navdata.memo import cached_per_database

if TYPE_CHECKING:
    from routecheck.earth.sphere import Vector
    from routecheck.entry_errors.kinds import EntryError
    from routecheck.model import Place
    from routecheck.model.data import PlaceKey
    from routecheck.navdata.database import NavDatabase


class SimilarName(NamedTuple):
    """A place whose name is one entry error away from a word, and that error. Its key and its vector are often used."""

    name: str
    error: EntryError
    place: Place
    key: PlaceKey
    vector: Vector


@cached_per_database(50_000)
def similar_names(database: NavDatabase, word: str) -> tuple[SimilarName, ...]:
    """Every place whose name is one entry error away from a word."""
    return tuple(
        SimilarName(name, error, place, place.key, sphere.vector_of(place))
        for name, error in words_one_error_away(word, database.names())
        for place in database.places(name)
    )


@cached_per_database(50_000)
def similar_airways(database: NavDatabase, designator: str) -> tuple[tuple[str, EntryError], ...]:
    """Every airway whose designator is one entry error away from a given one, and that error."""
    return tuple(designators_one_error_away(designator, database.airway_names()))


class _AirportIdents:
    """The idents of all airports, as a set that is asked and never listed."""

    def __init__(self, database: NavDatabase) -> None:
        self._database = database

    def __contains__(self, name: object) -> bool:
        return isinstance(name, str) and self._database.airport(name) is not None


@cached_per_database(50_000)
def similar_airports(database: NavDatabase, ident: str) -> tuple[tuple[str, Place], ...]:
    """(ident, place) of every airport whose ident is one entry error away from a given one."""
    idents = [name for name, _ in words_one_error_away(ident, _AirportIdents(database))]
    return tuple((name, place) for name in idents if (place := database.airport(name)))
