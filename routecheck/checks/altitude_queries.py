"""What the checks of altitudes share: the sheet to judge by, the filed levels, where arrivals begin. No judging.

The windows of one coded procedure are believed. Only a pair with a typed window, or of two procedures, is questioned.
"""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING

from routecheck.checks.per_route_cache import cached_per_route
from routecheck.checks.route_queries import kinds_of_words, precision_nm, spans_of_point, spans_of_words
from routecheck.formatting import altitudes_allowed, short
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Fact, NotChecked, Via, Weight, WordKind
from routecheck.performance.speed_bounds import is_usual
from routecheck.performance.speeds import change_words_by_leg
from routecheck.vertical.levels import level_ft
from routecheck.vertical.phases import split_phases
from routecheck.vertical.transition import levels_from_ft
from routecheck.vertical.windows import altitude_bounds, intersect_windows, unassigned_windows

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import AltitudeWindow, Route, Span
    from routecheck.vertical.room import Bounds, WindowPair

_TENTH = re.compile(r"[FA]0[1-9]\d")
"""A level that may lack a digit: F035 for F350."""


@cached_per_route
def unplaced_windows(route: Route) -> tuple[NotChecked, ...]:
    """What to say of the typed windows that belong to no point of the route."""
    unplaced_ones = unassigned_windows(route.route_input.windows, route.points)
    return tuple(
        NotChecked((), f"the altitude window stated for {short(one.point)}: {why}") for one, why in unplaced_ones
    )


@cached_per_route
def allowed_altitudes(route: Route) -> tuple[Bounds, ...]:
    """The lowest and highest altitude allowed at every point by its windows, without the aerodromes' elevations."""
    return tuple(altitude_bounds(route, fields=False))


def allowed_in_words(route: Route, index: int, bounds: Bounds) -> str:
    """A point and what is allowed there: "KEBUL at or above 11,000 ft", in levels from where its aerodrome has them."""
    return f"{route.points[index].text} {altitudes_allowed(*bounds, levels_from_ft(route, index))}"


def missing_sheet(route: Route) -> str:
    """Why there is no Aircraft sheet to judge by; "" where there is one."""
    if route.route_input.sheet:
        return ""
    name = route.route_input.aircraft_sheet
    return f"there is no Aircraft sheet “{short(name)}”" if name else "no Aircraft sheet is chosen"


def weight_by_sheet(route: Route, weight: Weight) -> Weight:
    """The weight, but never heavier than Doubtful unless the user's own sheet stands behind it."""
    sheet = route.route_input.sheet
    own = sheet is not None and not sheet.typical
    return Weight.DOUBTFUL if weight is Weight.WRONG and not own else weight


@dataclass(frozen=True, slots=True)
class FiledStretch:
    """A stretch that is filed at one speed and level.

    `legs` are the indices of its legs. `word` is the word of the text that files it, None = a field beside the text.
    """

    legs: tuple[int, ...]
    word: int | None
    speed: str
    level: str

    @property
    def level_ft(self) -> float | None:
        """The level in feet; None where none is filed or it is no level."""
        return level_ft(self.level)


@cached_per_route
def filed_stretches(route: Route) -> tuple[FiledStretch, ...]:
    """The route cut where speed and level change."""
    if WordKind.CHANGE not in kinds_of_words(route):
        return (_filed_stretch(route, None, tuple(range(len(route.legs)))),) if route.legs else ()
    words = change_words_by_leg(route)
    cuts = [0, *(i for i in range(1, len(words)) if words[i] != words[i - 1]), len(words)]
    return tuple(_filed_stretch(route, words[a], tuple(range(a, b))) for a, b in pairwise(cuts) if a < b)


def _filed_stretch(route: Route, word: int | None, legs: tuple[int, ...]) -> FiledStretch:
    if word is None:
        return FiledStretch(
            legs, None, route.route_input.speed.strip().upper(), route.route_input.level.strip().upper()
        )
    change = route.parsed.words[word]
    return FiledStretch(legs, word, change.speed, change.level)


def spans_of_stretch(route: Route, filed: FiledStretch) -> tuple[Span, ...]:
    """The word that files a stretch; none where it stands beside the text."""
    return spans_of_words(route, filed.word)


@cached_per_route
def stretches_with_speed_or_level(route: Route) -> tuple[FiledStretch, ...]:
    """The stretches that have a speed or a level."""
    route_input = route.route_input
    if not route_input.speed and not route_input.level and WordKind.CHANGE not in kinds_of_words(route):
        return ()
    return tuple(filed for filed in filed_stretches(route) if filed.speed or filed.level)


def has_speed(route: Route) -> bool:
    """Whether a speed is filed somewhere."""
    return any(filed.speed for filed in stretches_with_speed_or_level(route))


