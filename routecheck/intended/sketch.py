"""A resolved route as scoring needs it: nodes and ways, what lies just outside a stretch, which stops look suspect."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from routecheck.intended import sphere
from routecheck.intended.plausibility import Looks, Way, looks
from routecheck.model import Place, Trouble, Via

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.library.gazetteer import Library
    from routecheck.model import Link, ResolvedRoute, Stop

SUSPECT_ADDED_NM = 4.0
SUSPECT_TURN_DEG = 25.0
MOST_SUSPECTS = 60
ENDS_SHORT_NM, ENDS_SHORT_DEG = 300.0, 60.0
"""As the check off-airway asks whether an airway has changed."""
"""A stop that adds and turns less than this is not looked at: in a trial no planted error was lost by it."""


@dataclass(frozen=True, slots=True)
class Sketch:
    """`nodes[i]` is the place of `stops[i]`, `ways[i]` joins it to the next; `bends` are the suspect stops."""

    resolved: ResolvedRoute
    library: Library
    nodes: tuple[Place | None, ...]
    ways: tuple[Way, ...]
    suspects: frozenset[int]

    @property
    def stops(self) -> tuple[Stop, ...]:
        """The stops the nodes come from."""
        return self.resolved.stops

    def looks(self, first: int, last: int) -> Looks:
        """How the stretch from stop `first` to stop `last` looks as typed."""
        return self.looks_with(first, last, self.nodes[first : last + 1], self.ways[first:last])

    def looks_with(self, first: int, last: int, nodes: Sequence[Place | None], ways: Sequence[Way]) -> Looks:
        """How the stretch would look with other nodes and ways in it."""
        return looks(nodes, ways, self.before(first), self.after(last), self.passing)

    def passing(self, ident: str) -> int:
        """How many airways go by a point of that ident."""
        return len(self.library.airways_through(ident))

    def ends_short(self, index: int) -> bool:
        """Whether a link's airway ends in the data short of a point ahead of it: the airway may have changed."""
        detail = self.resolved.links[index].detail
        further, turn = detail.get("beyond_nm", math.inf), detail.get("beyond_turn_deg", math.inf)
        return float(further) <= ENDS_SHORT_NM and float(turn) <= ENDS_SHORT_DEG

    def before(self, node: int) -> Place | None:
        """The point of the line just before a node, inside an airway where it is one."""
        if node == 0:
            return None
        inner = self.resolved.links[node - 1].inner
        return inner[-1] if inner else self.nodes[node - 1]

    def after(self, node: int) -> Place | None:
        """The point of the line just after a node."""
        if node == len(self.nodes) - 1:
            return None
        inner = self.resolved.links[node].inner
        return inner[0] if inner else self.nodes[node + 1]


def sketch(resolved: ResolvedRoute, library: Library) -> Sketch:
    """Draw a resolved route as nodes and ways, with its suspect stops."""
    nodes = tuple(stop.place for stop in resolved.stops)
    ways = tuple(_way(link, resolved, library) for link in resolved.links)
    bare = Sketch(resolved, library, nodes, ways, frozenset())
    return Sketch(resolved, library, nodes, ways, frozenset(_suspects(bare)))


def _way(link: Link, resolved: ResolvedRoute, library: Library) -> Way:
    if link.detail.get("edge"):
        return Way(Via.UNKNOWN, link.airway)  # beyond the loaded data nothing can be called a defect
    if link.via is Via.AIRWAY:
        return Way(link.via, link.airway, library.airways(link.airway))
    if link.via is Via.PROCEDURE:
        known = link.followed is not None or link.trouble is Trouble.OUT_OF_PLACE
        airport = resolved.stops[0 if link.kind == "SID" else -1].text
        return Way(link.via, link.airway, known=known, joins=library.transitions(airport, link.airway))
    return Way(link.via, link.airway)


def _suspects(drawn: Sketch) -> set[int]:
    """Stops that bend the route, are not placed or sit at a defect, and their neighbours; the worst of very many."""
    found: dict[int, float] = {}
    for index, link in enumerate(drawn.resolved.links):
        if link.trouble not in (None, Trouble.OUT_OF_PLACE, Trouble.SEVERAL):
            found[index] = found[index + 1] = math.inf
    for index, node in enumerate(drawn.nodes):
        before, after = drawn.before(index), drawn.after(index)
        bend = math.inf if node is None else _bend(before, node, after) if before and after else 0.0
        if bend:
            found[index] = max(bend, found.get(index, 0.0))
    last = len(drawn.nodes) - 1
    worst = sorted(found, key=lambda index: -found[index])[:MOST_SUSPECTS]
    return {near for index in worst for near in (index - 1, index, index + 1) if 0 <= near <= last}


def _bend(before: Place, node: Place, after: Place) -> float:
    """The NM that a stop adds where it turns enough to be suspect (a little where a leg has no length), else 0."""
    a, b, c = (sphere.unit(p.lat, p.lon) for p in (before, node, after))
    legs, turns = sphere.measured((a, b, c))
    if not turns or turns[0] < SUSPECT_TURN_DEG:
        return SUSPECT_ADDED_NM if 0.0 in legs else 0.0
    added = sum(legs) - sphere.distance_nm(a, c)
    return added if added >= SUSPECT_ADDED_NM else 0.0
