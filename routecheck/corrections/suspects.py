"""Which stops of a sketched route look suspect, so that corrections are tried at them. No candidate is made here."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from routecheck.corrections import sphere
from routecheck.model import ProcedureOutOfPlace

if TYPE_CHECKING:
    from routecheck.corrections.sketch import Line, Sketch

SUSPECT_ADDED_NM = 4.0
SUSPECT_TURN_DEG = 25.0
"""A stop that adds and turns less than this is not looked at: in a trial no planted error was lost by it."""
MOST_SUSPECTS = 60


def suspects(drawn: Sketch) -> list[int]:
    """Stops that bend the route, are not placed or sit at a defect, and their neighbours; the worst of very many."""
    found = _bends(drawn)
    for index, connection in enumerate(drawn.resolved.connections):
        if index in drawn.flawed or (connection.is_blocked and not isinstance(connection.fault, ProcedureOutOfPlace)):
            found[index] = found[index + 1] = math.inf
    if not found:
        return []
    last = len(drawn.nodes) - 1
    worst = sorted(found, key=lambda index: (-found[index], index))[:MOST_SUSPECTS]
    return sorted({near for index in worst for near in (index - 1, index, index + 1) if 0 <= near <= last})


def _bends(drawn: Sketch) -> dict[int, float]:
    """The NM that each stop adds that turns enough to be suspect (a little where a leg has no length)."""
    found: dict[int, float] = {}
    line, last = drawn.line, len(drawn.nodes) - 1
    along, turns = line.along, line.turns
    for index, here in enumerate(line.at):
        if here is None:
            found[index] = math.inf
        elif not 0 < index < last or not 0 < here < len(along) - 1:
            continue
        elif turns[here] >= SUSPECT_TURN_DEG:
            added = _added(line, here, index)
            if added >= SUSPECT_ADDED_NM:
                found[index] = added
        elif along[here - 1] == along[here] or along[here] == along[here + 1]:
            found[index] = SUSPECT_ADDED_NM
    return found


def _added(line: Line, here: int, index: int) -> float:
    """What a stop adds at its line, and where that is little between the stops beside it, NM.

    An airway that overshoots may have a point of its own a mile before.
    """
    legs = line.along[here + 1] - line.along[here - 1]
    added = legs - sphere.apart_nm(line.points[here - 1], line.points[here + 1])
    before, after = line.at[index - 1], line.at[index + 1]
    if added >= SUSPECT_ADDED_NM or before is None or after is None:
        return added
    a, b, c = line.points[before], line.points[after], line.points[here]
    return sphere.apart_nm(a, c) + sphere.apart_nm(c, b) - sphere.apart_nm(a, b)
