"""The Side view as plain values: altitudes in feet against NM along the route, nothing made up. No Qt and no colours.

Distances are drawn distances: a gap has no known length and is drawn at its least, or as a notch where even that is
not known. What may be said of a place is in side_words.
"""

from __future__ import annotations

from dataclasses import KW_ONLY, replace
from functools import cache
from itertools import accumulate, pairwise
from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.checks.airways.airway_level import airway_level
from routecheck.checks.catalogue import Family, collect
from routecheck.earth import geo
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Weight
from routecheck.presentation import side_lines
from routecheck.presentation.selection import legs_of_finding, points_of_finding
from routecheck.presentation.side_room import lay_out_room
from routecheck.vertical.transition import levels_along
from routecheck.vertical.windows import field_elevation_ft

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import AltitudeWindow, Assessment, Route
    from routecheck.presentation.side_lines import Line, Step
    from routecheck.vertical.room import Corner

    Stretch = tuple[float, float]

HIGHEST_FT = 60_000.0
"""What is above is drawn at the upper rim, where its value says so."""
_NOTCH_SHARE, _NOTCH_NM = 0.05, 4.0
"""A gap of no known length is drawn so wide, of all that is known, at least so many NM."""
_NEXT_NM = 100.0
"""Windows farther apart are not of one departure or arrival."""
_LEAST_PART_NM = 80.0


@dataclass(frozen=True, slots=True)
class SidePoint:
    """A point of the route by its index, where it is drawn, its name; `minor` = the text does not name it."""

    index: int
    nm: float
    name: str
    minor: bool


@dataclass(frozen=True, slots=True)
class SideGap:
    """A stretch without a fixed path, from point `first` to point `last`; `least_nm` None = not even that is known."""

    first: int
    last: int
    begins: float
    ends: float
    least_nm: float | None

    @property
    def label(self) -> str:
        """What is written into it."""
        return "gap" if self.least_nm is None else f"gap, at least {formatting.nm(self.least_nm)}"


@dataclass(frozen=True, slots=True)
class Bracket:
    """An altitude window at a point, feet, None = open. `typed` = stated by somebody, not coded in the data.

    `tried` = it would be there if a correction that is tried were made.
    """

    point: int
    _: KW_ONLY
    nm: float
    low_ft: float | None
    high_ft: float | None
    typed: bool
    weight: Weight | None
    label: str
    tried: bool = False


@dataclass(frozen=True, slots=True)
class Ground:
    """The elevation of an aerodrome at an end of the route, feet."""

    point: int
    nm: float
    elevation_ft: float


@dataclass(frozen=True, slots=True)
class SideMark:
    """The mark of a finding; `index` into Assessment.findings, its number is one more."""

    index: int
    weight: Weight
    nm: float


@dataclass(frozen=True, slots=True)
class SideView:
    """Everything to draw. `points[i]` is point i of the route; leg i leads to the next.

    `band` is the room, its lowest and highest altitude infinite where open; `shut` where there is none. `profile` is
    the planned one, `guessed` its way through gaps, `levels` filed levels it does not come to. `missing` says
    why there is nothing to see, "" = there is; `notes` what else is not drawn, and where to get it.
    """

    points: tuple[SidePoint, ...]
    _: KW_ONLY
    gaps: tuple[SideGap, ...]
    brackets: tuple[Bracket, ...]
    grounds: tuple[Ground, ...]
    band: tuple[tuple[Corner, ...], ...]
    shut: tuple[Stretch, ...]
    profile: tuple[Line, ...]
    guessed: tuple[Line, ...]
    levels: tuple[Step, ...]
    minima: tuple[Step, ...]
    marks: tuple[SideMark, ...]
    weights: tuple[Weight | None, ...]
    missing: str
    notes: tuple[str, ...]
    levels_from: tuple[float, ...] = ()
    """From which altitude on flight levels are flown at each point."""
    tried: tuple[Line, ...] = ()
    """The planned profile, or the levels, that a tried correction would bring."""

    @property
    def whole_nm(self) -> float:
        """How long the drawing is."""
        return self.points[-1].nm if self.points else 0.0

    @property
    def departure(self) -> Stretch:
        """The part with the windows after departure, else the first part of the route."""
        reach = _reach([b.nm for b in self.brackets], self.whole_nm)
        return 0.0, min(reach, self.whole_nm)

    @property
    def arrival(self) -> Stretch:
        """The part with the windows before the destination, else the last part of the route."""
        whole = self.whole_nm
        return max(whole - _reach([whole - b.nm for b in reversed(self.brackets)], whole), 0.0), whole

    @property
    def all_levels_from_ft(self) -> float:
        """From which altitude on flight levels are flown everywhere along the route."""
        return max(self.levels_from, default=formatting.NO_LEVELS)

    def weight_between(self, begins: float, ends: float) -> Weight | None:
        """The heaviest weight that asks for attention to the altitudes of a stretch."""
        legs = zip(pairwise(self.points), self.weights, strict=True)
        there = {weight for (a, b), weight in legs if weight and a.nm < ends and b.nm > begins}
        return next((weight for weight in Weight if weight in there), None)

    def leg_at(self, nm: float) -> int | None:
        """The leg drawn there; None beyond the ends."""
        legs = (i for i, (a, b) in enumerate(pairwise(self.points)) if a.nm <= nm <= b.nm)
        return next(legs, None)

    def gap_of(self, leg: int) -> SideGap | None:
        """The gap that a leg is a part of."""
        return next((gap for gap in self.gaps if gap.first <= leg < gap.last), None)


