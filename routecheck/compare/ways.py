"""Stretches that are flown in another way: by an airway in one version, direct or by another airway in the other."""

from __future__ import annotations

from itertools import groupby, pairwise
from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass
from routecheck.model import Difference, DifferenceKind, Via

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from routecheck.compare.alignment import AlignedPoint, Alignment
    from routecheck.model import Connection, Route

_DIRECT = "DCT"


@dataclass(frozen=True, slots=True)
class _Stretch:
    """A stretch between two points that are in both, by their indices in each, and by what it is flown in each."""

    start: tuple[int, int]
    end: tuple[int, int]
    ours: tuple[str, ...]
    theirs: tuple[str, ...]


def differing_ways(first: Route, second: Route, alignment: Alignment) -> Iterator[Difference]:
    """Every stretch between points of both that is flown in another way; neighbours that differ alike are one."""
    joined: list[_Stretch] = []
    for stretch in _differing_stretches(first, second, alignment):
        before = joined[-1] if joined else None
        alike = before and (before.end, before.ours, before.theirs) == (stretch.start, stretch.ours, stretch.theirs)
        if before and alike:
            joined[-1] = _Stretch(before.start, stretch.end, stretch.ours, stretch.theirs)
        else:
            joined.append(stretch)
    for stretch in joined:
        (a, b), (c, d) = stretch.start, stretch.end
        yield Difference(
            DifferenceKind.WAY,
            f"{first.points[a].text}–{first.points[c].text}",
            stretch.ours,
            stretch.theirs,
            points=(a, c),
            other_points=(b, d),
        )


def _differing_stretches(first: Route, second: Route, alignment: Alignment) -> Iterator[_Stretch]:
    blocks = {block.before: block for block in alignment.blocks}
    same = ((one.index, other.index) for one, other in alignment.same)
    ends = len(first.points) - 1, len(second.points) - 1
    for (a, b), (c, d) in pairwise([(0, 0), *same, ends]):
        block = blocks.get((a, b))
        ours, theirs = _ways(first, a, c), _ways(second, b, d)
        if not ours or not theirs:
            continue  # a procedure or a word that is no way leads there: these are compared as they are written
        if block and _has_named((*block.first, *block.second)):
            only_ours, only_theirs = _airways_only_in(ours, theirs), _airways_only_in(theirs, ours)
            if only_ours or only_theirs:
                yield _Stretch((a, b), (c, d), only_ours, only_theirs)
        elif block or ours != theirs:
            yield _Stretch((a, b), (c, d), ours, theirs)


def _has_named(points: Iterable[AlignedPoint]) -> bool:
    return any(point.named for point in points)


def _airways_only_in(ways: tuple[str, ...], others: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(way for way in dict.fromkeys(ways) if way != _DIRECT and way not in others)


def _ways(route: Route, first: int, last: int) -> tuple[str, ...]:
    """By what a stretch is flown, in order; () where a procedure leads along it, or nothing that has a name."""
    connections = [route.resolved.connections[leg.connection] for leg in route.legs[first:last]]
    names = [_way(connection) for connection in connections if not _is_procedure(connection)]
    return tuple(name for name, _ in groupby(filter(None, names)))


def _is_procedure(connection: Connection) -> bool:
    return connection.via is Via.PROCEDURE or bool(connection.procedure_kind)


def _way(connection: Connection) -> str:
    if connection.via in (Via.DIRECT, Via.IMPLIED):
        return _DIRECT
    return connection.name if connection.via is Via.AIRWAY else ""
