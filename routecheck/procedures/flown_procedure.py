"""The path of a coded procedure: along the branches that a route means, from its runway to the route's next point.

What is not fixed on the map is a gap with its cause; nothing is joined that the data does not join.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.earth import geo
from routecheck.model import (
    FIELDS,
    FlownProcedure,
    NoSuchProcedure,
    NoSuchRunway,
    NotJoined,
    Place,
    ProcedureLeg,
    ProcedurePath,
    ProcedurePoint,
    RunwayNotServed,
)
from routecheck.procedures import arcs
from routecheck.procedures.branch_choice import BranchChoice, choose_branches, is_join_point, join_ident
from routecheck.procedures.coded_path import PathBuilder, build_path, same_place
from routecheck.procedures.wording import describe_not_joined, runway_ident

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.model import CodedProcedure
    from routecheck.navdata.database import NavDatabase
    from routecheck.procedures.branch_choice import JoinPoint


def trace_procedure(
    procedure: CodedProcedure, runway: str | None = None, join: JoinPoint | None = None
) -> ProcedurePath:
    """Trace the path of a procedure for a runway, left (SID) or joined (STAR, approach) at a point of the route.

    `runway` is as typed ("09", "RW27R"), None or "" = not stated: then only what all runway branches share is used, and
    a remark says so. `join` is a point of any branch, by ident or by place, as in NAME.TRANSITION; None = not known,
    then no transition is used. A transition named after a point in its midst is followed to that point. The missed
    approach is never part of the path. Never raises on what the data says.
    """
    departing = procedure.kind == "SID"
    asked = runway_ident(runway)
    choice = choose_branches(procedure, asked, join)
    _keep_shortest_transition(procedure, choice, join)
    sequences = choice.leg_sequences(departing=departing)
    paths = [_cut_at_join(build_path(procedure, legs), join, departing=departing) for legs in sequences]
    joined = any(path.joined for path in paths)
    path, differ = _common_part(paths, departing=departing)
    if join is not None and not joined:
        _record_not_joined(procedure, choice, path, join)
    inner = _gap_to_runway(procedure, choice, path, asked, differ=differ)
    outer = None if joined or join is None else _gap_to_route(procedure, path, join)
    before, after = (inner, outer) if departing else (outer, inner)
    return ProcedurePath(
        tuple(path.points),
        tuple(path.legs),
        before=before,
        after=after,
        joined=joined,
        remarks=tuple(choice.remarks),
        faults=tuple(choice.faults),
    )


def fly_procedure(
    database: NavDatabase, airport: str, kind: str, name: str, runway: str | None = None, neighbour: Place | None = None
) -> FlownProcedure:
    """Fly a procedure of an airport between its runway (or its reference point) and the neighbouring route point.

    `kind` "SID" leads from the airport to the neighbour, "STAR" and "APPROACH" from the neighbour to the airport.
    """
    procedure = database.procedure(airport, kind, name)
    if procedure is None:
        return FlownProcedure(faults=(NoSuchProcedure(),))
    asked = runway_ident(runway)
    known = {one.ident: one for one in database.runways(airport)}
    unknown = bool(asked and known and not any(ident.startswith(asked) for ident in known))
    path = trace_procedure(procedure, asked, neighbour)
    if unknown:
        others = (fault for fault in path.faults if not isinstance(fault, RunwayNotServed))
        path = replace(path, faults=(NoSuchRunway(), *others))
    field = known[asked].threshold(airport) if asked in known else procedure.field
    served = not any(isinstance(fault, RunwayNotServed) for fault in path.faults)
    used = asked if asked in known and served else ""
    return _put_between_ends(path, field, neighbour, used, departing=kind == "SID")


# Branches to one path


def _cut_at_join(path: PathBuilder, join: JoinPoint | None, *, departing: bool) -> PathBuilder:
    """Keep what lies between the runway and the join: all of it, where a SID climbs out and back over the join."""
    cut = PathBuilder(path.points, path.legs, path.before, path.after)
    met = [i for i, p in enumerate(path.points) if join is not None and is_join_point(p.name, p.place, join)]
    if not met:
        return cut
    at = met[-1] if departing else met[0]
    if departing:
        cut.points, cut.legs, cut.after = path.points[: at + 1], path.legs[:at], None
    else:
        cut.points, cut.legs, cut.before = path.points[at:], path.legs[at:], None
    cut.joined = True
    return cut


def _keep_shortest_transition(procedure: CodedProcedure, choice: BranchChoice, join: JoinPoint | None) -> None:
    """Of several transitions that have the joining point keep the one with the shortest way to it, and say so."""
    if len(choice.transitions) < 2:
        return
    departing = procedure.kind == "SID"
    lengths = []
    for branch in choice.transitions:
        legs = replace(choice, transitions=[branch]).leg_sequences(departing=departing)[0]
        lengths.append(_least_length_nm(_cut_at_join(build_path(procedure, legs), join, departing=departing)))
    shortest = choice.transitions[lengths.index(min(lengths))]
    if max(lengths) - min(lengths) > 0.1 and join is not None:
        choice.remarks.append(
            f"{join_ident(join)} lies on {len(lengths)} transitions: {shortest.ident}, the shortest way, is used"
        )
    choice.transitions = [shortest]


def _least_length_nm(path: PathBuilder) -> float:
    """The length of a path with its gaps as short as can be."""
    total = 0.0
    for start, end, leg in zip(path.points, path.points[1:], path.legs, strict=False):
        if leg.distance_nm is not None:
            total += leg.distance_nm
        elif start.place and end.place:
            total += geo.rough_nm(start.place.lat, start.place.lon, end.place.lat, end.place.lon)
    return total


def _common_part(paths: Sequence[PathBuilder], *, departing: bool) -> tuple[PathBuilder, bool]:
    """Find what paths have in common: of SIDs the end, of STARs the beginning. Say whether they differ beyond."""
    if len(paths) == 1:
        return paths[0], False
    turned = [_reverse(path) if departing else path for path in paths]
    first = turned[0]
    most = min(len(path.points) for path in turned)
    count = 0
    while count < most and all(_has_same_step(first, path, count) for path in turned[1:]):
        count += 1
    points = [_agreed_point([path.points[i] for path in turned]) for i in range(count)]
    whole = all(len(path.points) == count and path.after == first.after for path in turned)
    shared = PathBuilder(points, first.legs[: max(count - 1, 0)], first.before, first.after if whole else None)
    return (_reverse(shared) if departing else shared), not whole


def _reverse(path: PathBuilder) -> PathBuilder:
    return PathBuilder(path.points[::-1], path.legs[::-1], path.after, path.before)


def _has_same_step(one: PathBuilder, other: PathBuilder, index: int) -> bool:
    """Whether two paths have the same point there and come to it the same way from the point before."""
    if not same_place(one.points[index].place, other.points[index].place):
        return False
    if index == 0:
        return True
    a, b = one.legs[index - 1], other.legs[index - 1]
    return a.gap == b.gap and _about_equal(a.distance_nm, b.distance_nm)


def _about_equal(a: float | None, b: float | None) -> bool:
    return a == b or (a is not None and b is not None and abs(a - b) < 1e-6)


def _agreed_point(points: Sequence[ProcedurePoint]) -> ProcedurePoint:
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


def _record_not_joined(procedure: CodedProcedure, choice: BranchChoice, path: PathBuilder, join: JoinPoint) -> None:
    """Record that the joining point is on no branch: as a fault, unless a coded manual leg leads off there."""
    fault = NotJoined(join_ident(join), procedure.name, tuple(branch.ident for branch in procedure.transitions))
    if path.after if procedure.kind == "SID" else path.before:
        choice.remarks.append(describe_not_joined(fault))
    else:
        choice.faults.append(fault)


def _gap_to_runway(
    procedure: CodedProcedure, choice: BranchChoice, path: PathBuilder, runway: str, *, differ: bool
) -> ProcedureLeg | None:
    """The gap between the path and the runway; None where the path reaches it."""
    departing = procedure.kind == "SID"
    name, coded = procedure.name, path.before if departing else path.after
    if not path.points:
        return path.after or _gap(f"{name} has no part to follow")
    end = path.points[0] if departing else path.points[-1]
    if any(isinstance(fault, RunwayNotServed) for fault in choice.faults):
        return _gap(f"{name} has no branch for runway {runway}")
    if differ:
        side = "before" if departing else "after"
        return _gap(f"the branches of {name} differ {side} {end.name} and no runway says which")
    if coded or (end.place is not None and end.place.kind in FIELDS):
        return coded
    what = ", the missed-approach point" if end.role == "M" else ""
    return _gap(f"{name} {'begins' if departing else 'ends'} at {end.name}{what}", is_open_by_design=True)


def _gap_to_route(procedure: CodedProcedure, path: PathBuilder, join: JoinPoint) -> ProcedureLeg:
    """The gap between the path and the route's point."""
    coded = path.after if procedure.kind == "SID" else path.before
    return coded or _gap(f"{join_ident(join)} is on no branch of {procedure.name}")