def level_ten_times(route: Route, filed: FiledStretch) -> str:
    """Ten times a level that begins with a zero, if the filed speed is flown there and not as filed; else ""."""
    if not _TENTH.fullmatch(filed.level) or not filed.speed:
        return ""
    meant, sheet = f"{filed.level[0]}{filed.level[2:]}0", route.route_input.sheet
    fits = is_usual(filed.speed, meant, sheet) and not is_usual(filed.speed, filed.level, sheet)
    return meant if fits else ""


def transition_altitude_ft(route: Route, filed: FiledStretch) -> float | None:
    """The altitude up to which altitudes are flown on a stretch, by the aerodromes that it touches; None = not known.

    A stretch that touches neither, or both, is judged by the lower of the two.
    """
    ends = [end for end, leg in ((0, filed.legs[0] == 0), (-1, filed.legs[-1] == len(route.legs) - 1)) if leg]
    places = [route.points[end].place for end in ends or (0, -1)]
    known = [place.transition_altitude_ft for place in places if place and place.transition_altitude_ft]
    return min(known) if len(known) == len(places) else None


@cached_per_route
def highest_stretch(route: Route) -> FiledStretch | None:
    """The stretch with the highest level; None where no level is filed."""
    known = [(filed.level_ft, filed) for filed in stretches_with_speed_or_level(route)]
    levels = [(feet, filed) for feet, filed in known if feet is not None]
    return max(levels, key=lambda pair: pair[0])[1] if levels else None


def spans_of_points(route: Route, *points: int) -> tuple[Span, ...]:
    """The words of several points, each once, in route order."""
    return tuple(sorted({span for index in points for span in spans_of_point(route.points[index])}))


def is_coded_in_one_procedure(route: Route, first: int, last: int) -> bool:
    """Whether one procedure codes the windows at both points, so that nobody questions them.

    Another procedure may code the same points too, as an approach does where the STAR ends, if it asks for no more. An
    aerodrome has no window.
    """
    pair = [route.windows[index] for index in (first, last) if route.windows and route.windows[index]]
    coded = {window.procedure for windows in pair for window in windows} - {""}
    return any(
        all(_bounds_of_procedure(windows, procedure) == intersect_windows(windows) for windows in pair)
        for procedure in coded
    )


def _bounds_of_procedure(windows: Sequence[AltitudeWindow], procedure: str) -> Bounds:
    return intersect_windows([window for window in windows if window.procedure == procedure])


@cached_per_route
def has_windows_to_question(route: Route) -> bool:
    """Whether there may be a pair of windows to question: one was typed, or they are of several procedures."""
    procedures = {window.procedure for windows in route.windows for window in windows}
    return len(procedures) > 1 or "" in procedures


def distance_doubt_nm(route: Route, pair: WindowPair) -> float:
    """By how much the distance between two points may be off: half the last digit of each typed position."""
    return precision_nm(route, pair.first) + precision_nm(route, pair.last)


def pair_facts(pair: WindowPair) -> tuple[Fact, ...]:
    """The figures of a pair of windows as facts of a finding."""
    needed = () if pair.distance_nm <= 0 else (Fact("needed", round(pair.needed_ft_nm), "ft/NM"),)
    altitudes = Fact("first", round(pair.first_ft), "ft"), Fact("then", round(pair.last_ft), "ft")
    return (*altitudes, Fact("distance", round(pair.distance_nm, 1), "NM"), *needed)


# ---- where the departure ends and the arrival begins


@cached_per_route
def knows_departure_and_arrival(route: Route) -> bool:
    """Whether a SID, a STAR or a level says where the departure ends and the arrival begins."""
    connections = route.resolved.connections
    return highest_stretch(route) is not None or any(
        connections[leg.connection].via is Via.PROCEDURE for leg in route.legs
    )


@cached_per_route
def departure_and_arrival(route: Route) -> tuple[int, int] | None:
    """The last point of the departure and the first of the arrival; None where nothing says where they lie.

    A SID or STAR says so; else as far from the aerodrome as the filed level takes at 3 NM for every 1,000 ft, but
    never beyond the middle of the route. Gaps count with their least length.
    """
    filed = highest_stretch(route)
    return split_phases(route, filed.level_ft if filed else None)


def rising_pairs(bounds: Sequence[Bounds], points: range) -> Iterator[tuple[int, int]]:
    """Pairs of points where a lower bound lies above an upper bound of a point before it, in the order of `points`.

    Given backward (a range that counts down) it finds the mirror: what would be a descent in a departure.
    """
    lowest: int | None = None
    for index in points:
        low, high = bounds[index]
        cap = None if lowest is None else bounds[lowest][1]
        if lowest is not None and low is not None and cap is not None and low > cap:
            yield lowest, index
            lowest, cap = None, None
        if high is not None and (cap is None or high <= cap):
            lowest = index
