"""Coded procedures come to paths: which branches a route means, what they share, and how they meet its stops.

What is not fixed on the map is a gap with its cause; nothing is joined that the data does not join.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.earth import geo
from routecheck.model import (
    FIELDS,
    Followed,
    NoSuchProcedure,
    NoSuchRunway,
    NotJoined,
    Place,
    ProcedureLeg,
    ProcedurePath,
    ProcedurePoint,
    RunwayNotServed,
)
from routecheck.procedures import arcs as arcs
from routecheck.procedures.branch_choice import Choice, choose, is_join, name_of
from routecheck.procedures.coded_path import Walk, same_place, walked
from routecheck.procedures.wording import describe_not_joined, runway_ident

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.model import CodedProcedure
    from routecheck.navdata.database import NavDatabase
    from routecheck.procedures.branch_choice import Join


def expand(procedure: CodedProcedure, runway: str | None = None, join: Join | None = None) -> ProcedurePath:
    """The path of a procedure for a runway, left (SID) or joined (STAR, approach) at a point of the route.

    `runway` as typed ("09", "RW27R"), None or "" = not stated: then only what all runway branches share is used, and
    that is said. `join` may be any point of any branch, by ident or by place; None = not known, then no transition is
    used. NAME.TRANSITION and NAME TRANSITION both come here as the join. A transition named after a point in its midst
    is followed to that point. The missed approach is never part of the path. Never raises on what the data says.
    """
    departing = procedure.kind == "SID"
    asked = runway_ident(runway)
    choice = choose(procedure, asked, join)
    _shortest_transition(procedure, choice, join)
    walks = [_cut(walked(procedure, legs), join, departing=departing) for legs in choice.chains(departing=departing)]
    joined = any(walk.joined for walk in walks)
    walk, differ = _shared(walks, departing=departing)
    if join is not None and not joined:
        _say_not_joined(procedure, choice, walk, join)
    inner = _inner_end(procedure, choice, walk, asked, differ=differ)
    outer = None if joined or join is None else _outer_end(procedure, walk, join)
    before, after = (inner, outer) if departing else (outer, inner)
    return ProcedurePath(
        tuple(walk.points),
        tuple(walk.legs),
        before=before,
        after=after,
        joined=joined,
        unused=tuple(choice.said),
        faults=tuple(choice.faults),
    )


def follow(
    database: NavDatabase, airport: str, kind: str, name: str, runway: str | None = None, neighbour: Place | None = None
) -> Followed:
    """A procedure of an airport between its runway (or its reference point) and the neighbouring stop of the route.

    `kind` "SID" leads from the airport to the neighbour, "STAR" and "APPROACH" from the neighbour to the airport.
    """
    procedure = database.procedure(airport, kind, name)
    if procedure is None:
        return Followed(faults=(NoSuchProcedure(),))
    asked = runway_ident(runway)
    known = {one.ident: one for one in database.runways(airport)}
    unknown = bool(asked and known and not any(ident.startswith(asked) for ident in known))
    path = expand(procedure, asked, neighbour)
    if unknown:
        others = (fault for fault in path.faults if not isinstance(fault, RunwayNotServed))
        path = replace(path, faults=(NoSuchRunway(), *others))
    field = known[asked].threshold(airport) if asked in known else procedure.field
    served = not any(isinstance(fault, RunwayNotServed) for fault in path.faults)
    used = asked if asked in known and served else ""
    return _between(path, field, neighbour, used, departing=kind == "SID")


# Branches to one path


def _cut(walk: Walk, join: Join | None, *, departing: bool) -> Walk:
    """Keep what lies between the runway and the join: all of it, where a SID climbs out and back over the join."""
    cut = Walk(walk.points, walk.legs, walk.before, walk.after)
    met = [i for i, p in enumerate(walk.points) if join is not None and is_join(p.name, p.place, join)]
    if not met:
        return cut
    at = met[-1] if departing else met[0]
    if departing:
        cut.points, cut.legs, cut.after = walk.points[: at + 1], walk.legs[:at], None
    else:
        cut.points, cut.legs, cut.before = walk.points[at:], walk.legs[at:], None
    cut.joined = True
    return cut


def _shortest_transition(procedure: CodedProcedure, choice: Choice, join: Join | None) -> None:
    """Of several transitions that have the joining point keep the one with the shortest way to it, and say so."""
    if len(choice.far) < 2:
        return
    departing = procedure.kind == "SID"
    lengths = []
    for branch in choice.far:
        one = replace(choice, far=[branch])
        lengths.append(_length(_cut(walked(procedure, one.chains(departing=departing)[0]), join, departing=departing)))
    if max(lengths) - min(lengths) > 0.1 and join is not None:
        told = choice.far[lengths.index(min(lengths))].ident
        choice.said.append(f"{name_of(join)} lies on {len(lengths)} transitions: {told}, the shortest way, is used")
    choice.far = [choice.far[lengths.index(min(lengths))]]


def _length(walk: Walk) -> float:
    """The length of a path with its gaps as short as can be."""
    total = 0.0
    for start, end, leg in zip(walk.points, walk.points[1:], walk.legs, strict=False):
        if leg.distance_nm is not None:
            total += leg.distance_nm
        elif start.place and end.place:
            total += geo.rough_nm(start.place.lat, start.place.lon, end.place.lat, end.place.lon)
    return total


def _shared(walks: Sequence[Walk], *, departing: bool) -> tuple[Walk, bool]:
    """What several paths have in common, of SIDs the end, of STARs the beginning; and whether they differ beyond."""
    if len(walks) == 1:
        return walks[0], False
    turned = [_turned(walk) if departing else walk for walk in walks]
    first = turned[0]
    most = min(len(walk.points) for walk in turned)
    count = 0
    while count < most and all(_alike(first, walk, count) for walk in turned[1:]):
        count += 1
    points = [_agreed([walk.points[i] for walk in turned]) for i in range(count)]
    whole = all(len(walk.points) == count and walk.after == first.after for walk in turned)
    shared = Walk(points, first.legs[: max(count - 1, 0)], first.before, first.after if whole else None)
    return (_turned(shared) if departing else shared), not whole


def _turned(walk: Walk) -> Walk:
    return Walk(walk.points[::-1], walk.legs[::-1], walk.after, walk.before)


def _alike(one: Walk, other: Walk, index: int) -> bool:
    """Whether two paths have the same point there and come to it the same way from the point before."""
    if not same_place(one.points[index].place, other.points[index].place):
        return False
    if index == 0:
        return True
    a, b = one.legs[index - 1], other.legs[index - 1]
    return a.gap == b.gap and _close(a.distance_nm, b.distance_nm)


def _close(a: float | None, b: float | None) -> bool:
    return a == b or (a is not None and b is not None and abs(a - b) < 1e-6)


def _agreed(points: Sequence[ProcedurePoint]) -> ProcedurePoint:
    """A point of several paths with only what they all say of it."""
    first = points[0]
    return replace(
        first,
        window=first.window if all(p.window == first.window for p in points) else None,
        speed=first.speed if all(p.speed == first.speed for p in points) else None,
        fly_over=all(p.fly_over for p in points),
        note=first.note if all(p.note == first.note for p in points) else "",
    )


# The ends


def _say_not_joined(procedure: CodedProcedure, choice: Choice, walk: Walk, join: Join) -> None:
    """A point on no branch is a fault, unless a coded manual leg leads off there."""
    fault = NotJoined(name_of(join), procedure.name, tuple(branch.ident for branch in procedure.transitions))
    if walk.after if procedure.kind == "SID" else walk.before:
        choice.said.append(describe_not_joined(fault))
    else:
        choice.faults.append(fault)


def _inner_end(
    procedure: CodedProcedure, choice: Choice, walk: Walk, runway: str, *, differ: bool
) -> ProcedureLeg | None:
    """The gap between the path and the runway; None where the path reaches it."""
    departing = procedure.kind == "SID"
    name, coded = procedure.name, walk.before if departing else walk.after
    if not walk.points:
        return walk.after or _open(f"{name} has no part to follow")
    end = walk.points[0] if departing else walk.points[-1]
    if any(isinstance(fault, RunwayNotServed) for fault in choice.faults):
        return _open(f"{name} has no branch for runway {runway}")
    if differ:
        side = "before" if departing else "after"
        return _open(f"the branches of {name} differ {side} {end.name}; no runway says which")
    if coded or (end.place is not None and end.place.kind in FIELDS):
        return coded
    what = ", the missed-approach point" if end.role == "M" else ""
    return _open(f"{name} {'begins' if departing else 'ends'} at {end.name}{what}")


def _outer_end(procedure: CodedProcedure, walk: Walk, join: Join) -> ProcedureLeg:
    """The gap between the path and the route's point."""
    coded = walk.after if procedure.kind == "SID" else walk.before
    return coded or _open(f"{name_of(join)} is on no branch of {procedure.name}")


