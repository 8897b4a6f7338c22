"""The coded legs of the demo region: PD, PE and PF records out of the branches of plan.toml, told there."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from chart import PLAN, Spot, airport_spot, by_name, declination, find, reference, terminal
from columns import line, magnetic_course, tenths

from routecheck.earth import geo

Fields = list[tuple[int, str]]
_KINDS = {"sid": "D", "star": "E", "approach": "F"}
_MEASURED = ("TF", "CF")
_CODES = {"+": "+", "-": "-", "=": " ", ":": "B"}


@dataclass
class Branch:
    """A branch while its legs are written: where it is, and the place its last leg came to."""

    airport: str
    head: Fields
    local: dict[str, Spot]
    names: dict[str, list[Spot]]
    here: Spot | None = None

    def spot(self, ident: str) -> Spot:
        """The place a leg means: a terminal fix, a runway's end, else an enroute place."""
        if ident.startswith("RW"):
            return reference(ident, self.airport)
        return self.local.get(ident) or find(ident, self.names)


def procedure_records() -> list[str]:
    """PD, PE and PF records of every procedure, branch by branch."""
    names = by_name()
    records = []
    for procedure in sorted(PLAN["procedures"], key=lambda one: "approach" in one):
        airport = procedure["at"]
        kind = next(kind for kind in _KINDS if kind in procedure)
        for route_type, transition, text in procedure["branches"]:
            head = [(5, f"P {airport}{airport_spot(airport).region}{_KINDS[kind]}"), (14, procedure[kind]),
                    (20, route_type), (21, transition)]  # fmt: skip
            branch = Branch(airport, head, terminal(airport), names)
            legs = [leg.strip() for leg in text.split(";") if leg.strip()] if ";" in text else chain(text)
            records += [record(branch, leg, i, len(legs)) for i, leg in enumerate(legs)]
    return records


def chain(text: str) -> list[str]:
    """ "SARNO KEBUL+11000" written out as "IF SARNO", "TF KEBUL at=+11000"."""
    words = [re.fullmatch(r"(\w+)(\S*)", word).groups() for word in text.split()]  # type: ignore[union-attr]
    return [
        f"{'TF' if i else 'IF'} {ident}" + (f" at={at} plain" if at else " plain")
        for i, (ident, at) in enumerate(words)
    ]


def record(branch: Branch, text: str, index: int, count: int) -> str:
    """One leg: "CF RESKO at=+5000 by=VAL over" and the like."""
    leg_type, *words = text.split()
    said = dict(word.split("=", 1) for word in words if "=" in word)
    flags = {word for word in words if "=" not in word}
    idents = [word for word in flags if word.isupper()]
    fix = branch.spot(idents[0]) if idents else None
    station = reference(said["by"], branch.airport) if "by" in said else None
    fields = [*branch.head, (27, f"{10 * (index + 1):03d}"), (39, "0"), (48, leg_type), *fix_fields(fix)]
    fields += description(fix, flags, said.get("role", ""), last=index == count - 1)
    fields += [] if index else [(95, "18000")]
    fields += track(branch, leg_type, fix, said, station, plain="plain" in flags)
    fields += limits(said)
    branch.here = end_of(leg_type, fix, said, station)
    return line(*fields)


def end_of(leg_type: str, fix: Spot | None, said: dict[str, str], station: Spot | None) -> Spot | None:
    """Where a leg ends: at its fix, at a distance from it, or at no place."""
    if fix is None or leg_type in ("FM", "FA"):
        return None
    if leg_type != "FC":
        return fix
    assert station is not None
    at = geo.direct(fix.lat, fix.lon, float(said["course"]) + declination(station), float(said["distance"]))
    return Spot("", "", "", *at)


def fix_fields(fix: Spot | None) -> Fields:
    """Ident, region and section of a fix."""
    return [(30, fix.ident), (35, fix.region), (37, fix.section)] if fix else []


