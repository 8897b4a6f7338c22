"""The items of a route in a chain from aerodrome to aerodrome: points whose places are still to be chosen, and what
connects them. Junctions that no word names are added.
"""

from __future__ import annotations

from dataclasses import KW_ONLY, dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING

from routecheck.model import Airway, Place, PlaceKind, Via
from routecheck.navdata.memo import cached_per_database
from routecheck.procedures.route_procedures import procedure_places
from routecheck.resolution import airways, radials
from routecheck.resolution.items import Item, ItemKind

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from routecheck.model import CodedProcedure, WordRole
    from routecheck.navdata.database import NavDatabase
    from routecheck.resolution.radials import RadialLine

_LINES = frozenset({ItemKind.AIRWAY, ItemKind.RADIAL, ItemKind.PROCEDURE})
_BLOCKING = frozenset({ItemKind.PROCEDURE, ItemKind.TRACK})


@dataclass(frozen=True, slots=True)
class PendingPoint:
    """A route point before one of its `candidates` is chosen. What the fields mean is said in RoutePoint."""

    word: int | None
    text: str
    candidates: tuple[Place, ...]
    _: KW_ONLY
    why: str = ""
    unknown: bool = False
    implied: bool = False
    joined_lines: tuple[str, str] | None = None
    crossings: tuple[tuple[Place, ...], ...] = ()
    namesake_nm: float | None = None


@dataclass(frozen=True, slots=True)
class PendingConnection:
    """What leads from one pending point to the next, before it is known how."""

    via: Via
    words: tuple[int, ...] = ()
    name: str = ""
    _: KW_ONLY
    pieces: tuple[Airway, ...] = ()
    lines: tuple[RadialLine, ...] = ()
    role: WordRole | None = None
    procedure: CodedProcedure | None = None
    open_ends: tuple[Place, ...] = ()
    """The aerodromes at which the airway starts or ends without a point named, and not near enough to need none."""


_NOTHING_BETWEEN = PendingConnection(Via.IMPLIED)


@dataclass(slots=True)
class Chain:
    """`connections[i]` leads from `points[i]` to `points[i + 1]`."""

    database: NavDatabase
    points: list[PendingPoint]
    connections: list[PendingConnection] = field(default_factory=list)

    def add(self, connection: PendingConnection, point: PendingPoint) -> None:
        """Append a point and what leads to it."""
        self.connections.append(connection)
        self.points.append(point)


def build_chain(
    items: Iterable[Item], departure: PendingPoint, destination: PendingPoint, database: NavDatabase
) -> Chain:
    """Chain all items from aerodrome to aerodrome."""
    chain = Chain(database, [departure])
    pending: list[Item] = []
    for item in items:
        if item.kind is ItemKind.POINT:
            _connect(chain, pending, _pending_point(item))
            pending = []
        else:
            pending.append(item)
    _connect(chain, pending, destination, last=True)
    return chain


def _pending_point(item: Item) -> PendingPoint:
    return PendingPoint(item.word, item.text, item.candidates, why=item.why, unknown=item.unknown)


def _connect(chain: Chain, pending: Sequence[Item], point: PendingPoint, *, last: bool = False) -> None:
    if not pending:
        chain.add(_NOTHING_BETWEEN, point)
        return
    blocking = [i for i in pending if i.kind in _BLOCKING]
    lines = [i for i in pending if i.kind in _LINES]
    if lines and (not blocking or _may_all_meet(pending, lines)):
        _connect_lines(chain, lines, point, last=last)
        return
    words = tuple([i.word for i in pending if i.word is not None])
    if blocking:
        via = Via.PROCEDURE if blocking[0].kind is ItemKind.PROCEDURE else Via.UNKNOWN
        first = blocking[0]
        chain.add(PendingConnection(via, words, first.text, role=first.role, procedure=first.procedure), point)
    else:
        chain.add(PendingConnection(Via.DIRECT, words), point)


def _may_all_meet(pending: Sequence[Item], lines: Sequence[Item]) -> bool:
    """Whether several lines in a row, a known procedure among them, may have points in common."""
    apart = any(i.kind in (ItemKind.RADIAL, ItemKind.TRACK) for i in pending)
    return len(lines) > 1 and not apart and all(i.procedure for i in lines if i.kind is ItemKind.PROCEDURE)


