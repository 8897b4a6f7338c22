"""Between which aerodromes the text itself leads: those typed at its ends, else the owners of its SID and STAR."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.per_route_cache import cached_per_route
from routecheck.checks.route_queries import connections_with_fault, spans_of_connection, spans_of_route_point
from routecheck.frozen_dataclass import dataclass
from routecheck.model import FIELDS, ProcedureElsewhere

if TYPE_CHECKING:
    from routecheck.model import Route, Span

_IDENT_LETTERS = 4


@dataclass(frozen=True, slots=True)
class TextEnd:
    """Where the text begins or ends, which is not the aerodrome given for that end beside it.

    `idents` are the aerodromes it may be, `given` is the one beside the text. `procedure` is the SID or STAR that says
    so, "" = an aerodrome is typed there. `spans` are the words.
    """

    idents: tuple[str, ...]
    given: str
    procedure: str
    spans: tuple[Span, ...]


@cached_per_route
def differing_ends(route: Route) -> tuple[TextEnd | None, TextEnd | None]:
    """The departure and the destination where the text leads from or to others than are given beside it.

    A procedure alone says so only if the one at the other end of the route does too: one of them may be mistyped.
    """
    typed = _typed_end(route, departing=True), _typed_end(route, departing=False)
    owned = _owned_end(route, departing=True), _owned_end(route, departing=False)
    if not any(typed) and not all(owned):
        return None, None
    departure, destination = (one or other for one, other in zip(typed, owned, strict=True))
    return departure, destination


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
    """The owners of the SID or STAR, where it belongs to none of the aerodromes given. The other end's is no owner."""
    route_points = route.resolved.route_points
    given, other = (route_points[0], route_points[-1]) if departing else (route_points[-1], route_points[0])
    for _, connection, fault, start, end in connections_with_fault(route, ProcedureElsewhere):
        known = fault.any_loaded or fault.is_far
        if (start if departing else end) is given and given.text and known and other.text not in fault.owners:
            return TextEnd(fault.owners, given.text, connection.name, spans_of_connection(route, connection))
    return None
