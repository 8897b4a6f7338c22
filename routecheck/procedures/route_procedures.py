"""The procedures that a route flies, each from its runway to its point of the route. No choosing of branches here."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass
from routecheck.model import (
    FIELDS,
    Connection,
    FlownProcedure,
    NotJoined,
    Part,
    PlaceKind,
    ProcedureLeg,
    ProcedurePoint,
    RoutePoint,
    Via,
    WordKind,
)
from routecheck.navdata.memo import cached_per_database
from routecheck.procedures.coded_path import same_place
from routecheck.procedures.flown_procedure import fly_procedure
from routecheck.procedures.wording import describe_not_joined, runway_ident, runway_in_approach_name

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.model import CodedProcedure, ParsedRoute, Place
    from routecheck.navdata.database import NavDatabase

_OTHER_SIDE = {"L": "R", "R": "L"}


def runway_word_behind(parsed: ParsedRoute, aerodrome: int | None) -> int | None:
    """The word that types a runway behind the aerodrome, word number `aerodrome` ("XVAL/09"); None = there is none."""
    after = None if aerodrome is None else aerodrome + 1
    there = after is not None and after < len(parsed.words) and parsed.words[after].kind is WordKind.RUNWAY
    return after if there else None


def typed_runway(parsed: ParsedRoute, aerodrome: int | None) -> str:
    """The runway typed behind an aerodrome; "" where there is none."""
    word = runway_word_behind(parsed, aerodrome)
    return "" if word is None else parsed.words[word].text


def runway_threshold(database: NavDatabase, airport: str, runway: str) -> Place | None:
    """The threshold of a stated runway, with the airport's variation; None where the data has no such runway."""
    ident = runway_ident(runway)
    if not ident:
        return None
    place = database.airport(airport)
    found = next((one.threshold(airport) for one in database.runways(airport) if one.ident == ident), None)
    return replace(found, variation_deg=place.variation_deg) if found and place else found


def loaded_runways(database: NavDatabase, airport: str, stated: str) -> tuple[str, ...]:
    """The runways that an airport has in the data, asked only where one is stated."""
    return tuple(one.ident for one in database.runways(airport)) if stated else ()


def departure_end(database: NavDatabase, airport: str, runway: str) -> Place | None:
    """The departure end of a runway: the threshold of the other direction; None where the data has none."""
    if not runway[:2].isdecimal():
        return None
    other = f"{(int(runway[:2]) + 17) % 36 + 1:02d}{_OTHER_SIDE.get(runway[2:], runway[2:])}"
    return runway_threshold(database, airport, other)


def approach_runway(approach: CodedProcedure, database: NavDatabase) -> str:
    """The runway that an approach leads to: in its name, else that of a threshold among its legs; "" = none (circling).

    Of 10,330 approaches in cycle 2301 7.4 % are named after a runway whose threshold none of their legs has.
    """
    named = runway_in_approach_name(approach.name)
    if named in loaded_runways(database, approach.airport, named):
        return named
    legs = (leg.fix for branch in approach.common for leg in branch.legs)
    return next((p.ident.removeprefix("RW") for p in legs if p and p.kind is PlaceKind.RUNWAY), "")


def procedure_places(procedure: CodedProcedure, *, without_transitions: bool = False) -> tuple[Place, ...]:
    """Every place at which a procedure can be joined or left, each once, in coded order."""
    branches = [b for b in procedure.branches if not without_transitions or b.part is not Part.TRANSITION]
    legs = (leg for branch in branches for leg in branch.legs if not leg.missed)
    return tuple({p.key: p for leg in legs if (p := leg.fix) and p.kind not in FIELDS}.values())


@dataclass(frozen=True, slots=True)
class RouteEnd:
    """One end of a route as a procedure needs it: the aerodrome's ident, and the runway stated there or ""."""

    airport: str
    runway: str


def procedure_in_route(
    database: NavDatabase, side: RouteEnd, kind: str, name: str, route_point: RoutePoint, *, aerodrome: bool = False
) -> FlownProcedure:
    """A known procedure from the runway to a point of the route (SID), or the other way round, with both ends.

    Where that point has no place, or is itself an aerodrome, nothing says where the procedure is joined: a gap.
    """
    neighbour = None if aerodrome else route_point.place
    found = _extend_to_field(_fly_once(database, side, kind, name, neighbour), database, side, kind, name)
    if neighbour is not None:
        return found
    why = f"nothing says where {name} is {'left' if kind == 'SID' else 'joined'}"
    end, gap = ProcedurePoint(route_point.text, route_point.place), ProcedureLeg(None, None, None, gap=why)
    if kind == "SID":
        return replace(found, points=(*found.points, end), legs=(*found.legs, gap))
    return replace(found, points=(end, *found.points), legs=(gap, *found.legs))