def lay_out_side_view(assessment: Assessment) -> SideView:
    """Lay an assessment out. Costs about as much as its Leg table; never raises on what could be read."""
    route = assessment.route
    gaps = _gaps(route)
    places = _places(route, gaps)
    is_known = any(leg.distance_nm is not None for leg in route.legs)
    if route.route_input.unread or not is_known or not places or places[-1] <= 0.0:
        return empty_side_view("The Side view appears with the first leg whose length is known.")
    planned, levels = side_lines.plan_lines(route, places)
    band, shut = lay_out_room(route, places)
    brackets = tuple(_brackets(assessment, places))
    grounds = tuple(_grounds(route, places))
    minima = side_lines.minima_steps(route, places)
    has_altitudes = bool(brackets or grounds or minima or levels or planned.profile)
    return SideView(
        points=tuple(
            SidePoint(i, places[i], formatting.short(point.text) or _end_name(i), point.route_point is None)
            for i, point in enumerate(route.points)
        ),
        gaps=tuple(SideGap(a, b, places[a], places[b], least) for a, b, least in gaps),
        brackets=brackets,
        grounds=grounds,
        band=band,
        shut=shut,
        profile=planned.profile,
        guessed=planned.guessed,
        levels=levels,
        minima=minima,
        marks=tuple(_marks(assessment, places)),
        weights=_leg_weights(assessment),
        missing="" if has_altitudes else side_lines.NO_ALTITUDES,
        notes=tuple(side_lines.notes(route, planned, gaps=len(gaps))),
        levels_from=levels_along(route),
    )


def empty_side_view(missing: str = "") -> SideView:
    """A view of nothing, and why."""
    return SideView(
        (),
        gaps=(),
        brackets=(),
        grounds=(),
        band=(),
        shut=(),
        profile=(),
        guessed=(),
        levels=(),
        minima=(),
        marks=(),
        weights=(),
        missing=missing,
        notes=(),
    )


def with_trial(now: SideView, then: SideView) -> SideView:
    """The view with what a tried correction would bring; as it is where the way along would be another.

    That is seen in the Picture: altitudes over two different distances cannot be compared.
    """
    along = [[(p.name, round(p.nm, 1)) for p in view.points] for view in (now, then)]
    if along[0] != along[1] or then.missing:
        return now
    known = {(b.point, b.low_ft, b.high_ft, b.typed) for b in now.brackets}
    fresh = [b for b in then.brackets if (b.point, b.low_ft, b.high_ft, b.typed) not in known]
    brackets = tuple(replace(b, tried=True, weight=None, label=f"{b.label}, if changed") for b in fresh)
    lines = (*then.profile, *(((s.begins, s.feet), (s.ends, s.feet)) for s in then.levels))
    same = then.profile == now.profile and then.levels == now.levels
    return replace(now, brackets=now.brackets + brackets, tried=() if same else lines)


@cache
def _checks_of_altitudes() -> frozenset[str]:
    """The checks whose findings colour the brackets."""
    return frozenset(one.name for one in collect() if one.family is Family.ALTITUDES or one is airway_level)


# ---- the way along


def _reach(away_nm: Sequence[float], whole: float) -> float:
    """How far windows go on, each not far from the one before; a usual length where there are none."""
    reach = 0.0
    for nm in away_nm:
        if nm - reach > _NEXT_NM:
            break
        reach = max(reach, nm)
    return min(max(1.1 * reach, _LEAST_PART_NM), whole) if reach > 0.0 else min(_NEXT_NM, whole / 2.0)


