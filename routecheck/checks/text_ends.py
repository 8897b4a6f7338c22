"""Between which aerodromes the text itself leads: those typed at its ends, else the owners of its SID and STAR."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from routecheck.checks.per_route_cache import cached_per_route
from routecheck.checks.route_queries import connections_with_fault, spans_of_connection, spans_of_route_point
from routecheck.earth.geo import rough_nm
from routecheck.frozen_dataclass import dataclass
from routecheck.model import FIELDS, ProcedureElsewhere

if TYPE_CHECKING:
    from routecheck.model import Route, RoutePoint, Span

_IDENT_LETTERS = 4
_NEAR_NM, _FAR_NM, _TIMES_AS_FAR = 100.0, 150.0, 3.0
"""So near the destination and so far from the departure given the text of a next flight begins: our choice."""


@dataclass(frozen=True, slots=True)
class TextEnd:
    """Where the text begins or ends, which is not the aerodrome given for that end beside it.

    `idents` are the aerodromes it may be, `given` is the one beside the text. `told_by` is the SID, STAR or point that
    says so, "" = an aerodrome is typed there. `spans` are the words.
    """

    idents: tuple[str, ...]
    given: str
    told_by: str
    spans: tuple[Span, ...]
    is_of_other_end: bool = False
    """Whether the procedure is one of the aerodrome given for the other end, which is then the only one of `idents`."""


@cached_per_route
def differing_ends(route: Route) -> tuple[TextEnd | None, TextEnd | None]:
    """The departure and the destination where the text leads from or to others than are given beside it.

    A procedure alone says so only if the one at the other end of the route does too: one of them may be mistyped.
    Where the SID is one of the destination given and the STAR none of the departure given, the next flight of a day
    stands between the aerodromes of the last; so too where no SID is flown and the text begins near that destination.
    """
    typed = _typed_end(route, departing=True), _typed_end(route, departing=False)
    owned = _owned_end(route, departing=True), _owned_end(route, departing=False)
    if any(typed):
        departure, destination = (one or _if_of_neither(two) for one, two in zip(typed, owned, strict=True))
        return departure, destination
    owned = owned[0] or (_near_end(route) if owned[1] and not owned[1].is_of_other_end else None), owned[1]
    return owned if all(owned) and not all(end and end.is_of_other_end for end in owned) else (None, None)


def _if_of_neither(end: TextEnd | None) -> TextEnd | None:
    return None if end is None or end.is_of_other_end else end


def _near_end(route: Route) -> TextEnd | None:
    """The destination given, where the text begins near it with no SID, and far from the departure given."""
    departure, first, *_, destination = route.resolved.route_points
    places = departure.place, first.place, destination.place
    if route.resolved.connections[0].words or first.word is None or not all(places):
        return None
    here, there = (_rough_nm(first, end) for end in (destination, departure))
    if here > _NEAR_NM or there < max(_FAR_NM, _TIMES_AS_FAR * here):
        return None
    return TextEnd((destination.text,), departure.text, first.text, spans_of_route_point(route, first))


def _rough_nm(one: RoutePoint, other: RoutePoint) -> float:
    a, b = one.place, other.place
    return math.inf if a is None or b is None else rough_nm(a.lat, a.lon, b.lat, b.lon)


def _typed_end(route: Route, *, departing: bool) -> TextEnd | None:
    """The aerodrome typed at an end of the text, where another is given beside it."""
    route_points, connections = route.resolved.route_points, route.resolved.connections
    if len(route_points) < 4:
        return None
    given, typed = (route_points[0], route_points[1]) if departing else (route_points[-1], route_points[-2])
    leads = connections[0] if departing else connections[-1]
    is_aerodrome = typed.place is not None and typed.place.kind in FIELDS and len(typed.text) == _IDENT_LETTERS
    if leads.words or not is_aerodrome or given.word is not None or not given.text:
        return None
    return TextEnd((typed.text,), given.text, "", spans_of_route_point(route, typed))


def _owned_end(route: Route, *, departing: bool) -> TextEnd | None:
    """The owners of the SID or STAR, where it does not belong to the aerodrome given for its end of the route."""
    route_points = route.resolved.route_points
    given, other = (route_points[0], route_points[-1]) if departing else (route_points[-1], route_points[0])
    for _, connection, fault, start, end in connections_with_fault(route, ProcedureElsewhere):
        known = fault.any_loaded or fault.is_far
        if (start if departing else end) is given and given.text and known:
            is_of_other = other.text in fault.owners
            idents = (other.text,) if is_of_other else fault.owners
            spans = spans_of_connection(route, connection)
            return TextEnd(idents, given.text, connection.name, spans, is_of_other_end=is_of_other)
    return None
