"""The coded points of airways as scoring asks for them: put together once for a library. No choosing here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.navdata.memo import Memo

if TYPE_CHECKING:
    from collections.abc import Container, Sequence

    from routecheck.model import Airway
    from routecheck.model.data import PlaceKey
    from routecheck.navdata.database import NavDatabase

_coded: Memo[str, frozenset[PlaceKey]] = Memo(4_096)


def coded(airway: Sequence[Airway], database: NavDatabase) -> Container[PlaceKey]:
    """The coded points of an airway, by key: a place that only lies near its line is none of them."""
    if len(airway) == 1:
        return airway[0].order
    known = _coded.of(database)
    name = airway[0].designator if airway else ""
    found = known.get(name)
    if found is None:
        found = known[name] = frozenset(key for piece in airway for key in piece.order)
    return found
