"""Choosing one place for every slot: the choice that makes the whole route shortest, over all slots at once.

Dynamic programming forward and backward, so that for each candidate the best whole route through it is known too.
Distances are on the sphere here (geo.rough_nm): good to choose by, never shown.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from routecheck.earth import geo
from routecheck.model import Place, Via
from routecheck.procedures.route_procedures import places_of
from routecheck.resolution import airways
from routecheck.resolution.chain import Chain

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import CodedProcedure
    from routecheck.model.data import PlaceKey
    from routecheck.resolution.chain import Slot, Tie

FINENESS = 1_000_000
"""Lengths are added in whole millionths of a NM: ways of equal length are equal, and the first of them is taken."""
OFF_AIRWAY_NM = 25_000
"""What an end off its airway costs: more than there and back half round the world, so that the airway decides first."""
OTHER_PIECE_NM = 22_000


@dataclass(frozen=True, slots=True)
class Choice:
    """For each slot the chosen candidate's index (None without candidates), and what every candidate would add."""

    chosen: tuple[int | None, ...]
    longer_nm: tuple[tuple[float, ...], ...]
    """For every candidate: how much longer the whole route would be with it (0 for the chosen one)."""


def choose(chain: Chain) -> Choice:
    """The least-total-length choice. Slots without candidates are stepped over.

    Slots with one candidate cut the route into stretches that are chosen each on its own: what all ways through a
    stretch have in common decides nothing.
    """
    counts = [len(slot.candidates) for slot in chain.slots]  # nearly always all 1: nothing to choose
    chosen: list[int | None] = [0 if count else None for count in counts]
    longer: list[tuple[float, ...]] = [(0.0,) * count for count in counts]
    active = [i for i, count in enumerate(counts) if count] if max(counts) > 1 else []
    for first, end in _open_stretches([counts[i] for i in active]):
        stretch = active[first:end]
        for index, pick, more in zip(stretch, *_chosen(chain, stretch), strict=True):
            chosen[index], longer[index] = pick, more
    return Choice(tuple(chosen), tuple(longer))


def _open_stretches(candidates: Sequence[int]) -> Iterator[tuple[int, int]]:
    """Runs of slots with several candidates, from the sure one before them to the sure one behind: (first, end)."""
    first = None
    for i, count in enumerate(candidates):
        if count > 1 and first is None:
            first = max(i - 1, 0)
        elif count == 1 and first is not None:
            yield first, i + 1
            first = None
    if first is not None:
        yield first, len(candidates)


def _chosen(chain: Chain, stretch: Sequence[int]) -> tuple[list[int], list[tuple[float, ...]]]:
    """For each slot of a stretch the candidate chosen, and how much longer the way is by each."""
    columns = [chain.slots[i].candidates for i in stretch]
    ties = [_tie_between(chain, a, b) for a, b in itertools.pairwise(stretch)]
    costs = [_costs(a, b, tie) for a, b, tie in zip(columns, columns[1:], ties, strict=False)]
    through = _best_through(columns, costs)
    best = min(through[0])
    return _picks(through, costs), [tuple((total - best) / FINENESS for total in totals) for totals in through]


def without_empty_joints(chain: Chain, choice: Choice) -> tuple[Chain, Choice]:
    """The same without implied joints that fall on the stop before or after: nothing would be flown in between.

    The words of an airway of which nothing is flown stay with the link that remains.
    """
    if not any(slot.implied for slot in chain.slots):
        return chain, choice
    slots, ties = list(chain.slots), list(chain.ties)
    chosen, longer = list(choice.chosen), list(choice.longer_nm)
    for index in range(len(slots) - 2, 0, -1):
        here = _place(slots, chosen, index)
        if not slots[index].implied or here is None:
            continue
        for beside, empty, kept in ((index - 1, index - 1, index), (index + 1, index, index - 1)):
            other = _place(slots, chosen, beside)
            if other is not None and airways.same(here, other):
                words = tuple(sorted({*ties[index - 1].words, *ties[index].words}))
                ties[kept] = replace(ties[kept], words=words)
                del ties[empty], slots[index], chosen[index], longer[index]
                break
    return Chain(chain.database, slots, ties), Choice(tuple(chosen), tuple(longer))


