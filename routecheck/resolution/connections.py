"""Ties to links: what lies between two stops, or what keeps the link from being followed in the data."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.earth import geo
from routecheck.model import Airway, Connection, ConnectionFault, Place, Via
from routecheck.procedures.route_procedures import Side, flown
from routecheck.resolution import airways
from routecheck.resolution.radials import off_lines_nm

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

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
        if tie.role in ("SID", "STAR"):
            return _followed(tie, route_points, index, ends, database)
        return _procedure(tie, _ends_asked(index, len(chain.ties), ends), database)
    if _meets_nothing(route_points[index]) or _meets_nothing(route_points[index + 1]):
        return _troubled(tie, ConnectionFault.APART)
    if tie.lines:
        return Connection(
            tie.via,
            tie.words,
            tie.name,
            detail=_off_radial(tie, route_points[index].place, route_points[index + 1].place),
        )
    return Connection(tie.via, tie.words, tie.name)


def _off_radial(tie: Tie, start: Place | None, end: Place | None) -> dict[str, str | float]:
    """How far the nearer end of a stretch lies off the radial it is said to follow, where both are placed."""
    if start is None or end is None:
        return {}
    return {"off_nm": min(off_lines_nm(tie.lines, place) for place in (start, end))}


def _airway(tie: Tie, entering: RoutePoint, leaving: RoutePoint) -> Connection:
    if not tie.pieces:
        return _troubled(tie, ConnectionFault.UNKNOWN_AIRWAY)
    if _meets_nothing(entering) or _meets_nothing(leaving):
        return _troubled(tie, ConnectionFault.APART)
    if entering.place is None or leaving.place is None:
        return _troubled(tie, ConnectionFault.END_UNPLACED)
    run = airways.run_between(tie.pieces, entering.place, leaving.place)
    if run is None:
        return _unfollowed(tie, entering, leaving, entering.place, leaving.place)
    several = len(leaving.groups) > 1
    trouble = ConnectionFault.SEVERAL if several else None
    return Connection(Via.AIRWAY, tie.words, tie.name, run.inner, run.segments, run.forward, trouble)


def _unfollowed(tie: Tie, entering: RoutePoint, leaving: RoutePoint, start: Place, end: Place) -> Connection:
    off_entry = not airways.on_any(tie.pieces, start)
    off_exit = not airways.on_any(tie.pieces, end)
    if (off_entry and start in tie.open_ends) or (off_exit and end in tie.open_ends):
        return _open_ended(tie, start if start in tie.open_ends else end)
    if off_entry and off_exit:
        return _troubled(tie, ConnectionFault.OFF_BOTH, {"entry": entering.text, "exit": leaving.text})
    if off_entry:
        return _troubled(tie, ConnectionFault.OFF_ENTRY, {**_nearest(tie, start), **_beyond(tie, end, start)})
    if off_exit:
        return _troubled(tie, ConnectionFault.OFF_EXIT, {**_nearest(tie, end), **_beyond(tie, start, end)})
    return _troubled(tie, ConnectionFault.BROKEN, _pieces_at(tie, start, end))


def _open_ended(tie: Tie, aerodrome: Place) -> Connection:
    return _troubled(tie, ConnectionFault.OPEN_END, {"aerodrome": aerodrome.ident, **_nearest(tie, aerodrome)})


def _nearest(tie: Tie, place: Place) -> dict[str, str | float]:
    found = airways.nearest_to(tie.pieces, place)
    if found is None:
        return {}
    # Chosen on the sphere, but told by the geodesic.
    _, _, distance = geo.inverse(place.lat, place.lon, found[1].lat, found[1].lon)
    return {"nearest": found[1].ident, "nearest_nm": distance}


def _beyond(tie: Tie, on: Place, off: Place) -> dict[str, str | float]:
    """How the place off the airway lies from the end of the piece that the other place is on."""
    piece = next(p for p in tie.pieces if airways.position_on(p, on) is not None)
    distance, turn, end = airways.beyond_end(piece, off)
    edge = end.ident if COMPUTER_ONLY in end.name else ""
    return {"end": end.ident, "beyond_nm": distance, "beyond_turn_deg": turn, "edge": edge}


def _pieces_at(tie: Tie, start: Place, end: Place) -> dict[str, str | float]:
    """From where to where the two pieces run, and whether the break is only the edge of the loaded data."""
    first = next(p for p in tie.pieces if airways.position_on(p, start) is not None)
    second = next(p for p in tie.pieces if airways.position_on(p, end) is not None)
    facing = (_end_towards(first, end), _end_towards(second, start))
    return {
        "first": f"{first.places[0].ident}–{first.places[-1].ident}",
        "second": f"{second.places[0].ident}–{second.places[-1].ident}",
        "edge": " and ".join(p.ident for p in facing) if all(COMPUTER_ONLY in p.name for p in facing) else "",
    }


def _end_towards(piece: Airway, place: Place) -> Place:
    ends = (piece.places[0], piece.places[-1])
    return min(ends, key=lambda end: geo.rough_nm(end.lat, end.lon, place.lat, place.lon))


def _troubled(tie: Tie, trouble: ConnectionFault, detail: Mapping[str, str | float] | None = None) -> Connection:
    return Connection(tie.via, tie.words, tie.name, trouble=trouble, detail=detail or {})


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
    departing = tie.role == "SID"
    if index != (0 if departing else last):
        return _troubled(tie, ConnectionFault.OUT_OF_PLACE, {"kind": tie.role})
    route_point = route_points[1] if departing else route_points[last]
    if _meets_nothing(route_point):
        return _troubled(tie, ConnectionFault.APART, {"kind": tie.role})
    side = Side(ends.departure, ends.runways[0]) if departing else Side(ends.destination, ends.runways[1])
    found = flown(database, side, tie.role, tie.name, route_point, aerodrome=last == 0)
    return Connection(tie.via, tie.words, tie.name, followed=found, kind=tie.role)


def _procedure(tie: Tie, asked: Sequence[tuple[str, str]], database: NavDatabase) -> Connection:
    names = {ident: database.procedure_names(ident, kind) for ident, kind in asked if ident}
    detail: dict[str, str | float] = {"airports": " or ".join(names), "loaded": float(any(names.values()))}
    owners = sorted(database.procedure_airports(tie.name))
    if owners:
        return _troubled(tie, ConnectionFault.PROCEDURE_ELSEWHERE, {**detail, "others": " ".join(owners)})
    stem = _stem(tie.name)
    others = [f"{other} at {ident}" for ident, known in names.items() for other in known if _stem(other) == stem]
    return _troubled(tie, ConnectionFault.UNKNOWN_PROCEDURE, {**detail, "others": ", ".join(others)})


def _stem(name: str) -> str:
    """A procedure's name without its validity number and route letter."""
    return re.sub(r"\d[A-Z]?$", "", name)
