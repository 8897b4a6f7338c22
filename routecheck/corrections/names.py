"""The names and airports one letter off, with their places: found once for each database."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from routecheck.corrections import sphere
from routecheck.entry_errors import words
from routecheck.navdata.memo import cached_per_database

if TYPE_CHECKING:
    from routecheck.corrections.sphere import Vector
    from routecheck.entry_errors.costs import Slip
    from routecheck.model import Place
    from routecheck.model.data import PlaceKey
    from routecheck.navdata.database import NavDatabase


class Near(NamedTuple):
    """A place whose name is one entry error away from a word, and that error; its key and vector are often asked."""

    name: str
    slip: Slip
    place: Place
    key: PlaceKey
    vector: Vector


@cached_per_database(50_000)
def names_off(database: NavDatabase, word: str) -> tuple[Near, ...]:
    """Every place whose name is one entry error away from a word."""
    found = words.one_error_off(word, database.names())
    return tuple(
        Near(name, slip, place, place.key, sphere.unit(place.lat, place.lon))
        for name, slip in found
        for place in database.places(name)
    )


@cached_per_database(50_000)
def airways_off(database: NavDatabase, designator: str) -> tuple[tuple[str, Slip], ...]:
    """Every airway whose designator is one entry error away from a given one, and that error."""
    return tuple(words.designators_off(designator, database.airway_names()))


class _Airports:
    """The airports there are, as a set that is asked and never listed."""

    def __init__(self, database: NavDatabase) -> None:
        self._database = database

    def __contains__(self, name: object) -> bool:
        return isinstance(name, str) and self._database.airport(name) is not None


@cached_per_database(50_000)
def airports_off(database: NavDatabase, ident: str) -> tuple[tuple[str, Place], ...]:
    """(ident, place) of every airport whose ident is one entry error away from a given one."""
    names = [name for name, _ in words.one_error_off(ident, _Airports(database))]
    return tuple((name, place) for name in names if (place := database.airport(name)))