def _put_between_ends(
    path: ProcedurePath, field: Place | None, neighbour: Place | None, runway: str, *, departing: bool
) -> FlownProcedure:
    """Put the path between the field, at its inner end, and the neighbour, working from the inside out."""
    points, legs = list(path.points), list(path.legs)
    inner, outer = (path.before, path.after) if departing else (path.after, path.before)
    if not departing:
        points.reverse()
        legs.reverse()
    if field is not None and inner is not None and not (points and same_place(points[0].place, field)):
        points.insert(0, ProcedurePoint(field.ident, field))
        legs[:0] = [inner] if len(points) > 1 else []
    if neighbour is not None:
        _extend_to_neighbour(points, legs, neighbour, outer or inner, joined=path.joined, departing=departing)
    if not departing:
        points.reverse()
        legs.reverse()
    return FlownProcedure(
        tuple(points), tuple(legs), runway=runway, joined=path.joined, remarks=path.remarks, faults=path.faults
    )


def _extend_to_neighbour(
    points: list[ProcedurePoint],
    legs: list[ProcedureLeg],
    neighbour: Place,
    gap: ProcedureLeg | None,
    *,
    joined: bool,
    departing: bool,
) -> None:
    """Extend the path from its outermost point to the neighbour, unless the two are one."""
    last = points[-1].place if points else None
    if joined and last is not None and same_place(last, neighbour):
        points[-1] = replace(points[-1], place=neighbour)
        if legs and (last.lat, last.lon) != (neighbour.lat, neighbour.lon):
            legs[-1] = _remeasure(legs[-1], points[-2].place, neighbour, departing=departing)
        return
    points.append(ProcedurePoint(neighbour.ident, neighbour))
    if joined and last is not None:  # a typed position within a mile of its point
        ends = (last, neighbour) if departing else (neighbour, last)
        legs.append(ProcedureLeg(*arcs.straight_line(*ends)[:3]))
    elif gap is not None and len(points) > 1:
        legs.append(gap)


def _remeasure(leg: ProcedureLeg, inner: Place | None, neighbour: Place, *, departing: bool) -> ProcedureLeg:
    """Measure a straight leg again to the route's own place of a point that the procedure has some metres away."""
    if inner is None or leg.distance_nm is None or leg.shape:
        return leg
    line = arcs.straight_line(*((inner, neighbour) if departing else (neighbour, inner)))
    return replace(leg, distance_nm=line.distance_nm, course_deg=line.course_deg, end_course_deg=line.end_course_deg)


def _gap(why: str, *, is_open_by_design: bool = False) -> ProcedureLeg:
    return ProcedureLeg(None, None, None, gap=why, is_open_by_design=is_open_by_design)
