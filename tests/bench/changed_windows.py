"""One altitude window changed on a published procedure, put to the checks of heights. No tests here."""

import datetime as dt
import random
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

from descend_via import Combination

from routecheck.checks.catalogue import Check, collect
from routecheck.checks.runner import run_checks
from routecheck.earth import geo
from routecheck.geometry.legs import compute_routes
from routecheck.model import AircraftSheet, AltitudeWindow, CodedProcedure, Finding, Route, RouteInput
from routecheck.navdata.database import NavDatabase
from routecheck.reading.route_text import read_route
from routecheck.resolution.resolve import resolve
from routecheck.vertical.room import UNBOUNDED, Bounds, is_upside_down
from routecheck.vertical.windows import effective_bounds, field_elevation_ft, greatest_gradients

CHECKS = (
    "windows-conflict", "climb-in-arrival", "descent-in-departure", "steep", "window-error", "window-upside-down",
    "level-never-reached", "above-ceiling",
)  # fmt: skip
DAY = dt.date(2023, 2, 1)
"""Within the cycle of the country file."""
FAR_OFF = ("KDFW", "KSEA", "KBOS")
"""The other end of the flight: the first of them that is 300 NM away."""

STATED, OVER_CODED, CODED = "all stated", "one stated over the coded", "changed in the data"
WAYS = (STATED, OVER_CODED, CODED)
"""Who says what: all windows typed, nothing coded; the changed one typed beside the coded ones; nothing typed."""


# ---- the routes


def one_of_each(cases: Iterable[Combination], seed: int) -> list[Combination]:
    """Of every procedure one combination, drawn by the seed, for combinations of one procedure are much alike."""
    of: dict[str, list[Combination]] = {}
    for one in cases:
        of.setdefault(one.procedure, []).append(one)
    draw = random.Random(seed)
    return [draw.choice(several) for several in of.values()]


def route_of(database: NavDatabase, combination: Combination, sheet: AircraftSheet) -> Route | None:
    """A flight by the procedure at FL350, resolved and reckoned; None where it does not come to the same windows."""
    runway = combination.runway.replace("B", "L")
    far = _far_from(database, combination.airport)
    if combination.kind == "STAR":
        route_input = RouteInput(
            _arriving(combination), far, combination.airport, destination_runway=runway, sheet=sheet
        )
    else:
        text = f"N0450F350 {combination.name} {combination.points[-1]}"
        route_input = RouteInput(text, combination.airport, far, departure_runway=runway, sheet=sheet)
    route = _reckoned(database, route_input)
    coded = [
        (point.text, effective_bounds(found))
        for point, found in zip(route.points, route.windows, strict=False)
        if found
    ]
    points = combination.path.points
    return route if coded == [(p.name, (p.window.low_ft, p.window.high_ft)) for p in points if p.window] else None


def into_approaches(database: NavDatabase, cases: Iterable[Combination], sheet: AircraftSheet) -> Iterator[Route]:
    """Every STAR, one combination for each of its runway branches, with every approach that has a point of it."""
    first = {(one.procedure, one.runway): one for one in cases}
    for one in first.values():
        far, marks = _far_from(database, one.airport), {runway.ident for runway in database.runways(one.airport)}
        served = {mark for mark in marks if not one.runway or mark.startswith(one.runway.removesuffix("B"))}
        for name in database.procedure_names(one.airport, "APPROACH"):
            runway = name[1:].partition("-")[0]
            runway = runway if runway in marks else runway[:-1]
            approach = database.procedure(one.airport, "APPROACH", name)
            if runway in served and approach and not _fixes(approach).isdisjoint(one.points):
                ends = {"departure": far, "destination": one.airport, "destination_runway": runway}
                yield _reckoned(database, RouteInput(_arriving(one), **ends, approach=name, sheet=sheet))


def _fixes(approach: CodedProcedure) -> set[str]:
    return {leg.fix_ident for branch in approach.branches for leg in branch.legs if leg.fix_ident and not leg.missed}


def _arriving(combination: Combination) -> str:
    return f"N0450F350 {combination.points[0]} {combination.name}"


def _reckoned(database: NavDatabase, route_input: RouteInput) -> Route:
    return compute_routes([resolve(read_route(route_input), database, DAY)], [DAY])[0]


def _far_from(database: NavDatabase, airport: str) -> str:
    here = database.airport(airport)
    ends = [(ident, database.airport(ident)) for ident in FAR_OFF]
    return next(
        ident
        for ident, there in ends
        if here and there and geo.rough_nm(here.lat, here.lon, there.lat, there.lon) > 300.0
    )


# ---- the changes


class Changed(NamedTuple):
    """The windows of a route with one changed (two where neighbours are swapped), and which points are touched."""

    bounds: list[Bounds]
    touched: tuple[int, ...]


def _scaled(window: Bounds, factor: float, plus: float = 0.0) -> Bounds:
    low, high = (None if bound is None else bound * factor + plus for bound in window)
    return low, high


_TO_ONE = {
    "x 10": lambda window: _scaled(window, 10.0),
    "/ 10": lambda window: _scaled(window, 0.1),
    "+ 10,000 ft": lambda window: _scaled(window, 1.0, 10_000.0),
    "- 10,000 ft": lambda window: _scaled(window, 1.0, -10_000.0),
    "above for below": lambda window: window[::-1] if None in window else window,
}
SWAPPED = "neighbours swapped"
KINDS_OF_CHANGE = (*_TO_ONE, SWAPPED)


