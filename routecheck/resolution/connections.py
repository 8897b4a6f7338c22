"""Ties to links: what lies between two stops, or what keeps the link from being followed in the data."""

from __future__ import annotations

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
    ProcedureElsewhere,
    ProcedureOutOfPlace,
    SeveralCrossings,
    UnknownAirway,
    UnknownProcedure,
    Via,
    WordRole,
)
from routecheck.procedures.route_procedures import Side, flown
from routecheck.procedures.wording import procedure_stem
from routecheck.resolution import airways
from routecheck.resolution.radials import off_lines_nm

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.model import RoutePoint
    from routecheck.navdata.database import NavDatabase
    from routecheck.resolution.chain import Chain, Tie
    from routecheck.resolution.items import Ends

COMPUTER_ONLY = "(CNF)"
"""In the name of a fix that exists only for computing, as where an airway leaves the country that publishes it."""


def link_of(
    chain: Chain, route_points: Sequence[RoutePoint], index: int, ends: Ends, database: NavDatabase
) -> Connection:
    """The link from stop `index` to the next one."""
    tie = chain.ties[index]
    if tie.via is Via.AIRWAY:
        return _airway(tie, route_points[index], route_points[index + 1])
    if tie.via is Via.PROCEDURE:
        if tie.role in (WordRole.SID, WordRole.STAR):
            return _followed(tie, route_points, index, ends, database)
        return _procedure(tie, _ends_asked(index, len(chain.ties), ends), database)
    if _meets_nothing(route_points[index]) or _meets_nothing(route_points[index + 1]):
        return _faulty(tie, AirwaysApart())
    off_nm = _off_radial_nm(tie, route_points[index].place, route_points[index + 1].place)
    return Connection(tie.via, tie.words, tie.name, off_radial_nm=off_nm)


def _off_radial_nm(tie: Tie, start: Place | None, end: Place | None) -> float | None:
    """How far the nearer end of a stretch lies off the radial it is said to follow, where both are placed."""
    if not tie.lines or start is None or end is None:
        return None
    return min(off_lines_nm(tie.lines, place) for place in (start, end))


def _airway(tie: Tie, entering: RoutePoint, leaving: RoutePoint) -> Connection:
    if not tie.pieces:
        return _faulty(tie, UnknownAirway())
    if _meets_nothing(entering) or _meets_nothing(leaving):
        return _faulty(tie, AirwaysApart())
    if entering.place is None or leaving.place is None:
        return _faulty(tie, EndUnplaced())
    run = airways.run_between(tie.pieces, entering.place, leaving.place)
    if run is None:
        return _faulty(tie, _why_not_followed(tie, entering.place, leaving.place))
    fault = SeveralCrossings() if len(leaving.groups) > 1 else None
    return Connection(
        Via.AIRWAY, tie.words, tie.name, inner=run.inner, segments=run.segments, forward=run.forward, fault=fault
    )


def _why_not_followed(tie: Tie, start: Place, end: Place) -> ConnectionFault:
    off_entry = not airways.on_any(tie.pieces, start)
    off_exit = not airways.on_any(tie.pieces, end)
    if (off_entry and start in tie.open_ends) or (off_exit and end in tie.open_ends):
        aerodrome = start if start in tie.open_ends else end
        return OpenEnd(aerodrome.ident, *_nearest(tie.pieces, aerodrome))
    if off_entry and off_exit:
        return BothEndsOffAirway()
    if off_entry:
        return _off_airway(tie.pieces, on=end, off=start, at_entry=True)
    if off_exit:
        return _off_airway(tie.pieces, on=start, off=end, at_entry=False)
    return _broken_airway(tie.pieces, start, end)


def _nearest(pieces: Sequence[Airway], place: Place) -> tuple[str, float]:
    """The point of an airway nearest to a place, and how far away it is: chosen on the sphere, told by the geodesic."""
    _, nearest = airways.nearest_to(pieces, place)
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
    facing = (_end_towards(first, end), _end_towards(second, start))
    return BrokenAirway(
        (first.places[0].ident, first.places[-1].ident),
        (second.places[0].ident, second.places[-1].ident),
        (facing[0].ident, facing[1].ident),
        leaves_data=all(COMPUTER_ONLY in place.name for place in facing),
    )


def _piece_through(pieces: Sequence[Airway], place: Place) -> Airway:
    return next(piece for piece in pieces if airways.position_on(piece, place) is not None)


def _end_towards(piece: Airway, place: Place) -> Place:
    ends = (piece.places[0], piece.places[-1])
    return min(ends, key=lambda end: geo.rough_nm(end.lat, end.lon, place.lat, place.lon))


def _faulty(tie: Tie, fault: ConnectionFault) -> Connection:
    return Connection(tie.via, tie.words, tie.name, fault=fault)


def _meets_nothing(route_point: RoutePoint) -> bool:
    return route_point.joins is not None and route_point.place is None


def _ends_asked(index: int, ties: int, ends: Ends) -> list[tuple[str, str]]:
    """The (airport, kind) a procedure at this place may belong to: departure first, destination last, else either."""
    departure, destination = (ends.departure, "SID"), (ends.destination, "STAR")
    if index == 0 and ties > 1:
        return [departure]
    return [destination] if index == ties - 1 and ties > 1 else [departure, destination]


def _followed(
    tie: Tie, route_points: Sequence[RoutePoint], index: int, ends: Ends, database: NavDatabase
) -> Connection:
    """A SID that leaves the departure or a STAR that comes to the destination; elsewhere neither leads anywhere."""
    last = len(route_points) - 2
    departing = tie.role is WordRole.SID
    if index != (0 if departing else last):
        return _faulty(tie, ProcedureOutOfPlace())
    route_point = route_points[1] if departing else route_points[last]
    if _meets_nothing(route_point):
        return _faulty(tie, AirwaysApart())
    side = Side(ends.departure, ends.runways[0]) if departing else Side(ends.destination, ends.runways[1])
    kind = "SID" if departing else "STAR"
    found = flown(database, side, kind, tie.name, route_point, aerodrome=last == 0)
    return Connection(tie.via, tie.words, tie.name, followed=found, kind=kind)


def _procedure(tie: Tie, asked: Sequence[tuple[str, str]], database: NavDatabase) -> Connection:
    names = {ident: database.procedure_names(ident, kind) for ident, kind in asked if ident}
    airports, any_loaded = tuple(names), any(names.values())
    owners = tuple(sorted(database.procedure_airports(tie.name)))
    if owners:
        return _faulty(tie, ProcedureElsewhere(airports, any_loaded, owners))
    stem = procedure_stem(tie.name)
    renumbered = [(other, ident) for ident, known in names.items() for other in known if procedure_stem(other) == stem]
    return _faulty(tie, UnknownProcedure(airports, any_loaded, tuple(renumbered)))
