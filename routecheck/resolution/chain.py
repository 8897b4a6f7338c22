"""Items put in a chain: slots that wait for a place, and the ties between them. Joints that no word names are added."""

from __future__ import annotations

from dataclasses import KW_ONLY, dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING

from routecheck.model import Airway, Place, PlaceKind, Via
from routecheck.navdata.memo import cached_per_database
from routecheck.procedures.route_procedures import places_of
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
class Slot:
    """A stop before its place is chosen. `joins` names the two lines an implied joint belongs to."""

    word: int | None
    text: str
    candidates: tuple[Place, ...]
    _: KW_ONLY
    why: str = ""
    unknown: bool = False
    implied: bool = False
    joins: tuple[str, str] | None = None
    groups: tuple[tuple[Place, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class Tie:
    """What joins a slot to the next one."""

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


_NOTHING_BETWEEN = Tie(Via.IMPLIED)


@dataclass(slots=True)
class Chain:
    """Slots and the ties between them, `ties[i]` from `slots[i]` to `slots[i + 1]`."""

    database: NavDatabase
    slots: list[Slot]
    ties: list[Tie] = field(default_factory=list)

    def add(self, tie: Tie, slot: Slot) -> None:
        """Put one more slot at the end."""
        self.ties.append(tie)
        self.slots.append(slot)


def build(items: Iterable[Item], departure: Slot, destination: Slot, database: NavDatabase) -> Chain:
    """Join all items from aerodrome to aerodrome."""
    chain = Chain(database, [departure])
    pending: list[Item] = []
    for item in items:
        if item.kind is ItemKind.STOP:
            _connect(chain, pending, _slot(item))
            pending = []
        else:
            pending.append(item)
    _connect(chain, pending, destination, last=True)
    return chain


def _slot(item: Item) -> Slot:
    return Slot(item.word, item.text, item.candidates, why=item.why, unknown=item.unknown)


def _connect(chain: Chain, pending: Sequence[Item], slot: Slot, *, last: bool = False) -> None:
    if not pending:
        chain.add(_NOTHING_BETWEEN, slot)
        return
    blocking = [i for i in pending if i.kind in _BLOCKING]
    lines = [i for i in pending if i.kind in _LINES]
    if lines and (not blocking or _all_meet(pending, lines)):
        _connect_lines(chain, lines, slot, last=last)
        return
    words = tuple([i.word for i in pending if i.word is not None])
    if blocking:
        via = Via.PROCEDURE if blocking[0].kind is ItemKind.PROCEDURE else Via.UNKNOWN
        chain.add(Tie(via, words, blocking[0].text, role=blocking[0].role, procedure=blocking[0].procedure), slot)
    else:
        chain.add(Tie(Via.DIRECT, words), slot)


def _all_meet(pending: Sequence[Item], lines: Sequence[Item]) -> bool:
    """Whether several lines in a row, a known procedure among them, may have points in common."""
    apart = any(i.kind in (ItemKind.RADIAL, ItemKind.TRACK) for i in pending)
    return len(lines) > 1 and not apart and all(i.procedure for i in lines if i.kind is ItemKind.PROCEDURE)


def _connect_lines(chain: Chain, lines: Sequence[Item], slot: Slot, *, last: bool) -> None:
    start = chain.slots[0] if len(chain.slots) == 1 and lines[0].kind is ItemKind.AIRWAY else None
    finish = slot if last and lines[-1].kind is ItemKind.AIRWAY else None
    joined = _near(chain, lines[0], start) if start else None
    left = _near(chain, lines[-1], finish) if finish else None
    if joined:
        chain.add(_NOTHING_BETWEEN, joined)
    open_start = () if joined or not start else start.candidates
    open_finish = () if left or not finish else finish.candidates
    for before, after in pairwise(lines):
        chain.add(_tie(chain, before, open_start), _joint(chain, before, after))
        open_start = ()
    chain.add(_tie(chain, lines[-1], open_start + open_finish), left or slot)
    if left:
        chain.add(_NOTHING_BETWEEN, slot)


def _tie(chain: Chain, item: Item, open_ends: tuple[Place, ...]) -> Tie:
    words = () if item.word is None else (item.word,)
    if item.kind is ItemKind.RADIAL:
        return Tie(Via.RADIAL, words, item.text, lines=item.lines)
    if item.kind is ItemKind.PROCEDURE:
        return Tie(Via.PROCEDURE, words, item.text, role=item.role, procedure=item.procedure)
    pieces = chain.database.airways(item.text)
    return Tie(Via.AIRWAY, words, item.text, pieces=pieces, role=item.role, open_ends=open_ends)


def _near(chain: Chain, item: Item, aerodrome: Slot) -> Slot | None:
    """The joint of an open-ended airway with the aerodrome, if the airway comes near enough."""
    pieces = chain.database.airways(item.text)
    near = tuple(p for place in aerodrome.candidates for p in airways.near_aerodrome(pieces, place))
    if not near:
        return None
    why = f"{item.text} is open-ended; its point near {aerodrome.text} is taken"
    return Slot(item.word, item.text, near, why=why, implied=True)


def _joint(chain: Chain, before: Item, after: Item) -> Slot:
    """The joint between two lines in a row: a point both airways have, or where a radial meets the other line."""
    text = f"{before.text}/{after.text}"
    joins = (before.text, after.text)
    if before.procedure or after.procedure:
        found = _shared(chain.database, before, after)
        return Slot(after.word, text, found, why=_why(found, text), implied=True, joins=joins)
    if before.kind is ItemKind.AIRWAY and after.kind is ItemKind.AIRWAY:
        groups = airways.common_places(chain.database.airways(before.text), chain.database.airways(after.text))
        found = tuple(dict.fromkeys(p for group in groups for p in group))
        return Slot(after.word, text, found, why=_why(found, text), implied=True, joins=joins, groups=groups)
    if before.kind is ItemKind.RADIAL and after.kind is ItemKind.RADIAL:
        found = radials.crossings(before.lines, after.lines, text)
    else:
        line, airway = (before, after) if before.kind is ItemKind.RADIAL else (after, before)
        found = _crossings(chain.database, line.lines, airway.text, text)
    return Slot(after.word, text, found, why=_why(found, text), implied=True, joins=joins)


@cached_per_database(1_024)
def _crossings(database: NavDatabase, lines: tuple[RadialLine, ...], airway: str, text: str) -> tuple[Place, ...]:
    return radials.airway_crossings(lines, database.airways(airway), text)


def _shared(database: NavDatabase, before: Item, after: Item) -> tuple[Place, ...]:
    """The points that a procedure has in common with the airway or procedure next to it.

    Those of a transition, which would have been named, only where the other parts have none.
    """
    for without_transitions in (True, False):
        first, second = (_places(database, item, without_transitions) for item in (before, after))
        there = {p.key for p in second}
        if found := tuple(p for p in first if p.key in there):
            return found
    return ()


def _places(database: NavDatabase, item: Item, without_transitions: bool) -> tuple[Place, ...]:
    if item.procedure:
        return places_of(item.procedure, without_transitions=without_transitions)
    return tuple(p for piece in database.airways(item.text) for p in piece.places)


def _why(found: tuple[Place, ...], text: str) -> str:
    first, _, second = text.partition("/")
    if not found:
        return f"{first} and {second} do not meet in the loaded data"
    if found[0].kind is PlaceKind.COMPUTED:
        return f"where {first} and {second} meet"
    return f"the point that {first} and {second} share"
