"""The coded points of airways as scoring asks for them: collected once for each database. No choosing here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.navdata.memo import cached_per_database

if TYPE_CHECKING:
    from collections.abc import Container, Sequence

    from routecheck.model import Airway
    from routecheck.model.data import PlaceKey
    from routecheck.navdata.database import NavDatabase


def coded(airway: Sequence[Airway], database: NavDatabase) -> Container[PlaceKey]:
    """The coded points of an airway, by key: a place that only lies near its line is none of them."""
    if len(airway) == 1:
        return airway[0].index_by_key
    return _keys_of(database, tuple(airway))


@cached_per_database(4_096, key=lambda airway: airway[0].designator if airway else "")
def _keys_of(_database: NavDatabase, airway: tuple[Airway, ...]) -> frozenset[PlaceKey]:
    return frozenset(key for piece in airway for key in piece.index_by_key)