def _end_name(index: int) -> str:
    return "departure" if index == 0 else "destination"


def _gaps(route: Route) -> list[tuple[int, int, float | None]]:
    """Every gap as (first point, last point, least length): over points that could not be placed it goes on."""
    found: list[tuple[int, int, float | None]] = []
    for i, leg in enumerate(route.legs):
        if leg.distance_nm is not None:
            continue
        if found and found[-1][1] == i and route.points[i].place is None:
            found[-1] = (found[-1][0], i + 1, None)
        else:
            found.append((i, i + 1, leg.least_nm))
    return [(a, b, _direct_nm(route, a, b) if least is None else least) for a, b, least in found]


def _direct_nm(route: Route, first: int, last: int) -> float | None:
    """The geodesic between the ends of a gap where both are placed."""
    one, other = route.points[first].place, route.points[last].place
    if one is None or other is None:
        return None
    return geo.inverse(one.lat, one.lon, other.lat, other.lon)[2]


def _places(route: Route, gaps: Sequence[tuple[int, int, float | None]]) -> list[float]:
    """Where every point is drawn, NM from the start; [] where nothing has a length."""
    known = sum(leg.distance_nm or 0.0 for leg in route.legs) + sum(least or 0.0 for *_, least in gaps)
    if known <= 0.0:
        return []
    notch = max(_NOTCH_SHARE * known, _NOTCH_NM)
    drawn = [leg.distance_nm or 0.0 for leg in route.legs]
    for first, last, least in gaps:
        drawn[first:last] = [(notch if least is None else least) / (last - first)] * (last - first)
    return [0.0, *accumulate(drawn)]


# ---- what stands in it


def _brackets(assessment: Assessment, places: Sequence[float]) -> Iterator[Bracket]:
    weights, levels_from = _point_weights(assessment), levels_along(assessment.route)
    for i, windows in enumerate(assessment.route.windows):
        for window in windows:
            if window.low_ft is not None or window.high_ft is not None:
                yield _bracket(i, places[i], window, weights.get(i), levels_from[i])


def _bracket(point: int, nm: float, window: AltitudeWindow, weight: Weight | None, levels_from_ft: float) -> Bracket:
    label = side_lines.window_label(window.low_ft, window.high_ft, levels_from_ft)
    return Bracket(
        point, nm=nm, low_ft=window.low_ft, high_ft=window.high_ft, typed=window.typed, weight=weight, label=label
    )


def _point_weights(assessment: Assessment) -> dict[int, Weight]:
    """The heaviest weight that asks for attention to the altitudes at each point."""
    heaviest: dict[int, Weight] = {}
    order = list(Weight)
    for finding in assessment.findings:
        if finding.weight is not Weight.NOTE and finding.check in _checks_of_altitudes():
            for point in points_of_finding(assessment.route, finding):
                heaviest[point] = min(heaviest.get(point, finding.weight), finding.weight, key=order.index)
    return heaviest


def _leg_weights(assessment: Assessment) -> tuple[Weight | None, ...]:
    """For every leg the heaviest weight that asks for attention to its altitudes."""
    found: list[Weight | None] = [None] * len(assessment.route.legs)
    order = list(Weight)
    for finding in assessment.findings:
        if finding.weight is not Weight.NOTE and finding.check in _checks_of_altitudes():
            for leg in legs_of_finding(assessment.route, finding):
                found[leg] = min(found[leg] or finding.weight, finding.weight, key=order.index)
    return tuple(found)


def _grounds(route: Route, places: Sequence[float]) -> Iterator[Ground]:
    for i in dict.fromkeys((0, len(route.points) - 1)):
        feet = field_elevation_ft(route.points[i])
        if feet is not None:
            yield Ground(i, places[i], feet)


def _marks(assessment: Assessment, places: Sequence[float]) -> Iterator[SideMark]:
    """Every finding at the point it is about, else in the middle of its leg."""
    for i, finding in enumerate(assessment.findings):
        points = points_of_finding(assessment.route, finding)
        legs = () if points else legs_of_finding(assessment.route, finding)
        if points:
            yield SideMark(i, finding.weight, places[points[0]])
        elif legs:
            yield SideMark(i, finding.weight, (places[legs[0]] + places[legs[0] + 1]) / 2.0)
