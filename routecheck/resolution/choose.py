"""The choice of one place for every point: the one that makes the whole route shortest, over all points at once.

Dynamic programming forward and backward, so that for each candidate the best whole route through it is known too.
Distances are on the sphere here (geo.rough_nm): good to choose by, never shown.
"""

from __future__ import annotations

import itertools
from dataclasses import replace
from typing import TYPE_CHECKING, NamedTuple

from routecheck.earth import geo
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Place, Via
from routecheck.procedures.route_procedures import procedure_places
from routecheck.resolution import airways
from routecheck.resolution.chain import Chain

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Airway, CodedProcedure
    from routecheck.resolution.chain import PendingConnection, PendingPoint

FINENESS = 1_000_000
"""Lengths are added in whole millionths of a NM: ways of equal length are equal, and the first of them is taken."""
OFF_AIRWAY_NM = 25_000
"""What an end off its airway costs: more than there and back half round the world, so that the airway decides first."""
OTHER_PIECE_NM = 22_000
NEAR_LINE_NM = 6_000
"""What an end costs that lies near the line of its airway and is not coded on it: more than any airway is long."""


@dataclass(frozen=True, slots=True)
class PlaceChoice:
    """For each point the index of the chosen candidate (None without candidates), and what every other would add."""

    chosen: tuple[int | None, ...]
    longer_nm: tuple[tuple[float, ...], ...]
    """For every candidate: how much longer the whole route would be with it (0 for the chosen one)."""


def choose_places(chain: Chain) -> PlaceChoice:
    """Choose the places of least total length. Points without candidates are stepped over.

    Points with one candidate cut the route into stretches, and each stretch is chosen on its own.
    """
    counts = [len(point.candidates) for point in chain.points]  # nearly always all 1: nothing to choose
    chosen: list[int | None] = [0 if count else None for count in counts]
    longer: list[tuple[float, ...]] = [(0.0,) * count for count in counts]
    active = [i for i, count in enumerate(counts) if count] if max(counts) > 1 else []
    for first, end in _open_stretches([counts[i] for i in active]):
        stretch = active[first:end]
        for index, pick, more in zip(stretch, *_choose_in_stretch(chain, stretch), strict=True):
            chosen[index], longer[index] = pick, more
    return PlaceChoice(tuple(chosen), tuple(longer))


def _open_stretches(candidates: Sequence[int]) -> Iterator[tuple[int, int]]:
    """Runs of points with several candidates, from the sure one before them to the sure one behind: (first, end)."""
    first = None
    for i, count in enumerate(candidates):
        if count > 1 and first is None:
            first = max(i - 1, 0)
        elif count == 1 and first is not None:
            yield first, i + 1
            first = None
    if first is not None:
        yield first, len(candidates)


def _choose_in_stretch(chain: Chain, stretch: Sequence[int]) -> tuple[list[int], list[tuple[float, ...]]]:
    """For each point of a stretch the candidate chosen, and how much longer the way is by each."""
    columns = [chain.points[i].candidates for i in stretch]
    costs = [_step_costs(chain, first, second) for first, second in itertools.pairwise(stretch)]
    through = _best_through(columns, costs)
    best = min(through[0])
    return _best_picks(through, costs), [tuple((total - best) / FINENESS for total in totals) for totals in through]


def drop_empty_junctions(chain: Chain, choice: PlaceChoice) -> tuple[Chain, PlaceChoice]:
    """Drop implied junctions that fall on the point before or after: nothing would be flown in between.

    The words of an airway of which nothing is flown stay with the connection that remains.
    """
    if not any(point.implied for point in chain.points):
        return chain, choice
    points, connections = list(chain.points), list(chain.connections)
    chosen, longer = list(choice.chosen), list(choice.longer_nm)
    for index in range(len(points) - 2, 0, -1):
        here = _chosen_place(points, chosen, index)
        if not points[index].implied or here is None:
            continue
        for beside, empty, kept in ((index - 1, index - 1, index), (index + 1, index, index - 1)):
            other = _chosen_place(points, chosen, beside)
            if other is not None and airways.is_same_place(here, other):
                words = tuple(sorted({*connections[index - 1].words, *connections[index].words}))
                connections[kept] = replace(connections[kept], words=words)
                del connections[empty], points[index], chosen[index], longer[index]
                break
    return Chain(chain.database, points, connections), PlaceChoice(tuple(chosen), tuple(longer))


def _chosen_place(points: Sequence[PendingPoint], chosen: Sequence[int | None], index: int) -> Place | None:
    pick = chosen[index]
    return None if pick is None else points[index].candidates[pick]


