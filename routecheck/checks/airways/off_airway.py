"""Check off-airway."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import UNREAD, Limit, Limits, check, exceeds
from routecheck.checks.route_queries import points_of_stops, spans_of_words
from routecheck.formatting import nm
from routecheck.model import ConnectionFault, Fact, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Connection, Route, RoutePoint

AHEAD = Limit("ahead_deg", 60.0, "°", highest=180.0, why="turn from the last stretch of the airway to the point beyond")
RADIAL = Limit("radial_nm", 3.0, "NM", why="of 1,079 radials flown on published routes all but one have an end nearer")
FURTHER = Limit("further_nm", 300.0, "NM", why="how far beyond the end the point may lie")


@check(
    "off-airway",
    Weight.WRONG,
    limits=[AHEAD, FURTHER, RADIAL],
    citations=["arinc-424"],
    yields_to=UNREAD,
    where=preconditions.links_noted,
    fires=["LENDU DCT «PIKOR» UM12 TOVIK", "LENDU UM12 «PIKOR» DCT SARNO", "«LENDU» «KEL180» «UVAGI»"],
    clean=["LENDU UM12 TOVIK", "LENDU DCT PIKAR UM12 TOVIK DCT SARNO", "LENDU KEL180 KEL"],
)
def off_airway(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    """The point at which an airway is entered or left is not on that airway.

    A point within 1 NM of the airway's line counts as on it, whether it is coded there or not. Doubtful where the point
    lies ahead beyond the end that the data gives the airway, which may have been shortened or extended: 1.8 % of real
    published routes do that. Not checked where the airway leaves the loaded data, as at a border. The stretch stays
    open: where it would run is not known, so no length is given.
    A radial that neither end of its stretch lies on is Doubtful: it cannot be how the stretch is flown.
    Known false alarms: a point added to the airway after the data was made.
    """
    stops = route.resolved.stops
    for index, link in enumerate(route.resolved.links):
        if link.trouble is None and not link.detail:
            continue
        start, end = stops[index], stops[index + 1]
        if link.trouble in (ConnectionFault.OFF_ENTRY, ConnectionFault.OFF_EXIT):
            off, place = (start, index) if link.trouble is ConnectionFault.OFF_ENTRY else (end, index + 1)
            yield _one(route, link, off, place, limit)
        elif link.trouble is ConnectionFault.OFF_BOTH:
            message = f"Neither {start.text} nor {end.text} is on {link.airway}."
            spans = spans_of_words(route, start.word, end.word, *link.words)
            yield Finding(spans, message, Weight.WRONG, points=points_of_stops(route, index, index + 1))
        elif exceeds(float(link.detail.get("off_nm", 0.0)), limit[RADIAL]):
            yield _off_radial(route, link, index, _number(link, "off_nm"))


def _off_radial(route: Route, link: Connection, index: int, off_nm: float) -> Finding:
    start, end = route.resolved.stops[index : index + 2]
    message = f"Neither {start.text} nor {end.text} lies on radial {link.airway}: the nearer is {nm(off_nm)} off it."
    spans = spans_of_words(route, start.word, end.word, *link.words)
    points = points_of_stops(route, index, index + 1)
    return Finding(spans, message, Weight.DOUBTFUL, (Fact("off the radial", round(off_nm, 1), "NM"),), points=points)


def _one(route: Route, link: Connection, off: RoutePoint, index: int, limit: Limits) -> Finding | NotChecked:
    spans = spans_of_words(route, off.word if off.word is not None else link.words[0])
    points = points_of_stops(route, index)
    further, turn = (_number(link, key) for key in ("beyond_nm", "beyond_turn_deg"))
    ahead = not exceeds(turn, limit[AHEAD]) and not exceeds(further, limit[FURTHER])
    if ahead and link.detail.get("edge"):
        return NotChecked(spans, f"{link.airway} leaves the loaded data at {link.detail['edge']}, short of {off.text}")
    if ahead:
        message = (
            f"{off.text} is not on {link.airway}, which ends {nm(further)} short of it at {link.detail['end']}: "
            "has the airway changed?"
        )
        facts = (Fact(f"end of {link.airway}", str(link.detail["end"])), Fact("short by", round(further, 1), "NM"))
        return Finding(spans, message, Weight.DOUBTFUL, facts, points=points)
    nearest, distance = link.detail["nearest"], _number(link, "nearest_nm")
    message = f"{off.text} is not on {link.airway}: the nearest point of that airway is {nearest}, {nm(distance)} away."
    facts = (Fact(f"nearest point of {link.airway}", str(nearest)), Fact("distance to it", round(distance, 1), "NM"))
    return Finding(spans, message, Weight.WRONG, facts, points=points)


def _number(link: Connection, key: str) -> float:
    return float(link.detail[key])