def _extend_to_field(
    found: FlownProcedure, database: NavDatabase, side: RouteEnd, kind: str, name: str
) -> FlownProcedure:
    """Extend a procedure to its aerodrome, where it does not reach the field itself."""
    if found.points and _is_field(found.points[0 if kind == "SID" else -1]):
        return found
    field = ProcedurePoint(side.airport, database.airport(side.airport))
    gap = ProcedureLeg(
        None, None, None, gap=f"{name} does not say how it {'leaves' if kind == 'SID' else 'reaches'} the field"
    )
    legs = (gap,) if found.points else ()
    if kind == "SID":
        return replace(found, points=(field, *found.points), legs=(*legs, *found.legs))
    return replace(found, points=(*found.points, field), legs=(*found.legs, *legs))


@cached_per_database(8_192)
def _fly_once(database: NavDatabase, side: RouteEnd, kind: str, name: str, neighbour: Place | None) -> FlownProcedure:
    return fly_procedure(database, side.airport, kind, name, side.runway, neighbour)


# The approach at the end of a route


def add_approach(
    route_points: tuple[RoutePoint, ...],
    connections: tuple[Connection, ...],
    side: RouteEnd,
    approach: CodedProcedure | None,
    database: NavDatabase,
) -> tuple[tuple[RoutePoint, ...], tuple[Connection, ...]]:
    """Add an approach at the end of a route: behind the STAR, else behind the last point."""
    last = connections[-1]
    if approach is None:
        return route_points, connections
    if last.procedure_kind == "STAR" and last.procedure:
        return _add_approach_behind_star(route_points, connections, last.procedure, side, approach, database)
    if last.via in (Via.IMPLIED, Via.DIRECT):
        alone = len(route_points) < 3
        found = _excuse_gap_before(
            procedure_in_route(database, side, "APPROACH", approach.name, route_points[-2], aerodrome=alone),
            approach.name,
        )
        connection = Connection(Via.PROCEDURE, last.words, approach.name, procedure=found, procedure_kind="APPROACH")
        return route_points, (*connections[:-1], connection)
    return route_points, connections


def _add_approach_behind_star(
    route_points: tuple[RoutePoint, ...],
    connections: tuple[Connection, ...],
    star: FlownProcedure,
    side: RouteEnd,
    approach: CodedProcedure,
    database: NavDatabase,
) -> tuple[tuple[RoutePoint, ...], tuple[Connection, ...]]:
    """Cut the STAR at a point that the approach has too, else where its coding ends, and go on by the approach."""
    at = _last_shared_point(star.points, approach)
    coded = len(star.points) - 1 if star.points[-1].place is None or _is_field(star.points[-1]) else len(star.points)
    leaving = star.points[at if at is not None else max(coded - 1, 0)]
    end = star.points.index(leaving)
    route_point = RoutePoint(None, leaving.name, leaving.place, why=f"where {connections[-1].name} ends", implied=True)
    flown = procedure_in_route(database, side, "APPROACH", approach.name, route_point)
    after = star.legs[end] if end < len(star.legs) else None
    if not flown.joined and after:
        flown = _excuse_gap_before(flown, approach.name, after)
    elif after and after.coded and after.gap and at is not None:
        # Vectors lie between the two, though both have the point: what is flown there is not fixed.
        flown = replace(flown, points=(_add_note(flown.points[0], after.gap), *flown.points[1:]))
    arrival = replace(connections[-1], procedure=replace(star, points=star.points[: end + 1], legs=star.legs[:end]))
    connection = Connection(Via.PROCEDURE, arrival.words, approach.name, procedure=flown, procedure_kind="APPROACH")
    if end == 0:
        return route_points, (
            *connections[:-1],
            replace(connection, procedure=_excuse_gap_before(flown, approach.name)),
        )
    return (*route_points[:-1], route_point, route_points[-1]), (*connections[:-1], arrival, connection)


def _add_note(point: ProcedurePoint, note: str) -> ProcedurePoint:
    return replace(point, note="; ".join(filter(None, (point.note, note))))


def _last_shared_point(points: Sequence[ProcedurePoint], approach: CodedProcedure) -> int | None:
    """The last point of a STAR at which the approach can be joined."""
    there = procedure_places(approach)
    indices = range(len(points) - 1, -1, -1)
    return next((i for i in indices if any(same_place(points[i].place, place) for place in there)), None)


def _is_field(point: ProcedurePoint) -> bool:
    return point.place is not None and point.place.kind in FIELDS


def _excuse_gap_before(flown: FlownProcedure, name: str, coded: ProcedureLeg | None = None) -> FlownProcedure:
    """Make a gap of what lies between the route and an approach that begins elsewhere: it is nobody's mistake."""
    if flown.joined or not flown.legs:
        return flown
    if coded and coded.gap:
        gap = replace(flown.legs[0], gap=coded.gap, is_open_by_design=coded.is_open_by_design)
    else:
        why = f"how {flown.points[0].name} leads to {name} is not said"
        gap = replace(flown.legs[0], gap=why, is_open_by_design=True)
    legs = (gap, *flown.legs[1:])
    faults = tuple(fault for fault in flown.faults if not isinstance(fault, NotJoined))
    not_joined = [describe_not_joined(fault) for fault in flown.faults if isinstance(fault, NotJoined)]
    return replace(flown, legs=legs, remarks=(*flown.remarks, *not_joined), faults=faults)