def _step_costs(chain: Chain, first: int, second: int) -> list[list[int]]:
    """For every candidate of a point what the step to each of a later one costs: its length, and leaving the airway.

    Between the two lies nothing but points that could not be placed.
    """
    before, after = chain.points[first].candidates, chain.points[second].candidates
    if second > first + 1:
        return [[_length_units(a, b) for b in after] for a in before]
    connection = chain.connections[first]
    if connection.procedure:
        return _procedure_step_costs(before, after, connection.procedure)
    if connection.via is not Via.AIRWAY or not connection.pieces:
        return [[_length_units(a, b) for b in after] for a in before]
    starts = [_airway_end(place, connection) for place in before]
    ends = [_airway_end(place, connection) for place in after]
    return [[_airway_cost(start, end, connection.pieces) for end in ends] for start in starts]


def _procedure_step_costs(
    before: Sequence[Place], after: Sequence[Place], procedure: CodedProcedure
) -> list[list[int]]:
    """The lengths, and what it costs to leave the procedure at none of its points, or to join it at none."""
    own = {place.key for place in procedure_places(procedure)}
    off = OFF_AIRWAY_NM * FINENESS
    if procedure.kind == "SID":
        return [[_length_units(a, b) + off * (b.key not in own) for b in after] for a in before]
    return [[_length_units(a, b) + off * (a.key not in own) for b in after] for a in before]


def _length_units(a: Place, b: Place) -> int:
    """The length of a line in units of a NM / FINENESS."""
    return round(geo.rough_nm(a.lat, a.lon, b.lat, b.lon) * FINENESS)


class _AirwayEnd(NamedTuple):
    """A candidate at an end of an airway: where it is on each piece, whether the airway begins or ends there openly."""

    place: Place
    positions: airways.PiecePositions
    is_open: bool
    cost_nm: int
    """What it costs by itself: coded on the airway nothing, more near its line, most off it."""


def _airway_end(place: Place, connection: PendingConnection) -> _AirwayEnd:
    positions = airways.positions_on_pieces(connection.pieces, place)
    is_open = place in connection.open_ends
    if is_open or any(place.key in piece.index_by_key for piece in connection.pieces):
        cost_nm = 0
    else:
        cost_nm = OFF_AIRWAY_NM if all(at is None for at in positions) else NEAR_LINE_NM
    return _AirwayEnd(place, positions, is_open, cost_nm)


def _airway_cost(start: _AirwayEnd, end: _AirwayEnd, pieces: Sequence[Airway]) -> int:
    """The length along the airway; where it does not join the two, the straight line and what that costs."""
    a, b = start.place, end.place
    own = (start.cost_nm + end.cost_nm) * FINENESS
    if start.is_open or end.is_open or OFF_AIRWAY_NM in (start.cost_nm, end.cost_nm):
        return _length_units(a, b) + own
    run = airways.run_between_positions(pieces, start.positions, end.positions)
    if run is None:
        return _length_units(a, b) + own + OTHER_PIECE_NM * FINENESS
    return sum(itertools.starmap(_length_units, itertools.pairwise((a, *run.inner, b)))) + own


def _best_through(columns: list[tuple[Place, ...]], costs: list[list[list[int]]]) -> list[list[int]]:
    """For every candidate the length of the best whole route through it."""
    ahead = [[0] * len(columns[0])]
    for cost in costs:
        last = ahead[-1]
        ahead.append([min(last[i] + row[j] for i, row in enumerate(cost)) for j in range(len(cost[0]))])
    behind = _remaining_costs(costs, len(columns[-1]))
    return [[f + b for f, b in zip(fs, bs, strict=True)] for fs, bs in zip(ahead, behind, strict=True)]


def _best_picks(through: list[list[int]], costs: list[list[list[int]]]) -> list[int]:
    """One best path: from the best first candidate on, always the step that keeps the whole route shortest."""
    remaining = _remaining_costs(costs, len(through[-1]))
    pick = min(range(len(through[0])), key=lambda i: through[0][i])
    picks = [pick]
    for step, cost in enumerate(costs):
        row, ahead = cost[pick], remaining[step + 1]
        pick = min(range(len(row)), key=lambda j: row[j] + ahead[j])
        picks.append(pick)
    return picks


def _remaining_costs(costs: list[list[list[int]]], last: int) -> list[list[int]]:
    behind = [[0] * last]
    for cost in reversed(costs):
        following = behind[-1]
        behind.append([min(row[j] + following[j] for j in range(len(row))) for row in cost])
    return behind[::-1]
