"""A correction tried on a route: what then differs, in words and lines. No Qt."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.model import Span
from routecheck.presentation.map_scene import DrawnPoint, drawn_with

if TYPE_CHECKING:
    from collections.abc import Iterable

    from routecheck.earth.projection import Floats, Projection
    from routecheck.model import Assessment, Proposal
    from routecheck.presentation.graticule import Box

_NOT_DRAWN = frozenset({"windows", "level"})


@dataclass(frozen=True, slots=True)
class TriedLine:
    """What a tried correction would draw anew: `curves` shape (n, 2), NM; `label` stands at (x, y)."""

    curves: tuple[Floats, ...]
    points: tuple[DrawnPoint, ...]
    x: float
    y: float
    label: str

    @property
    def box(self) -> Box:
        """West, south, east and north edge, NM."""
        xs = [float(x) for curve in self.curves for x in curve[:, 0]]
        ys = [float(y) for curve in self.curves for y in curve[:, 1]]
        return min(xs), min(ys), max(xs), max(ys)


def outcome(assessment: Assessment, proposal: Proposal) -> str:
    """What a tried correction comes to: "then 606 NM; clears off-airway", of heights without the length."""
    if not draws(proposal):
        return f"clears {formatting.listing(list(proposal.clears))}"
    totals = assessment.route.totals
    total = f"{'at least ' if totals.gaps else ''}{formatting.nm(totals.distance_nm)}"
    return f"then {total}; clears {formatting.listing(list(proposal.clears))}"


def draws(proposal: Proposal) -> bool:
    """Whether a correction may change what is drawn: windows and levels beside the text do not."""
    return proposal.span is not None or any(one.field not in _NOT_DRAWN for one in proposal.beside)


def tried_line(now: Assessment, then: Assessment, projection: Projection) -> TriedLine | None:
    """The stretch that differs, drawn on the map of the route as it is; None where nothing would be drawn anew."""
    legs, points = drawn_with(then, projection)
    old = _ends(now)
    new = [(leg, ends) for leg, ends in zip(legs, _ends(then), strict=True) if ends not in old]
    if not new:
        return None
    was = {(p.place.lat, p.place.lon) for p in now.route.points if p.place}
    fresh = tuple(p for p in points if _spot(then, p.index) not in was)
    if fresh:
        first = next((p for p in fresh if not p.minor), fresh[0])
        x, y, label = first.x, first.y, f"{first.name}, if changed"
    else:
        curve = new[0][0].curve
        x, y, label = float(curve[len(curve) // 2, 0]), float(curve[len(curve) // 2, 1]), "if changed"
    return TriedLine(tuple(leg.curve for leg, _ in new), fresh, x, y, label)


def changed_spans(text: str, changes: Iterable[tuple[str, int]]) -> tuple[Span, ...]:
    """Where the changed words stand by now: for each (new, offset when made) the whole word nearest to that offset."""
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


def _ends(assessment: Assessment) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    spots = [(p.place.lat, p.place.lon) for p in assessment.route.points if p.place]
    return list(pairwise(spots))


def _spot(assessment: Assessment, index: int) -> tuple[float, float] | None:
    place = assessment.route.points[index].place
    return (place.lat, place.lon) if place else None
