"""Figures that coded legs state against those computed from their fixes, over a whole library. No tests here.

By rules found on the U.S. FAA CIFP, cycle 2301: a TF course by the airport's variation where the leg begins, a CF
course by the navaid's declination where it arrives, an RF leg by its centre, an AF leg by its navaid.
`python tests/coded_figures.py FILE…` lists every figure that is further off than its limit.
"""

import math
import sys
from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from routecheck.earth import geo
from routecheck.model import CodedLeg, CodedProcedure, LegType, Place, PlaceKind, ProcedurePoint
from routecheck.navdata.database import NavDatabase, load_navdata
from routecheck.procedures.coded_path import build_path

KINDS = ("SID", "STAR", "APPROACH")
LIMITS = {
    "TF course": 0.5,
    "TF distance": 0.1,
    "CF course": 0.5,
    "CF distance": 0.1,
    "RF radius": 0.1,
    "RF length": 0.1,
    "AF radius": 0.1,
    "AF radius at its start": 0.1,
    "AF radial": 0.5,
}


class Figure(NamedTuple):
    """How far a coded figure lies off the computed one: degrees or NM."""

    what: str
    off: float
    airport: str
    kind: str
    name: str
    branch: str
    start: str
    fix: str

    @property
    def procedure(self) -> str:
        """Airport and name."""
        return f"{self.airport} {self.name}"


def procedures(database: NavDatabase) -> Iterator[CodedProcedure]:
    """Every coded procedure."""
    for airport in sorted(database.records.blocks):
        for kind in KINDS:
            for name in database.procedure_names(airport, kind):
                found = database.procedure(airport, kind, name)
                assert found is not None
                yield found


def figures(database: NavDatabase) -> list[Figure]:
    """Every coded figure between two coded fixes that can be computed again, missed approaches included."""
    found = []
    for procedure in procedures(database):
        for branch in procedure.branches:
            walk = build_path(procedure, branch.legs)
            for (start, end), way in zip(pairwise(walk.points), walk.legs, strict=True):
                if len(way.coded) == 1 and start.place and end.place and start.place.kind is not PlaceKind.COMPUTED:
                    where = (procedure.airport, procedure.kind, procedure.name, branch.ident, start.name, end.name)
                    offs = _compared(way.coded[0], start.place, end, walk.alignment_deg(way.coded[0]), way.distance_nm)
                    found += [Figure(what, off, *where) for what, off in offs]
    return found


def _compared(
    leg: CodedLeg, start: Place, end: ProcedurePoint, alignment: float | None, length: float | None
) -> Iterator[tuple[str, float]]:
    assert end.place is not None
    if leg.type in (LegType.TRACK_TO_FIX, LegType.COURSE_TO_FIX):
        course, end_course, distance = geo.inverse(start.lat, start.lon, end.place.lat, end.place.lon)
        if leg.course_deg is not None and alignment is not None:
            here = course if leg.type is LegType.TRACK_TO_FIX else end_course
            yield f"{leg.type} course", geo.wrap180(leg.course_deg + alignment - here)
        if leg.distance_nm is not None:
            yield f"{leg.type} distance", leg.distance_nm - distance
    if leg.type is LegType.RADIUS_TO_FIX and leg.centre and leg.radius_nm is not None:
        yield "RF radius", max((leg.radius_nm - _polar(leg.centre, one)[1] for one in (start, end.place)), key=abs)
        if leg.distance_nm is not None and length is not None:
            yield "RF length", leg.distance_nm - length
    if leg.type is LegType.ARC_TO_FIX and leg.navaid and alignment is not None:
        yield from _arc(leg, leg.navaid, start, end.place, alignment)


def _arc(leg: CodedLeg, centre: Place, start: Place, end: Place, alignment: float) -> Iterator[tuple[str, float]]:
    radial, radius = _polar(centre, end)
    if leg.rho_nm is not None:
        yield "AF radius", leg.rho_nm - radius
        yield "AF radius at its start", leg.rho_nm - _polar(centre, start)[1]
    if leg.theta_deg is not None:
        yield "AF radial", geo.wrap180(leg.theta_deg + alignment - radial)


def _polar(centre: Place, place: Place) -> tuple[float, float]:
    bearing, _, distance = geo.inverse(centre.lat, centre.lon, place.lat, place.lon)
    return bearing, distance


def share(found: list[Figure], what: str) -> tuple[int, float]:
    """How many figures of a kind there are, and which share of them is within the limit."""
    offs = [abs(figure.off) for figure in found if figure.what == what]
    return len(offs), sum(off <= LIMITS[what] for off in offs) / len(offs) if offs else math.nan


def beyond(found: list[Figure], what: str, limit: float) -> dict[str, float]:
    """By procedure the largest of the figures of a kind that are further off than a limit, to one decimal."""
    largest: dict[str, float] = {}
    for figure in found:
        if figure.what == what and abs(figure.off) > limit:
            largest[figure.procedure] = max(largest.get(figure.procedure, 0.0), round(abs(figure.off), 1))
    return dict(sorted(largest.items()))


if __name__ == "__main__":
    everything = figures(load_navdata(sys.argv[1:]))
    for kind_of_figure, allowed in LIMITS.items():
        number, within = share(everything, kind_of_figure)
        sys.stdout.write(f"{kind_of_figure}: {number:,}, {within:.2%} within {allowed}\n")
        for one in everything:
            if one.what == kind_of_figure and abs(one.off) > allowed:
                sys.stdout.write(f"    {one.off:+8.2f}  {one.procedure:<12} {one.branch:<6} {one.start} {one.fix}\n")