def _between(
    path: ProcedurePath, field: Place | None, neighbour: Place | None, runway: str, *, departing: bool
) -> Followed:
    """The path with the field at its inner and the neighbour at its outer end, put together from the inside out."""
    points, legs = list(path.points), list(path.legs)
    inner, outer = (path.before, path.after) if departing else (path.after, path.before)
    if not departing:
        points.reverse()
        legs.reverse()
    if field is not None and inner is not None and not (points and same_place(points[0].place, field)):
        points.insert(0, ProcedurePoint(field.ident, field))
        legs[:0] = [inner] if len(points) > 1 else []
    if neighbour is not None:
        _reach(points, legs, neighbour, outer or inner, joined=path.joined, departing=departing)
    if not departing:
        points.reverse()
        legs.reverse()
    return Followed(
        tuple(points), tuple(legs), runway=runway, joined=path.joined, unused=path.unused, faults=path.faults
    )


def _reach(
    points: list[ProcedurePoint],
    legs: list[ProcedureLeg],
    neighbour: Place,
    gap: ProcedureLeg | None,
    *,
    joined: bool,
    departing: bool,
) -> None:
    """Go on from the outermost point to the neighbour: nothing to do where it is that point itself."""
    last = points[-1].place if points else None
    if joined and last is not None and same_place(last, neighbour):
        points[-1] = replace(points[-1], place=neighbour)
        if legs and (last.lat, last.lon) != (neighbour.lat, neighbour.lon):
            legs[-1] = _measured_anew(legs[-1], points[-2].place, neighbour, departing=departing)
        return
    points.append(ProcedurePoint(neighbour.ident, neighbour))
    if joined and last is not None:  # a typed position within a mile of its point
        ends = (last, neighbour) if departing else (neighbour, last)
        legs.append(ProcedureLeg(*arcs.straight(*ends)[:3]))
    elif gap is not None and len(points) > 1:
        legs.append(gap)


def _measured_anew(leg: ProcedureLeg, inner: Place | None, neighbour: Place, *, departing: bool) -> ProcedureLeg:
    """A straight leg to the route's own place of a point that the procedure has a few metres away."""
    if inner is None or leg.distance_nm is None or leg.shape:
        return leg
    line = arcs.straight(*((inner, neighbour) if departing else (neighbour, inner)))
    return replace(leg, distance_nm=line.distance_nm, course_deg=line.course_deg, end_course_deg=line.end_course_deg)


def _open(why: str) -> ProcedureLeg:
    return ProcedureLeg(None, None, None, gap=why)
