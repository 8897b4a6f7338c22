"""Check same-name."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import UNKNOWN, Limit, Limits, check, exceeds
from routecheck.checks.sight import points_of_stops, spans_of_stop
from routecheck.earth import geo
from routecheck.model import Fact, Finding, NotChecked, Weight
from routecheck.wording import course, listing, nm

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import LostChoice, Place, Route, Stop

PLAUSIBLE_NM = Limit("plausible_nm", 150.0, "NM", why="a second place that lengthens the route by less is plausible")
PLAUSIBLE_SHARE = Limit("plausible_share", 0.3, "of the route", why="or one that lengthens it by a smaller share")
APART_NM = Limit("apart_nm", 5.0, "NM", why="places nearer than this to the chosen one make no difference")


@check(
    "same-name",
    Weight.DOUBTFUL,
    limits=[PLAUSIBLE_NM, PLAUSIBLE_SHARE, APART_NM],
    citations=["designators", "same-name-reports"],
    yields_to=UNKNOWN,
    fires=["LENDU DCT UVAGI DCT «TOVIK» DCT SARNO"],
    clean=["LENDU DCT PIKAR UM12 TOVIK", "LENDU DCT UVAGI DCT SARNO"],
)
def same_name(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    """Several places carry the name, and another one than the one taken is plausible, or nearer to the point before.

    The place taken is the one that makes the whole route shortest. Where an airway fixes the choice, or the others lie
    far off, nothing is said and the others are shown on request.
    Known false alarms: a navaid and a fix of one name near each other, both meant for the same turn.
    Source: ICAO Annex 11 Appendix 2 (names are meant to be unique); public reports of a wrong point of the same name.
    """
    length = route.totals.distance_nm
    stops = route.resolved.stops
    for index, stop in enumerate(stops):
        if stop.place is None or not stop.others:
            continue
        rivals = [o for o in stop.others if _apart(o.place, stop.place) > limit[APART_NM]]
        before = next((s.place for s in reversed(stops[:index]) if s.place), None)
        room = max(limit[PLAUSIBLE_NM], limit[PLAUSIBLE_SHARE] * length)
        plausible = [o for o in rivals if o.longer_nm is not None and not exceeds(o.longer_nm, room)]
        nearer = [o for o in rivals if o.longer_nm is not None and before and _nearer(before, o.place, stop.place)]
        if plausible or nearer:
            yield _finding(route, index, stop, stop.place, before, rivals)


def _apart(a: Place, b: Place) -> float:
    return geo.rough_nm(a.lat, a.lon, b.lat, b.lon)


def _nearer(before: Place, other: Place, taken: Place) -> bool:
    return _apart(before, other) < _apart(before, taken)


def _finding(
    route: Route, index: int, stop: Stop, taken: Place, before: Place | None, rivals: list[LostChoice]
) -> Finding:
    count = {1: "Two", 2: "Three", 3: "Four"}.get(len(rivals), f"{len(rivals) + 1}")
    here = f", {_from(before, taken)}" if before else ""
    others = listing([_told(o, before) for o in rivals[:3]])
    message = f"{count} places are called {stop.text}. Taken: the {taken.kind}{here}. Not taken: {others}."
    facts = [Fact(f"{o.place.kind} {o.place.region} longer".replace("  ", " "), _longer(o), "NM") for o in rivals]
    return Finding(
        spans_of_stop(route, stop), message, Weight.DOUBTFUL, tuple(facts), points=points_of_stops(route, index)
    )


def _told(other: LostChoice, before: Place | None) -> str:
    where = _from(before, other.place) if before else ""
    effect = f"{nm(other.longer_nm)} longer" if other.longer_nm is not None else other.reason
    return f"the {other.place.kind} {where} ({effect})".replace("  ", " ")


def _from(before: Place, place: Place) -> str:
    bearing, _, distance = geo.inverse(before.lat, before.lon, place.lat, place.lon)
    return f"{nm(distance)} on {course(bearing, 'T')} from {before.ident}"


def _longer(other: LostChoice) -> float | str:
    return round(other.longer_nm, 1) if other.longer_nm is not None else other.reason
