"""Every SID and STAR combination of a library with its windows, flown with Aircraft sheets. No tests here.

A combination is one transition, one common part and one runway branch, as many of them as the procedure has.
`python tests/descend_via.py FILE…` lists every procedure that conflicts with a shipped sheet, with its coded legs.
"""

import itertools
import math
import sys
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import NamedTuple

from routecheck.model import FIELDS, AircraftSheet, CodedLeg, CodedProcedure, ProcedurePath
from routecheck.navdata.database import NavDatabase, load_navdata
from routecheck.procedures.flown_procedure import trace_procedure
from routecheck.settings.sheets import shipped_sheets
from routecheck.vertical.room import UNBOUNDED, Bounds, Gradients, WindowPair, find_room, is_upside_down, steep_pairs

KINDS = ("STAR", "SID")


@dataclass(frozen=True)
class Combination:
    """One way through a procedure, expanded: what the room is reckoned from, and where it comes from."""

    kind: str
    airport: str
    name: str
    branches: tuple[str, ...]
    """Idents in the order of flight, "" for a common part without one."""
    path: ProcedurePath
    lengths: tuple[float | None, ...]
    windows: tuple[Bounds, ...]
    """Of the points, the field's elevation where the path reaches it."""

    @property
    def procedure(self) -> str:
        """Airport and name."""
        return f"{self.airport} {self.name}"

    @property
    def runway(self) -> str:
        """The runways it is for as coded: "35R", "04B"; "" = all."""
        return next((ident.removeprefix("RW") for ident in self.branches if ident.startswith("RW")), "")

    @property
    def points(self) -> tuple[str, ...]:
        """The idents."""
        return tuple(point.name for point in self.path.points)

    @property
    def coded(self) -> tuple[CodedLeg, ...]:
        """The legs of the data between the first point and the last."""
        return tuple(leg for way in self.path.legs for leg in way.coded)

    def conflicts(self, gradients: Gradients) -> tuple[WindowPair, ...]:
        """The pairs of windows that leave no room."""
        return find_room(self.lengths, self.windows, gradients).conflicts

    def needed_ft_nm(self, *, climbs: bool) -> float:
        """The greatest climb or descent that two of its windows ask for; 0 where none do."""
        found = steep_pairs(self.lengths, self.windows, 1.0)
        return max((pair.needed_ft_nm for pair in found if pair.climbs is climbs), default=0.0)


def combinations(database: NavDatabase, kind: str) -> Iterator[Combination]:
    """Every combination that has two windows or more; a room takes two to be empty.

    Legs without a fixed end are gaps of the path, where any height is possible again; so it is where a SID begins at a
    fix, for nothing leads there. An elevation counts only where the path itself reaches its runway or its airport.
    """
    for airport in sorted(database.records.blocks):
        for name in database.procedure_names(airport, kind):
            procedure = database.procedure(airport, kind, name)
            assert procedure is not None
            yield from (one for one in of_procedure(procedure) if sum(w != UNBOUNDED for w in one.windows) > 1)


def of_procedure(procedure: CodedProcedure) -> Iterator[Combination]:
    """Every combination of a procedure in whose legs a window is coded."""
    departing = procedure.kind == "SID"
    parts = (procedure.runways, procedure.common, procedure.transitions)
    for chosen in itertools.product(*(part or (None,) for part in parts)):
        branches = tuple(branch for branch in (chosen if departing else chosen[::-1]) if branch)
        if not any(leg.window for branch in branches for leg in branch.legs):
            continue
        outer = branches[-1].legs[-1] if departing else branches[0].legs[0]
        joins = outer.fix_ident if chosen[2] else None
        path = trace_procedure(replace(procedure, branches=branches), None, joins or None)
        yield _combination(procedure, tuple(branch.ident for branch in branches), path)


def _combination(procedure: CodedProcedure, branches: tuple[str, ...], path: ProcedurePath) -> Combination:
    windows = [(p.window.low_ft, p.window.high_ft) if p.window else UNBOUNDED for p in path.points]
    departing = procedure.kind == "SID"
    end = 0 if departing else len(windows) - 1
    if windows and not (path.before if departing else path.after):
        place = path.points[end].place
        if place and place.kind in FIELDS and place.elevation_ft is not None:
            windows[end] = (place.elevation_ft, place.elevation_ft)
    lengths = tuple(leg.distance_nm for leg in path.legs)
    return Combination(procedure.kind, procedure.airport, procedure.name, branches, path, lengths, tuple(windows))


