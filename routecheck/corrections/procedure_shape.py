"""A procedure as scoring needs it: where a route may join it, and what lies between there and the aerodrome."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.model import FIELDS, Place
from routecheck.navdata.memo import cached_per_database
from routecheck.procedures.branch_choice import JOINS_WITHIN_NM, KINDS_WITHOUT_IDENT, is_join_point
from routecheck.procedures.flown_procedure import trace_procedure
from routecheck.procedures.route_procedures import procedure_places
from routecheck.resolution.airways import is_same_place

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from routecheck.model import CodedProcedure, ProcedurePoint
    from routecheck.model.data import PlaceKey
    from routecheck.navdata.database import NavDatabase

_NEAR_DEG = JOINS_WITHIN_NM / 50.0


class ProcedureShape:
    """A SID, STAR or approach for one runway ("" = not stated), with all its branches. Paths once followed are kept."""

    def __init__(self, procedure: CodedProcedure, runway: str) -> None:
        self._procedure, self._runway = procedure, runway
        self._points = {place.key: place for place in procedure_places(procedure)}
        self._inner_places: dict[PlaceKey | None, tuple[Place, ...]] = {}
        self.departing = procedure.kind == "SID"
        self.transition_idents = frozenset(branch.ident for branch in procedure.transitions)

    @property
    def points(self) -> Mapping[PlaceKey, Place]:
        """Its points, by (ident, lat, lon)."""
        return self._points

    def has_join(self, place: Place) -> bool:
        """Whether a route joins it at a place: one of its points, or a typed position within a mile of one."""
        if place.kind not in KINDS_WITHOUT_IDENT:
            return place.key in self._points
        near = (point for point in self._points.values() if abs(point.lat - place.lat) < _NEAR_DEG)
        return any(is_join_point(point.ident, point, place) for point in near)

    def keep_path(self, join: Place, points: Iterable[ProcedurePoint]) -> None:
        """Take over the path to a join as the route was resolved with it, so that it is not followed again."""
        if self.has_join(join) and join.kind not in KINDS_WITHOUT_IDENT:
            self._inner_places.setdefault(join.key, _without_ends(points, join))

    def inner_places(self, join: Place) -> tuple[Place, ...]:
        """The places between a join and the aerodrome in the order of flight, both left out.

        Where the route does not join it: those that all its branches share.
        """
        joined = self.has_join(join)
        if joined and join.kind in KINDS_WITHOUT_IDENT:
            return self._follow(join)
        key = join.key if joined else None
        known = self._inner_places.get(key)
        if known is None:
            known = self._inner_places[key] = self._follow(join if joined else None)
        return known

    def _follow(self, join: Place | None) -> tuple[Place, ...]:
        path = trace_procedure(self._procedure, self._runway, join)
        points = path.points
        if path.joined:
            points = points[:-1] if self.departing else points[1:]
        return _without_ends(points, join)


def _without_ends(points: Iterable[ProcedurePoint], join: Place | None) -> tuple[Place, ...]:
    """The places of a path without the aerodrome's and without the join."""
    places = (point.place for point in points if point.place is not None and point.place.kind not in FIELDS)
    return tuple(place for place in places if join is None or not is_same_place(place, join))


@cached_per_database(8_192)
def procedure_shape(database: NavDatabase, airport: str, runway: str, kind: str, name: str) -> ProcedureShape | None:
    """The shape of a procedure of an airport; None where the data has none."""
    procedure = database.procedure(airport, kind, name)
    return ProcedureShape(procedure, runway) if procedure else None
