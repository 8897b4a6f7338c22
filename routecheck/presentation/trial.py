"""A correction that is being tried: the line it would draw and what it would come to. No Qt."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Role, Span
from routecheck.presentation.map_scene import draw_on_map

if TYPE_CHECKING:
    from collections.abc import Iterable

    from routecheck.arrays import Floats
    from routecheck.earth.projection import Projection
    from routecheck.model import Assessment, Proposal
    from routecheck.presentation.drawn_map import DrawnPoint
    from routecheck.presentation.graticule import ChartBox

_NOT_DRAWN = frozenset({"windows", "level", "speed"})


@dataclass(frozen=True, slots=True)
class TrialLine:
    """The part of the route that a tried correction moves: `curves` shape (n, 2), NM; `label` stands at (x, y)."""

    curves: tuple[Floats, ...]
    points: tuple[DrawnPoint, ...]
    x: float
    y: float
    label: str

    @property
    def box(self) -> ChartBox:
        """West, south, east and north edge, NM."""
        xs = [float(x) for curve in self.curves for x in curve[:, 0]]
        ys = [float(y) for curve in self.curves for y in curve[:, 1]]
        return min(xs), min(ys), max(xs), max(ys)


def trial_outcome(assessment: Assessment, proposal: Proposal) -> str:
    """What a tried correction comes to: "then 606 NM; clears this finding"; no length where nothing is drawn anew."""
    if not changes_drawing(proposal):
        return formatting.say_cleared(proposal.clears)
    totals = assessment.route.totals
    total = f"{'at least ' if totals.gaps else ''}{formatting.nm(totals.distance_nm)}"
    return f"then {total}; {formatting.say_cleared(proposal.clears)}"


def changes_drawing(proposal: Proposal) -> bool:
    """Whether a correction may move the drawn route. Altitude windows and levels in the fields do not."""
    return proposal.span is not None or any(one.field not in _NOT_DRAWN for one in proposal.beside)


def other_line(now: Assessment, projection: Projection) -> TrialLine | None:
    """The stretches at which the other version of a route leads elsewhere; None where there is none."""
    if now.other is None:
        return None
    role = now.other.route.route_input.role
    return trial_line(now, now.other, projection, "other version" if role is Role.NOT_SAID else f"as {role.value}")


def trial_line(now: Assessment, then: Assessment, projection: Projection, what: str = "") -> TrialLine | None:
    """The stretch that differs, in the map of the route as it is; None where the drawn route stays the same."""
    what = what or _name_trial(now, then)
    legs, points = draw_on_map(then, projection)
    old = frozenset(_drawn_pairs(now))
    new = [(leg, ends) for leg, ends in zip(legs, _drawn_pairs(then), strict=True) if ends not in old]
    if not new:
        return None
    was = {(p.place.lat, p.place.lon) for p in now.route.points if p.place}
    fresh = tuple(p for p in points if _position_of(then, p.index) not in was)
    if fresh:
        first = next((p for p in fresh if not p.minor), fresh[0])
        x, y, label = first.x, first.y, f"{first.name}, {what}"
    else:
        curve = new[0][0].curve
        x, y, label = float(curve[len(curve) // 2, 0]), float(curve[len(curve) // 2, 1]), what
    return TrialLine(tuple(leg.curve for leg, _ in new), fresh, x, y, label)


def find_changed_words(text: str, changes: Iterable[tuple[str, int]]) -> tuple[Span, ...]:
    """Where changed words stand now: for each (word, offset of the change) the equal word nearest to that offset."""
    found = []
    for new, at in changes:
        words = new.strip()
        if at < 0 or not words:
            continue
        spots = [m.start() for m in re.finditer(rf"(?<!\S){re.escape(words)}(?![A-Za-z0-9])", text)]
        if spots:
            start = min(spots, key=lambda spot: abs(spot - at))
            found.append(Span(start, start + len(words)))
    return tuple(found)


def _name_trial(now: Assessment, then: Assessment) -> str:
    """What a tried route is: the nearest known route, or the route as it would be."""
    nearest = now.route.usage.nearest if now.route.usage else None
    return "known route" if nearest and then.route.route_input.route == nearest.route else "if changed"


def _drawn_pairs(assessment: Assessment) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    spots = [(p.place.lat, p.place.lon) for p in assessment.route.points if p.place]
    return list(pairwise(spots))


def _position_of(assessment: Assessment, index: int) -> tuple[float, float] | None:
    place = assessment.route.points[index].place
    return (place.lat, place.lon) if place else None