def worst(one: Combination) -> WindowPair | None:
    """The pair of windows that asks for most; None where none asks for anything."""
    return max(steep_pairs(one.lengths, one.windows, 1.0), key=lambda pair: pair.needed_ft_nm, default=None)


# ---- who may fly it


def barred(combination: Combination, sheet: AircraftSheet) -> str:
    """Why a procedure is not for a class of aircraft; "" where it is.

    The country file codes no aircraft category with SIDs and STARs (columns 119 to 123 are blank throughout, and the
    route types tell conventional from RNAV only), so that only what is coded of heights and speeds bars a sheet: a
    window above its ceiling, or a least speed above its airspeed. A greatest speed bars nobody.
    """
    lows = [low for low, _ in combination.windows if low is not None]
    if sheet.ceiling_ft is not None and max(lows, default=-math.inf) > sheet.ceiling_ft:
        return f"a window at {max(lows):,.0f} ft is above its ceiling"
    flown = sheet.climb_cas_kt if combination.kind == "SID" else sheet.descent_cas_kt
    least = max((p.speed.least_kt or 0.0 for p in combination.path.points if p.speed), default=0.0)
    return f"a least speed of {least:.0f} kt is above its own" if flown is not None and least > flown else ""


def gradients_of(sheet: AircraftSheet) -> Gradients:
    """The greatest gradients of a sheet that has both."""
    assert sheet.greatest_climb_ft_nm is not None
    assert sheet.greatest_descent_ft_nm is not None
    return Gradients(sheet.greatest_climb_ft_nm, sheet.greatest_descent_ft_nm)


class Flown(NamedTuple):
    """What came of all combinations of a kind, flown at given gradients."""

    combinations: int
    empty: int
    names: int
    names_empty: tuple[str, ...]
    """A name counts once, wherever it is used: STAR names are shared by airports."""

    @property
    def share(self) -> float:
        """Of combinations, in percent."""
        return 100.0 * self.empty / self.combinations if self.combinations else math.nan

    @property
    def names_share(self) -> float:
        """Of names, in percent."""
        return 100.0 * len(self.names_empty) / self.names if self.names else math.nan


def flown(cases: Iterable[Combination], gradients: Gradients) -> Flown:
    """How many of them have an empty room."""
    number, empty, names, bad = 0, 0, set(), set()
    for one in cases:
        number += 1
        names.add(one.name)
        if one.conflicts(gradients):
            empty += 1
            bad.add(one.name)
    return Flown(number, empty, len(names), tuple(sorted(bad)))


# ---- to be read


def told(one: Combination, pair: WindowPair) -> str:
    """A conflict in a line: "KXYZ STAR NAME1 TOVIK/ALL/RW09: ABCDE 11,000 then FGHIJ 6,000 ft, 8.0 NM, 625 ft/NM"."""
    first, last = one.points[pair.first], one.points[pair.last]
    return (
        f"{one.airport} {one.kind} {one.name} {'/'.join(one.branches)}: {first} {pair.first_ft:,.0f} then {last} "
        f"{pair.last_ft:,.0f} ft, {pair.distance_nm:.1f} NM, {pair.needed_ft_nm:.0f} ft/NM"
    )


def as_coded(leg: CodedLeg) -> str:
    """A coded leg in a few words."""
    window = "" if leg.window is None else f" {leg.window.low_ft} {leg.window.high_ft}"
    figures = (leg.course_deg, leg.distance_nm, leg.speed.kt if leg.speed else None)
    return f"{leg.type} {leg.fix_ident}{window} (course, NM, kt: {figures})"


def _listed(database: NavDatabase) -> Iterator[str]:
    for kind in KINDS:
        cases = list(combinations(database, kind))
        yield f"{kind}: {len(cases):,} combinations with two windows, {len({c.name for c in cases})} names"
        yield f"  upside down: {[c.procedure for c in cases if any(map(is_upside_down, c.windows))]}"
        for sheet in shipped_sheets():
            own = [one for one in cases if not barred(one, sheet)]
            found = flown(own, gradients_of(sheet))
            yield f"  {sheet.name}: {found.combinations:,} flown, {found.empty} empty, names {found.names_empty}"
            for one in own:
                for pair in one.conflicts(gradients_of(sheet)):
                    yield f"    {told(one, pair)}"
                    yield from (f"        {as_coded(leg)}" for leg in one.coded)


if __name__ == "__main__":
    for line in _listed(load_navdata(sys.argv[1:])):
        sys.stdout.write(line + "\n")
