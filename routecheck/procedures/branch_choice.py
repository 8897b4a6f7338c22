"""Which branches of a procedure a route means: by its runway and the point it joins or leaves at. No path here."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import product
from typing import TYPE_CHECKING

from routecheck.model import CodedLeg, Place, PlaceKind, RunwayNotServed
from routecheck.procedures.coded_path import SAME_PLACE_NM, same_place
from routecheck.procedures.wording import branch_serves, list_runways

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from routecheck.model import CodedBranch, CodedProcedure, ProcedureFault

JoinPoint = str | Place
"""The point of the route next to a procedure: an ident (of a fix, or of a transition that has one), or a place."""
JOINS_WITHIN_NM = 1.0
"""A typed or computed position this near to a point of a procedure joins there: our choice."""
KINDS_WITHOUT_IDENT = frozenset({PlaceKind.TYPED, PlaceKind.COMPUTED})
"""Kinds of places that are not of the data: a user typed them, or we computed them."""


@dataclass(slots=True)
class BranchChoice:
    """The branches of a procedure that a route may mean, by their part, and what has to be said of the choice."""

    runway_branches: list[CodedBranch] = field(default_factory=list)
    common: list[CodedBranch] = field(default_factory=list)
    transitions: list[CodedBranch] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    faults: list[ProcedureFault] = field(default_factory=list)

    def leg_sequences(self, *, departing: bool) -> list[list[CodedLeg]]:
        """Every way through the branches, each as its legs in the order of flight, without the missed approach."""
        parts: list[Sequence[CodedBranch | None]] = [
            self.runway_branches or [None],
            self.common or [None],
            self.transitions or [None],
        ]
        ways = product(*(parts if departing else reversed(parts)))
        return [_concatenate_legs([branch for branch in way if branch]) for way in ways]


def _concatenate_legs(branches: Iterable[CodedBranch]) -> list[CodedLeg]:
    """Concatenate branches that follow each other, each from the fix on at which the one before ends.

    Of approaches a transition may end at a fix in the midst of what follows, with a procedure turn there.
    """
    legs: list[CodedLeg] = []
    for branch in branches:
        own = [leg for leg in branch.legs if not leg.missed]
        end = legs[-1].fix if legs else None
        at = next((i for i, leg in enumerate(own) if end is not None and same_place(leg.fix, end)), 0)
        legs += own[at:]
    return legs


def is_join_point(name: str, place: Place | None, join: JoinPoint) -> bool:
    """Whether a point of a procedure is the one that the route joins at or leaves at."""
    if isinstance(join, str):
        return name == join
    return same_place(place, join, JOINS_WITHIN_NM if join.kind in KINDS_WITHOUT_IDENT else SAME_PLACE_NM)


def join_ident(join: JoinPoint) -> str:
    """The ident of a joining point, as a sentence names it."""
    return join if isinstance(join, str) else join.ident


def choose_branches(procedure: CodedProcedure, runway: str, join: JoinPoint | None) -> BranchChoice:
    """Choose the branches for a runway ("" = not stated) and a joining point (None = not known)."""
    choice = BranchChoice()
    _choose_by_runway(choice, procedure, runway)
    if join is not None and (_has_transition_from(procedure, join) or not _any_has_point(choice.common, join)):
        _choose_by_join(choice, procedure, join)
    if not runway and len(choice.runway_branches) > 1:
        choice.remarks.append(
            f"no runway is stated: of the {len(choice.runway_branches)} runway branches of {procedure.name} "
            "only what they share is used"
        )
    elif not runway and choice.runway_branches:
        only = list_runways(branch.runway for branch in choice.runway_branches)
        choice.remarks.append(f"no runway is stated: the branch for {only}, the only one that fits, is used")
    elif len(choice.runway_branches) > 1:
        choice.remarks.append(f"runway {runway} has several branches in {procedure.name}: only what they share is used")
    return choice


def _choose_by_runway(choice: BranchChoice, procedure: CodedProcedure, runway: str) -> None:
    branches = [*procedure.runways, *procedure.common]
    choice.runway_branches = [b for b in procedure.runways if not runway or branch_serves(b, runway)]
    choice.common = [b for b in procedure.common if not runway or branch_serves(b, runway)]
    special = [b for b in branches if b.runway]
    if runway and special and not any(b in special for b in (*choice.runway_branches, *choice.common)):
        choice.faults.append(RunwayNotServed(procedure.name, runway, tuple(branch.runway for branch in special)))


def _has_transition_from(procedure: CodedProcedure, join: JoinPoint) -> bool:
    """Whether an approach has a transition from the joining point: the published way, though it is on the rest too.

    4,320 of cycle 2301, nearly all a holding or a procedure turn at the very point, where height is lost.
    """
    named = [branch for branch in procedure.transitions if branch.ident == join_ident(join)]
    return procedure.kind == "APPROACH" and any(_has_point(branch, join) for branch in named)


def _choose_by_join(choice: BranchChoice, procedure: CodedProcedure, join: JoinPoint) -> None:
    """Choose the transitions that have the point; else the runway branches that have it; else none."""
    through = [branch for branch in choice.runway_branches if _has_point(branch, join)]
    transitions = [branch for branch in procedure.transitions if _has_point(branch, join)]
    named = [branch for branch in transitions if branch.ident == join_ident(join)]
    if through and not named:
        if len(through) < len(choice.runway_branches):
            runways = list_runways(branch.runway for branch in through)
            choice.remarks.append(f"{join_ident(join)} lies only on the branches for {runways}")
        choice.runway_branches = through
        return
    choice.transitions = named or transitions


def _has_point(branch: CodedBranch, join: JoinPoint) -> bool:
    return any(is_join_point(leg.fix_ident, leg.fix, join) for leg in branch.legs if leg.fix_ident and not leg.missed)


def _any_has_point(branches: Iterable[CodedBranch], join: JoinPoint) -> bool:
    return any(_has_point(branch, join) for branch in branches)