def _place(slots: Sequence[Slot], chosen: Sequence[int | None], index: int) -> Place | None:
    pick = chosen[index]
    return None if pick is None else slots[index].candidates[pick]


def _tie_between(chain: Chain, first: int, second: int) -> Tie | None:
    """The tie of neighbouring slots; none across a slot that could not be placed."""
    return chain.ties[first] if second == first + 1 else None


def _costs(before: Sequence[Place], after: Sequence[Place], tie: Tie | None) -> list[list[int]]:
    """What every step from a candidate to one of the next slot costs: its length, and for leaving the airway."""
    if tie and tie.procedure:
        return _costs_of_procedure(before, after, tie.procedure)
    if tie is None or tie.via is not Via.AIRWAY or not tie.pieces:
        return [[_length(a, b) for b in after] for a in before]
    at_before, at_after = ([airways.positions(tie.pieces, place) for place in places] for places in (before, after))
    return [
        [_by_airway(a, b, at_a, at_b, tie) for b, at_b in zip(after, at_after, strict=True)]
        for a, at_a in zip(before, at_before, strict=True)
    ]


def _costs_of_procedure(before: Sequence[Place], after: Sequence[Place], procedure: CodedProcedure) -> list[list[int]]:
    """The lengths, and what it costs to leave the procedure at none of its points, or to join it at none."""
    there = {p.key for p in places_of(procedure)}
    departing = procedure.kind == "SID"
    return [
        [_length(a, b) + _off(b if departing else a, there) * OFF_AIRWAY_NM * FINENESS for b in after] for a in before
    ]


def _off(place: Place, there: set[PlaceKey]) -> bool:
    return place.key not in there


def _length(a: Place, b: Place) -> int:
    """The length of a line in units of a NM / FINENESS."""
    return round(geo.rough_nm(a.lat, a.lon, b.lat, b.lon) * FINENESS)


def _by_airway(a: Place, b: Place, at_a: airways.Positions, at_b: airways.Positions, tie: Tie) -> int:
    """The length along the airway; where it does not join the two, the straight line and what that costs."""
    open_a, open_b = a in tie.open_ends, b in tie.open_ends
    on_a, on_b = open_a or any(at is not None for at in at_a), open_b or any(at is not None for at in at_b)
    if not (on_a and on_b):
        return _length(a, b) + OFF_AIRWAY_NM * FINENESS * (2 - on_a - on_b)
    if open_a or open_b:
        return _length(a, b)
    run = airways.run_from_to(tie.pieces, at_a, at_b)
    if run is None:
        return _length(a, b) + OTHER_PIECE_NM * FINENESS
    return sum(itertools.starmap(_length, itertools.pairwise((a, *run.inner, b))))


def _best_through(columns: list[tuple[Place, ...]], costs: list[list[list[int]]]) -> list[list[int]]:
    """For every candidate the length of the best whole route through it."""
    ahead = [[0] * len(columns[0])]
    for cost in costs:
        last = ahead[-1]
        ahead.append([min(last[i] + row[j] for i, row in enumerate(cost)) for j in range(len(cost[0]))])
    behind = _remaining(costs, len(columns[-1]))
    return [[f + b for f, b in zip(fs, bs, strict=True)] for fs, bs in zip(ahead, behind, strict=True)]


def _picks(through: list[list[int]], costs: list[list[list[int]]]) -> list[int]:
    """One best path: from the best first candidate on, always the step that keeps the whole route shortest."""
    remaining = _remaining(costs, len(through[-1]))
    pick = min(range(len(through[0])), key=lambda i: through[0][i])
    picks = [pick]
    for step, cost in enumerate(costs):
        row, ahead = cost[pick], remaining[step + 1]
        pick = min(range(len(row)), key=lambda j: row[j] + ahead[j])
        picks.append(pick)
    return picks


def _remaining(costs: list[list[list[int]]], last: int) -> list[list[int]]:
    behind = [[0] * last]
    for cost in reversed(costs):
        following = behind[-1]
        behind.append([min(row[j] + following[j] for j in range(len(row))) for row in cost])
    return behind[::-1]
