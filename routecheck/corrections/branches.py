"""A procedure as scoring needs it: at which points it is joined, and what lies between such a point and the runway."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.model import FIELDS, Place
from routecheck.navdata.memo import cached_per_database
from routecheck.procedures.branch_choice import NEAR_ENOUGH_NM, NO_IDENT, is_join
from routecheck.procedures.follow import expand
from routecheck.procedures.route_procedures import places_of
from routecheck.resolution.airways import same

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from routecheck.model import CodedProcedure, ProcedurePoint
    from routecheck.model.data import PlaceKey
    from routecheck.navdata.database import NavDatabase

_NEAR_DEG = NEAR_ENOUGH_NM / 50.0


class Branches:
    """All branches of a SID, STAR or approach for one runway ("" = not stated). What was asked once is remembered."""

    def __init__(self, procedure: CodedProcedure, runway: str) -> None:
        self._procedure, self._runway = procedure, runway
        self._points = {p.key: p for p in places_of(procedure)}
        self._between: dict[PlaceKey | None, tuple[Place, ...]] = {}
        self.departing = procedure.kind == "SID"
        self.named = frozenset(branch.ident for branch in procedure.transitions)
        """The idents of its named transitions."""

    @property
    def points(self) -> Mapping[PlaceKey, Place]:
        """Its points, by (ident, lat, lon)."""
        return self._points

    def joined_at(self, place: Place) -> bool:
        """Whether a point of the route is one of the procedure's, typed positions within a mile of one counted."""
        if place.kind not in NO_IDENT:
            return place.key in self._points
        beside = (p for p in self._points.values() if abs(p.lat - place.lat) < _NEAR_DEG)
        return any(is_join(p.ident, p, place) for p in beside)

    def remember(self, join: Place, points: Iterable[ProcedurePoint]) -> None:
        """Take over the path to a point of the route as it was followed there, not to follow it again."""
        if self.joined_at(join) and join.kind not in NO_IDENT:
            self._between.setdefault(join.key, _inner(points, join))

    def between(self, place: Place) -> tuple[Place, ...]:
        """The places of the procedure between that point and the field, in the order of flight, both left out."""
        joined = self.joined_at(place)
        if joined and place.kind in NO_IDENT:
            return self._followed(place)
        key = place.key if joined else None
        known = self._between.get(key)
        if known is None:
            known = self._between[key] = self._followed(place if joined else None)
        return known

    def _followed(self, join: Place | None) -> tuple[Place, ...]:
        path = expand(self._procedure, self._runway, join)
        points = path.points
        if path.joined:
            points = points[:-1] if self.departing else points[1:]
        return _inner(points, join)


def _inner(points: Iterable[ProcedurePoint], join: Place | None) -> tuple[Place, ...]:
    """The places of a path without the field's and without the joining point."""
    places = (p.place for p in points if p.place is not None and p.place.kind not in FIELDS)
    return tuple(p for p in places if join is None or not same(p, join))


@cached_per_database(8_192)
def branches(database: NavDatabase, airport: str, runway: str, kind: str, name: str) -> Branches | None:
    """The branches of a procedure of an airport; None where the data has none."""
    procedure = database.procedure(airport, kind, name)
    return Branches(procedure, runway) if procedure else None
