"""Which branches of a procedure a route means: by its runway and the point it joins or leaves at. No path here."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import product
from typing import TYPE_CHECKING

from routecheck.model import CodedLeg, Place, PlaceKind, RunwayNotServed
from routecheck.procedures.coded_path import SAME_PLACE_NM, same_place
from routecheck.procedures.wording import list_runways, serves

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from routecheck.model import CodedBranch, CodedProcedure, ProcedureFault

Join = str | Place
"""The point of the route next to a procedure: an ident (of a fix, or of a transition that has one), or a place."""
NEAR_ENOUGH_NM = 1.0
"""A typed or computed position this near to a point of a procedure joins there: our choice."""
NO_IDENT = frozenset({PlaceKind.TYPED, PlaceKind.COMPUTED})
"""Places that the user or the reckoning made, not the data."""


@dataclass(slots=True)
class Choice:
    """The branches to be walked, alternatives by part (`near` = runway, `far` = transitions), and what is said."""

    near: list[CodedBranch] = field(default_factory=list)
    common: list[CodedBranch] = field(default_factory=list)
    far: list[CodedBranch] = field(default_factory=list)
    said: list[str] = field(default_factory=list)
    faults: list[ProcedureFault] = field(default_factory=list)

    def chains(self, *, departing: bool) -> list[list[CodedLeg]]:
        """Every way through the branches left, each as its legs in the order of flight, without the missed approach."""
        parts: list[Sequence[CodedBranch | None]] = [self.near or [None], self.common or [None], self.far or [None]]
        ways = product(*(parts if departing else reversed(parts)))
        return [_linked([branch for branch in way if branch]) for way in ways]


def _linked(branches: Iterable[CodedBranch]) -> list[CodedLeg]:
    """The legs of branches that follow each other, each from the fix on at which the one before ends.

    Approaches need it: a transition may end at a fix in the midst of what follows, with a procedure turn there.
    """
    legs: list[CodedLeg] = []
    for branch in branches:
        own = [leg for leg in branch.legs if not leg.missed]
        end = legs[-1].fix if legs else None
        at = next((i for i, leg in enumerate(own) if end is not None and same_place(leg.fix, end)), 0)
        legs += own[at:]
    return legs


def is_join(name: str, place: Place | None, join: Join) -> bool:
    """Whether a point of a procedure is the one that the route joins at or leaves at."""
    if isinstance(join, str):
        return name == join
    return same_place(place, join, NEAR_ENOUGH_NM if join.kind in NO_IDENT else SAME_PLACE_NM)


def name_of(join: Join) -> str:
    """The ident of a join, to be told."""
    return join if isinstance(join, str) else join.ident


def choose(procedure: CodedProcedure, runway: str, join: Join | None) -> Choice:
    """The branches for a runway ("" = not stated) and a joining point (None = not known)."""
    choice = Choice()
    _choose_by_runway(choice, procedure, runway)
    if join is not None and (_begins_there(procedure, join) or not _on_any(choice.common, join)):
        _choose_by_join(choice, procedure, join)
    if not runway and len(choice.near) > 1:
        choice.said.append(
            f"no runway is stated: of the {len(choice.near)} runway branches of {procedure.name} only what they share"
            " is used"
        )
    elif not runway and choice.near:
        only = list_runways(branch.runway for branch in choice.near)
        choice.said.append(f"no runway is stated: the branch for {only}, the only one that fits, is used")
    elif len(choice.near) > 1:
        choice.said.append(f"runway {runway} has several branches in {procedure.name}: only what they share is used")
    return choice


def _choose_by_runway(choice: Choice, procedure: CodedProcedure, runway: str) -> None:
    branches = [*procedure.runways, *procedure.common]
    choice.near = [b for b in procedure.runways if not runway or serves(b, runway)]
    choice.common = [b for b in procedure.common if not runway or serves(b, runway)]
    special = [b for b in branches if b.runway]
    if runway and special and not any(b in special for b in (*choice.near, *choice.common)):
        choice.faults.append(RunwayNotServed(procedure.name, runway, tuple(branch.runway for branch in special)))


def _begins_there(procedure: CodedProcedure, join: Join) -> bool:
    """Whether an approach has a transition from the joining point: the published way, though it is on the rest too.

    4,320 of cycle 2301, nearly all a holding or a procedure turn at the very point, where height is lost.
    """
    named = [branch for branch in procedure.transitions if branch.ident == name_of(join)]
    return procedure.kind == "APPROACH" and any(_on(branch, join) for branch in named)


def _choose_by_join(choice: Choice, procedure: CodedProcedure, join: Join) -> None:
    """Transitions that have the point; else the runway branches that have it; else none."""
    near = [branch for branch in choice.near if _on(branch, join)]
    far = [branch for branch in procedure.transitions if _on(branch, join)]
    named = [branch for branch in far if branch.ident == name_of(join)]
    if near and not named:
        if len(near) < len(choice.near):
            runways = list_runways(branch.runway for branch in near)
            choice.said.append(f"{name_of(join)} lies only on the branches for {runways}")
        choice.near = near
        return
    choice.far = named or far


def _on(branch: CodedBranch, join: Join) -> bool:
    return any(is_join(leg.fix_ident, leg.fix, join) for leg in branch.legs if leg.fix_ident and not leg.missed)


def _on_any(branches: Iterable[CodedBranch], join: Join) -> bool:
    return any(_on(branch, join) for branch in branches)
