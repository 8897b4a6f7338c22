"""How the route leads from one placed point to the next, or what keeps it from being followed in the data."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.earth import geo
from routecheck.model import (
    Airway,
    AirwaysApart,
    BothEndsOffAirway,
    BrokenAirway,
    Connection,
    ConnectionFault,
    EndUnplaced,
    OffAirway,
    OpenEnd,
    Place,
    PresentProcedure,
    ProcedureElsewhere,
    ProcedureOutOfPlace,
    SeveralCrossings,
    UnknownAirway,
    UnknownProcedure,
    Via,
    WordRole,
)
from routecheck.procedures.route_procedures import RouteEnd, procedure_in_route, procedure_places
from routecheck.procedures.wording import procedure_stem
from routecheck.resolution import airways
from routecheck.resolution.radials import distance_off_radials_nm

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.model import RoutePoint
    from routecheck.navdata.database import NavDatabase
    from routecheck.resolution.chain import Chain, PendingConnection
    from routecheck.resolution.items import Aerodromes

SAME_TERMINAL_NM = 100.0
"""Airports this near each other may share procedures: our choice."""
COMPUTER_ONLY = "(CNF)"
"""In the name of a fix that exists only for computing, as where an airway leaves the country that publishes it."""


def make_connection(
    chain: Chain, route_points: Sequence[RoutePoint], index: int, aerodromes: Aerodromes, database: NavDatabase
) -> Connection:
    """Make the connection from route point `index` to the next one."""
    pending = chain.connections[index]
    if pending.via is Via.AIRWAY:
        return _airway_connection(pending, route_points[index], route_points[index + 1])
    if pending.via is Via.PROCEDURE:
        if pending.role in (WordRole.SID, WordRole.STAR):
            return _procedure_connection(pending, route_points, index, aerodromes, database)
        asked = _possible_owners(index, len(chain.connections), aerodromes)
        connection = _unknown_procedure(pending, route_points[index : index + 2], asked, database)
        return replace(connection, present=_present_procedure(connection, route_points, index, aerodromes, database))
    if _is_unmet_junction(route_points[index]) or _is_unmet_junction(route_points[index + 1]):
        return _faulty_connection(pending, AirwaysApart())
    off_nm = _off_radial_nm(pending, route_points[index].place, route_points[index + 1].place)
    return Connection(pending.via, pending.words, pending.name, off_radial_nm=off_nm)


def _off_radial_nm(pending: PendingConnection, start: Place | None, end: Place | None) -> float | None:
    """How far the nearer end of a stretch lies off the radial it is said to follow, where both are placed."""
    if not pending.lines or start is None or end is None:
        return None
    return min(distance_off_radials_nm(pending.lines, place) for place in (start, end))


def _airway_connection(pending: PendingConnection, entering: RoutePoint, leaving: RoutePoint) -> Connection:
    if not pending.pieces:
        return _faulty_connection(pending, UnknownAirway())
    if _is_unmet_junction(entering) or _is_unmet_junction(leaving):
        return _faulty_connection(pending, AirwaysApart())
    if entering.place is None or leaving.place is None:
        return _faulty_connection(pending, EndUnplaced())
    run = airways.run_between(pending.pieces, entering.place, leaving.place)
    if run is None:
        return _faulty_connection(pending, _why_not_followed(pending, entering.place, leaving.place))
    fault = SeveralCrossings() if len(leaving.crossings) > 1 else None
    return Connection(
        Via.AIRWAY,
        pending.words,
        pending.name,
        inner=run.inner,
        segments=run.segments,
        forward=run.forward,
        piece=run.piece,
        first_segment=run.first_segment,
        fault=fault,
    )


def _why_not_followed(pending: PendingConnection, start: Place, end: Place) -> ConnectionFault:
    off_entry = not airways.is_on_airway(pending.pieces, start)
    off_exit = not airways.is_on_airway(pending.pieces, end)
    if (off_entry and start in pending.open_ends) or (off_exit and end in pending.open_ends):
        aerodrome = start if start in pending.open_ends else end
        return OpenEnd(aerodrome.ident, *_nearest(pending.pieces, aerodrome))
    if off_entry and off_exit:
        return BothEndsOffAirway()
    if off_entry:
        return _off_airway(pending.pieces, on=end, off=start, at_entry=True)
    if off_exit:
        return _off_airway(pending.pieces, on=start, off=end, at_entry=False)
    return _broken_airway(pending.pieces, start, end)


def _nearest(pieces: Sequence[Airway], place: Place) -> tuple[str, float]:
    """The point of an airway nearest to a place, and how far away it is: chosen on the sphere, told by the geodesic."""
    _, nearest = airways.nearest_point(pieces, place)
    return nearest.ident, geo.inverse(place.lat, place.lon, nearest.lat, nearest.lon)[2]


def _off_airway(pieces: Sequence[Airway], *, on: Place, off: Place, at_entry: bool) -> OffAirway:
    nearest, nearest_nm = _nearest(pieces, off)
    beyond_nm, turn_deg, end = airways.beyond_end(_piece_through(pieces, on), off)
    return OffAirway(
        at_entry=at_entry,
        nearest=nearest,
        nearest_nm=nearest_nm,
        piece_end=end.ident,
        beyond_nm=beyond_nm,
        beyond_turn_deg=turn_deg,
        leaves_data=COMPUTER_ONLY in end.name,
    )


def _broken_airway(pieces: Sequence[Airway], start: Place, end: Place) -> BrokenAirway:
    first, second = _piece_through(pieces, start), _piece_through(pieces, end)
    facing = (_facing_end(first, end), _facing_end(second, start))
    return BrokenAirway(
        (first.places[0].ident, first.places[-1].ident),
        (second.places[0].ident, second.places[-1].ident),
        (facing[0].ident, facing[1].ident),
        leaves_data=all(COMPUTER_ONLY in place.name for place in facing),
    )


def _piece_through(pieces: Sequence[Airway], place: Place) -> Airway:
    return next(piece for piece in pieces if airways.position_on(piece, place) is not None)


def _facing_end(piece: Airway, place: Place) -> Place:
    ends = (piece.places[0], piece.places[-1])
    return min(ends, key=lambda end: geo.rough_nm(end.lat, end.lon, place.lat, place.lon))


def _faulty_connection(pending: PendingConnection, fault: ConnectionFault) -> Connection:
    return Connection(pending.via, pending.words, pending.name, fault=fault)


def _is_unmet_junction(route_point: RoutePoint) -> bool:
    return route_point.joined_lines is not None and route_point.place is None


def _possible_owners(index: int, connections: int, aerodromes: Aerodromes) -> list[tuple[str, str]]:
    """The (airport, kind) a procedure at this place may belong to: departure first, destination last, else either."""
    departure, destination = (aerodromes.departure, "SID"), (aerodromes.destination, "STAR")
    if index == 0 and connections > 1:
        return [departure]
    return [destination] if index == connections - 1 and connections > 1 else [departure, destination]


def _procedure_connection(
    pending: PendingConnection,
    route_points: Sequence[RoutePoint],
    index: int,
    aerodromes: Aerodromes,
    database: NavDatabase,
) -> Connection:
    """A SID that leaves the departure or a STAR that comes to the destination; elsewhere neither leads anywhere."""
    last = len(route_points) - 2
    departing = pending.role is WordRole.SID
    if index != (0 if departing else last):
        return _faulty_connection(pending, ProcedureOutOfPlace())
    route_point = route_points[1] if departing else route_points[last]
    if _is_unmet_junction(route_point):
        return _faulty_connection(pending, AirwaysApart())
    side = (
        RouteEnd(aerodromes.departure, aerodromes.runways[0])
        if departing
        else RouteEnd(aerodromes.destination, aerodromes.runways[1])
    )
    kind = "SID" if departing else "STAR"
    found = procedure_in_route(database, side, kind, pending.name, route_point, aerodrome=last == 0)
    return Connection(pending.via, pending.words, pending.name, procedure=found, procedure_kind=kind)


def _unknown_procedure(
    pending: PendingConnection, ends: Sequence[RoutePoint], asked: Sequence[tuple[str, str]], database: NavDatabase
) -> Connection:
    names = {ident: database.procedure_names(ident, kind) for ident, kind in asked if ident}
    airports, any_loaded = tuple(names), any(names.values())
    owners = tuple(sorted(database.procedure_airports(pending.name)))
    if owners:
        joined = any(_joins(database, owner, pending.name, ends) for owner in owners)
        is_far = joined and not _are_near(database, owners, airports)
        return _faulty_connection(pending, ProcedureElsewhere(airports, any_loaded, owners, is_far))
    stem = procedure_stem(pending.name)
    renumbered = [(other, ident) for ident, known in names.items() for other in known if procedure_stem(other) == stem]
    return _faulty_connection(pending, UnknownProcedure(airports, any_loaded, tuple(renumbered)))


def _present_procedure(
    connection: Connection,
    route_points: Sequence[RoutePoint],
    index: int,
    aerodromes: Aerodromes,
    database: NavDatabase,
) -> PresentProcedure | None:
    """The one procedure that differs in its number only, where the route begins or ends with it."""
    fault = connection.fault
    departing, arriving = index == 0, index == len(route_points) - 2
    if not isinstance(fault, UnknownProcedure) or len(fault.renumbered) != 1 or departing == arriving:
        return None
    name, airport = fault.renumbered[0]
    runway = aerodromes.runways[0 if departing else 1]
    kind, route_point = ("SID", route_points[1]) if departing else ("STAR", route_points[index])
    return PresentProcedure(name, procedure_in_route(database, RouteEnd(airport, runway), kind, name, route_point))


def _joins(database: NavDatabase, owner: str, name: str, ends: Sequence[RoutePoint]) -> bool:
    """Whether a SID of that airport leads to the point after it, or a STAR comes from the point before it."""
    before, after = ends
    for kind, place in (("SID", after.place), ("STAR", before.place)):
        procedure = database.procedure(owner, kind, name)
        if place and procedure and any(airways.is_same_place(one, place) for one in procedure_places(procedure)):
            return True
    return False


def _are_near(database: NavDatabase, owners: Sequence[str], airports: Sequence[str]) -> bool:
    """Whether an owner is near one of the airports: fields of one terminal area share procedures, coded or not."""
    ours, others = ([p for ident in idents if (p := database.airport(ident))] for idents in (owners, airports))
    return any(geo.rough_nm(a.lat, a.lon, b.lat, b.lon) <= SAME_TERMINAL_NM for a in ours for b in others)
