"""Candidate corrections of a sketched route: what each would make of its stretch, and what that wins. No choosing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.corrections.bounds import Bounds, read_on
from routecheck.corrections.plausibility import difference, gain
from routecheck.model import OffAirway, Via
from routecheck.model.value import value

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.corrections.plausibility import CandidateConnection, Features, ShapeFeatures
    from routecheck.corrections.sketch import Sketch
    from routecheck.corrections.thresholds import Thresholds
    from routecheck.entry_errors.costs import Slip
    from routecheck.model import Place, Span


@value
class Edit:
    """One correction: what would be typed instead, and what it wins. `first` and `last` are the stops around it.

    `span` None = it is not in the route text (an airport given beside it). `shorter_nm` and `straighter_deg` are
    what the stretch loses in length and in turning, `defects` how many contradictions to the data it clears.
    """

    slip: Slip
    span: Span | None
    old: str
    new: str
    gain: float
    first: int
    last: int
    shorter_nm: float
    straighter_deg: float
    defects: int
    changed: Features
    departure: str = ""
    destination: str = ""


class Scorer:
    """Scores corrections of one sketched route, each against the stretch as typed, which is looked at only once.

    What cannot win enough is not scored: `bounds` knows how much a stretch can win at most.
    """

    def __init__(self, drawn: Sketch, thresholds: Thresholds) -> None:
        self.drawn, self.thresholds = drawn, thresholds
        self.bounds = Bounds(drawn, thresholds.least_gain)
        self._as_typed: dict[tuple[int, int], ShapeFeatures] = {}

    def as_typed(self, first: int, last: int) -> ShapeFeatures:
        """How the stretch between two stops looks as typed."""
        known = self._as_typed.get((first, last))
        if known is None:
            known = self._as_typed[first, last] = self.drawn.looks(first, last)
        return known

    def ends_short(self, index: int) -> bool:
        """Whether a link's airway ends in the data short of a point ahead of it: the airway may have changed."""
        fault = self.drawn.resolved.connections[index].fault
        if not isinstance(fault, OffAirway):
            return False
        limits = self.thresholds
        return fault.beyond_nm <= limits.further_nm and fault.beyond_turn_deg <= limits.ahead_deg

    def node(self, index: int, place: Place, cost: float) -> tuple[float, ShapeFeatures, ShapeFeatures]:
        """(gain, before, after) of another place for one stop."""
        first, last = max(index - 1, 0), min(index + 1, len(self.drawn.nodes) - 1)
        nodes = list(self.drawn.nodes[first : last + 1])
        nodes[index - first] = place
        return self.stretch(first, last, nodes, self.drawn.ways[first:last], cost)

    def stretch(
        self, first: int, last: int, nodes: Sequence[Place | None], ways: Sequence[CandidateConnection], cost: float
    ) -> tuple[float, ShapeFeatures, ShapeFeatures]:
        """(gain, before, after) of other nodes and ways between two stops."""
        before = self.as_typed(first, last)
        after = self.drawn.looks_with(first, last, nodes, ways)
        if after.features.defects:
            again = self._read_anew(nodes, ways)
            after = self.drawn.looks_with(first, last, again, ways) if again != list(nodes) else after
        return gain(before, after, cost), before, after

    def _read_anew(self, nodes: Sequence[Place | None], ways: Sequence[CandidateConnection]) -> list[Place | None]:
        """The nodes with names that are there twice read as the airways beside them now say."""
        found = list(nodes)
        for at, way in enumerate(ways):
            for end in (at, at + 1) if way.via is Via.AIRWAY else ():
                found[end] = read_on(way, found[end], self.drawn.database)
        return found


def edit(
    scored: tuple[float, ShapeFeatures, ShapeFeatures],
    slip: Slip,
    span: Span | None,
    old: str,
    new: str,
    first: int,
    last: int,
) -> Edit:
    """A scored correction as a value."""
    won, before, after = scored
    return Edit(
        slip=slip,
        span=span,
        old=old,
        new=new,
        gain=won,
        first=first,
        last=last,
        shorter_nm=before.length_nm - after.length_nm,
        straighter_deg=before.turning_deg - after.turning_deg,
        defects=round(before.features.defects - after.features.defects),
        changed=difference(before, after),
    )
