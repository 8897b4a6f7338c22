"""Check off-airway."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import Family, Limit, Limits, Measured, check, exceeds
from routecheck.checks.cycle import judge_by_cycle
from routecheck.checks.route_queries import path_points, spans_of_words
from routecheck.citations import OWN_CHOICE
from routecheck.formatting import nm
from routecheck.model import BothEndsOffAirway, Fact, Finding, NotChecked, OffAirway, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Connection, Route, RoutePoint

AHEAD = Limit(
    "ahead_deg",
    60.0,
    "°",
    OWN_CHOICE,
    highest=180.0,
    why="turn from the last stretch of the airway to the point beyond",
)
RADIAL = Limit(
    "radial_nm", 3.0, "NM", OWN_CHOICE, why="of 1,079 radials on published routes all but one have an end nearer"
)
FURTHER = Limit("further_nm", 300.0, "NM", OWN_CHOICE, why="how far beyond the end the point may lie")


@check(
    "off-airway",
    Weight.WRONG,
    family=Family.AIRWAYS,
    sentence="The point at which an airway is entered or left is not on that airway.",
    explanation=(
        "A point within 1 NM of the airway's line counts as on it, whether it is coded there or not. Doubtful where "
        "the point lies ahead, beyond the end that the data gives the airway, which may have been shortened or "
        "extended: so on 2.3 % of 5,025 published U.S. routes (FAA preferred routes, January 2023). Not checked where "
        "the airway leaves the loaded data, as at a border. The stretch stays open: where it would run is not known, "
        "so it has no length. A Note where the data is not for the day of the route. A radial on which neither end of "
        "its stretch lies is Doubtful: the stretch cannot be flown on it."
    ),
    false_alarms="a point added to the airway after the data was made.",
    measured=Measured(doubtful=0.02),
    limits=[AHEAD, FURTHER, RADIAL],
    citations=["arinc-424"],
    applies_to=preconditions.has_faults_or_radials,
    flagged=["LENDU DCT «PIKOR» UM12 TOVIK", "LENDU UM12 «PIKOR» DCT SARNO", "«LENDU» «KEL180» «UVAGI»"],
    quiet=["LENDU UM12 TOVIK", "LENDU DCT PIKAR UM12 TOVIK DCT SARNO", "LENDU KEL180 KEL"],
)
def off_airway(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    route_points = route.resolved.route_points
    for index, connection in enumerate(route.resolved.connections):
        start, end = route_points[index], route_points[index + 1]
        if isinstance(connection.fault, OffAirway):
            off, number = (start, index) if connection.fault.at_entry else (end, index + 1)
            found = _one_end_off(route, connection, connection.fault, off, path_points(route, number), limit)
            yield judge_by_cycle(route, found) if isinstance(found, Finding) else found
        elif isinstance(connection.fault, BothEndsOffAirway):
            message = f"Neither {start.text} nor {end.text} is on {connection.name}."
            spans = spans_of_words(route, start.word, end.word, *connection.words)
            points = path_points(route, index, index + 1)
            yield judge_by_cycle(route, Finding(spans, message, Weight.WRONG, points=points))
        elif connection.off_radial_nm is not None and exceeds(connection.off_radial_nm, limit[RADIAL]):
            yield _off_radial(route, connection, index, connection.off_radial_nm)


def _off_radial(route: Route, connection: Connection, index: int, off_nm: float) -> Finding:
    start, end = route.resolved.route_points[index : index + 2]
    message = (
        f"Neither {start.text} nor {end.text} lies on radial {connection.name}: the nearer is {nm(off_nm)} off it."
    )
    spans = spans_of_words(route, start.word, end.word, *connection.words)
    points = path_points(route, index, index + 1)
    return Finding(spans, message, Weight.DOUBTFUL, (Fact("off the radial", round(off_nm, 1), "NM"),), points=points)


def _one_end_off(
    route: Route, connection: Connection, fault: OffAirway, off: RoutePoint, points: tuple[int, ...], limit: Limits
) -> Finding | NotChecked:
    spans = spans_of_words(route, off.word if off.word is not None else connection.words[0])
    airway = connection.name
    if exceeds(fault.beyond_turn_deg, limit[AHEAD]) or exceeds(fault.beyond_nm, limit[FURTHER]):
        message = (
            f"{off.text} is not on {airway}: the nearest point of that airway is {fault.nearest}, "
            f"{nm(fault.nearest_nm)} away."
        )
        facts = (
            Fact(f"nearest point of {airway}", fault.nearest),
            Fact("distance to it", round(fault.nearest_nm, 1), "NM"),
        )
        return Finding(spans, message, Weight.WRONG, facts, points=points)
    if fault.leaves_data:
        return NotChecked(spans, f"{airway} leaves the loaded data at {fault.piece_end}, short of {off.text}")
    message = (
        f"{off.text} is not on {airway}, which ends {nm(fault.beyond_nm)} short of it at {fault.piece_end}: "
        "has the airway changed?"
    )
    facts = (Fact(f"end of {airway}", fault.piece_end), Fact("short by", round(fault.beyond_nm, 1), "NM"))
    return Finding(spans, message, Weight.DOUBTFUL, facts, points=points)