def changes(bounds: Sequence[Bounds], kind: str) -> Iterator[Changed]:
    """Every change of a kind that makes a difference."""
    there = [i for i, window in enumerate(bounds) if window != UNBOUNDED]
    if kind == SWAPPED:
        for one, other in pairwise(there):
            if bounds[one] != bounds[other]:
                found = list(bounds)
                found[one], found[other] = bounds[other], bounds[one]
                yield Changed(found, (one, other))
        return
    for index in there:
        window = _TO_ONE[kind](bounds[index])
        if window != bounds[index]:
            yield Changed([*bounds[:index], window, *bounds[index + 1 :]], (index,))


def as_published(route: Route) -> Changed:
    """The windows as they are."""
    return Changed([effective_bounds(windows) for windows in route.windows], ())


def with_windows(route: Route, changed: Changed, way: str) -> Route:
    """The route with its windows changed and said to come from where the way says."""
    windows = []
    for index, (point, window) in enumerate(zip(route.points, changed.bounds, strict=True)):
        typed = AltitudeWindow(point.text, *window)
        if window == UNBOUNDED:
            windows.append(())
        elif way == STATED:
            windows.append((typed,))
        elif way == CODED:
            windows.append((replace(typed, procedure=point.procedure),))
        else:
            windows.append((typed, *route.windows[index]) if index in changed.touched else route.windows[index])
    return replace(route, windows=tuple(windows))


# ---- what comes of them


def height_checks() -> list[Check]:
    """The checks that look at windows."""
    return [check for check in collect() if check.name in CHECKS]


def findings(route: Route, checks: Sequence[Check]) -> tuple[Finding, ...]:
    """What the checks say; none of them may have failed."""
    assessment = run_checks(route, checks, {})
    assert assessment.could_not_run == ()
    return assessment.findings


def is_possible(route: Route, bounds: Sequence[Bounds], kind: str) -> bool:
    """Whether some flight keeps all windows that only climbs (SID) or only descends (STAR).

    From the field to the sheet's ceiling and never more steeply than the sheet; over a gap as steeply as you like. No
    check that knows the windows alone can tell a change that leaves this possible from what is published.
    """
    sheet, greatest = route.route_input.sheet, greatest_gradients(route)
    assert sheet is not None
    assert greatest is not None
    lengths = [leg.distance_nm for leg in route.legs]
    ceiling = sheet.ceiling_ft
    if kind == "SID":
        return _descends(
            lengths[::-1], bounds[::-1], greatest.climb_ft_nm, field_elevation_ft(route.points[0]), ceiling
        )
    return _descends(lengths, bounds, greatest.descent_ft_nm, field_elevation_ft(route.points[-1]), ceiling)


def _descends(
    lengths: Sequence[float | None], bounds: Sequence[Bounds], down: float, floor: float | None, ceiling: float | None
) -> bool:
    floor, top = -2_000.0 if floor is None else floor, 60_000.0 if ceiling is None else ceiling
    low = high = top
    for length, window in zip([None, *lengths], bounds, strict=True):
        lowest, highest = (floor if window[0] is None else window[0]), (top if window[1] is None else window[1])
        low = max(floor if length is None else low - down * length, lowest)
        high = min(high, highest)
        if is_upside_down(window) or low > high + 1e-3:
            return False
    return True


class Tally:
    """What came of the changes of one kind, in one way of saying."""

    def __init__(self) -> None:
        self.tried = self.caught = self.named = self.possible = self.caught_though_possible = 0
        self.by: Counter[str] = Counter()
        """Check and weight of the heaviest new finding."""

    def add(self, new: Sequence[Finding], touched: Sequence[int], *, possible: bool) -> None:
        """Count one change."""
        self.tried += 1
        self.possible += possible
        self.caught += bool(new)
        self.caught_though_possible += bool(new) and possible
        self.named += any(set(finding.points) & set(touched) for finding in new)
        if new:
            first = min(new, key=lambda finding: list(type(finding.weight)).index(finding.weight))
            self.by[f"{first.check} {first.weight}"] += 1


def drawn(routes: Sequence[tuple[str, Route]], kind_of_change: str, seed: int) -> Iterator[tuple[str, Route, Changed]]:
    """On every route one change of a kind, drawn by the seed, where there is one."""
    draw = random.Random(f"{seed} {kind_of_change}")
    for kind, route in routes:
        found = list(changes(as_published(route).bounds, kind_of_change))
        if found:
            yield kind, route, draw.choice(found)


def tallied(
    routes: Sequence[tuple[str, Route]], kind_of_change: str, way: str, checks: Sequence[Check], seed: int
) -> Tally:
    """One window changed on every route (STAR or SID with it), and what the checks say that they did not before."""
    tally = Tally()
    for kind, route, changed in drawn(routes, kind_of_change, seed):
        before = {(f.check, f.points) for f in findings(with_windows(route, as_published(route), way), checks)}
        after = findings(with_windows(route, changed, way), checks)
        new = [finding for finding in after if (finding.check, finding.points) not in before]
        tally.add(new, changed.touched, possible=is_possible(route, changed.bounds, kind))
    return tally