def _connect_lines(chain: Chain, lines: Sequence[Item], point: PendingPoint, *, last: bool) -> None:
    """Connect along airways, radials and procedures in a row. An airway written again behind itself is one."""
    repeats = _group_repeats(lines)
    lines = [group[0] for group in repeats]
    start = chain.points[0] if len(chain.points) == 1 and lines[0].kind is ItemKind.AIRWAY else None
    finish = point if last and lines[-1].kind is ItemKind.AIRWAY else None
    joined = _junction_near(chain, lines[0], start) if start else None
    left = _junction_near(chain, lines[-1], finish) if finish else None
    if joined:
        chain.add(_NOTHING_BETWEEN, joined)
    open_start = () if joined or not start else start.candidates
    open_finish = () if left or not finish else finish.candidates
    for group, (before, after) in zip(repeats, pairwise(lines), strict=False):
        chain.add(_connection_along(chain, group, open_start), _junction(chain, before, after))
        open_start = ()
    chain.add(_connection_along(chain, repeats[-1], open_start + open_finish), left or point)
    if left:
        chain.add(_NOTHING_BETWEEN, point)


def _group_repeats(lines: Sequence[Item]) -> list[list[Item]]:
    """The lines, each airway with those behind it that repeat its name: an airway has no junction with itself."""
    groups: list[list[Item]] = []
    for line in lines:
        if groups and line.kind is ItemKind.AIRWAY and groups[-1][0].text == line.text:
            groups[-1].append(line)
        else:
            groups.append([line])
    return groups


def _connection_along(chain: Chain, repeats: Sequence[Item], open_ends: tuple[Place, ...]) -> PendingConnection:
    item, words = repeats[0], tuple(item.word for item in repeats if item.word is not None)
    if item.kind is ItemKind.RADIAL:
        return PendingConnection(Via.RADIAL, words, item.text, lines=item.lines)
    if item.kind is ItemKind.PROCEDURE:
        return PendingConnection(Via.PROCEDURE, words, item.text, role=item.role, procedure=item.procedure)
    pieces = chain.database.airways(item.text)
    return PendingConnection(Via.AIRWAY, words, item.text, pieces=pieces, role=item.role, open_ends=open_ends)


def _junction_near(chain: Chain, item: Item, aerodrome: PendingPoint) -> PendingPoint | None:
    """Where an open-ended airway is joined or left near the aerodrome, if it comes near enough."""
    pieces = chain.database.airways(item.text)
    near = tuple(p for place in aerodrome.candidates for p in airways.points_near_aerodrome(pieces, place))
    if not near:
        return None
    why = f"{item.text} is open-ended; its point near {aerodrome.text} is taken"
    return PendingPoint(item.word, item.text, near, why=why, implied=True)


def _junction(chain: Chain, before: Item, after: Item) -> PendingPoint:
    """The junction of two lines in a row: points that both have, or where a radial meets the other line."""
    text, database = f"{before.text}/{after.text}", chain.database
    crossings: tuple[tuple[Place, ...], ...] = ()
    if before.procedure or after.procedure:
        found = _shared_points(database, before, after)
    elif before.kind is ItemKind.AIRWAY and after.kind is ItemKind.AIRWAY:
        crossings = airways.common_places(database.airways(before.text), database.airways(after.text))
        found = tuple(dict.fromkeys(place for crossing in crossings for place in crossing))
    elif before.kind is ItemKind.RADIAL and after.kind is ItemKind.RADIAL:
        found = radials.radial_crossings(before.lines, after.lines, text)
    else:
        radial, airway = (before, after) if before.kind is ItemKind.RADIAL else (after, before)
        found = _radial_airway_crossings(database, radial.lines, airway.text, text)
    lines = (before.text, after.text)
    return PendingPoint(
        after.word,
        text,
        found,
        why=_describe_junction(found, *lines),
        implied=True,
        joined_lines=lines,
        crossings=crossings,
    )


@cached_per_database(1_024)
def _radial_airway_crossings(
    database: NavDatabase, lines: tuple[RadialLine, ...], airway: str, text: str
) -> tuple[Place, ...]:
    return radials.airway_crossings(lines, database.airways(airway), text)


def _shared_points(database: NavDatabase, before: Item, after: Item) -> tuple[Place, ...]:
    """The points that a procedure has in common with the airway or procedure next to it.

    Those of a transition, which would have been named, only where the other parts have none.
    """
    for without_transitions in (True, False):
        first, second = (_line_places(database, item, without_transitions) for item in (before, after))
        there = {p.key for p in second}
        if found := tuple(p for p in first if p.key in there):
            return found
    return ()


def _line_places(database: NavDatabase, item: Item, without_transitions: bool) -> tuple[Place, ...]:
    if item.procedure:
        return procedure_places(item.procedure, without_transitions=without_transitions)
    return tuple(p for piece in database.airways(item.text) for p in piece.places)


def _describe_junction(found: tuple[Place, ...], first: str, second: str) -> str:
    if not found:
        return f"{first} and {second} do not meet in the loaded data"
    if found[0].kind is PlaceKind.COMPUTED:
        return f"where {first} and {second} meet"
    return f"the point that {first} and {second} share"