def description(fix: Spot | None, flags: set[str], role: str, *, last: bool) -> Fields:
    """Columns 40 to 43: what the fix is, fly-over and end, missed approach, its role."""
    kind = {"D ": "V", "PG": "G", "": " "}.get(fix.section if fix else "", "E")
    over = {(True, True): "B", (True, False): "Y", (False, True): "E"}.get(("over" in flags, last), " ")
    return [(40, f"{kind}{over}{'M' if 'missed' in flags else ' '}{role or ' '}")]


def track(
    branch: Branch, leg_type: str, fix: Spot | None, said: dict[str, str], station: Spot | None, *, plain: bool
) -> Fields:
    """Turn, navaid, arc, course and distance. Courses to and between fixes are computed, headings are said."""
    fields: Fields = [(44, said["turn"])] if "turn" in said else []
    course, distance = said.get("course"), said.get("distance")
    field = airport_spot(branch.airport)
    if leg_type == "RF":
        return fields + radius(branch, fix, said, field)
    if leg_type == "AF":
        return fields + arc(branch, fix, station)
    if leg_type in _MEASURED and branch.here is not None and not plain:
        aligned = declination(station) if station and leg_type == "CF" else field.variation
        leaving, arriving, length = apart(branch.here, fix)
        course = magnetic_course(arriving if leg_type == "CF" else leaving, aligned)
        distance = tenths(length)
    if station is not None:
        fields += navaid(station, fix)
    fields += [(71, course if len(course) == 4 else f"{course}0")] if course else []
    if "time" in said:
        return [*fields, (75, f"T{round(float(said['time']) * 10):03d}")]
    return [*fields, (75, distance if distance.isdecimal() else tenths(float(distance)))] if distance else fields


def navaid(station: Spot, fix: Spot | None) -> Fields:
    """The recommended navaid, and where the fix lies from it."""
    fields = [(51, station.ident), (55, station.region), (79, station.section)]
    if fix is None:
        return fields
    bearing, _, length = apart(station, fix)
    return [*fields, (63, magnetic_course(bearing, declination(station))), (67, tenths(length))]


def radius(branch: Branch, fix: Spot | None, said: dict[str, str], field: Spot) -> Fields:
    """Of an RF leg: its radius and centre, the tangents as courses, its length along the arc."""
    centre = branch.spot(said["about"])
    side = 90 if said["turn"] == "R" else -90
    start, _, _ = apart(centre, branch.here)
    _, end, length = apart(centre, fix)
    swept = (apart(centre, fix)[0] - start) * side / 90 % 360
    return [
        (57, f"{round(length * 1000):06d}"), (63, magnetic_course(start + side, field.variation)),
        (71, magnetic_course(end + side, field.variation)), (75, tenths(length * swept * 3.14159265 / 180)),
        (107, centre.ident), (113, centre.region), (115, centre.section),
    ]  # fmt: skip


def arc(branch: Branch, fix: Spot | None, station: Spot | None) -> Fields:
    """Of an AF leg: where its fix lies from the station, and the radial at which it begins."""
    assert station is not None
    bearing, _, _ = apart(station, branch.here)
    return [*navaid(station, fix), (71, magnetic_course(bearing, declination(station)))]


def limits(said: dict[str, str]) -> Fields:
    """Altitude code and altitudes from "+5000", "=3000", ":12000/9000" or "J3000/1800"; speed; vertical angle."""
    fields: Fields = []
    if "at" in said:
        code, figures = said["at"][0], said["at"][1:].split("/")
        fields += [(83, _CODES.get(code, code)), *zip((85, 90), (f"{int(f):05d}" for f in figures), strict=False)]
    if "kt" in said:
        fields.append((100, f"{int(said['kt']):03d}"))
        fields.append((118, "-"))
    return [*fields, (103, f"{said['path']}")] if "path" in said else fields


def apart(a: Any, b: Any) -> tuple[float, float, float]:
    """Geodesic between two places: courses at both ends and length."""
    return geo.inverse(a.lat, a.lon, b.lat, b.lon)
