"""The forms in which the cases of a drill are shown: the clearance of what was meant, and what was entered."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from routecheck.drill.clearances import write_clearance
from routecheck.drill.difficulty import DIFFICULTIES
from routecheck.drill.entered_legs import list_legs
from routecheck.drill.error_kinds import CLEAN
from routecheck.pipeline import assess_many
from routecheck.settings import Settings

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterator, Sequence

    from routecheck.drill.cases import DrillCase
    from routecheck.model import Assessment
    from routecheck.navdata.database import NavDatabase


def write_forms(cases: Sequence[DrillCase], difficulty: int, database: NavDatabase, day: dt.date) -> list[DrillCase]:
    """The same cases, each with its clearance and its legs in the forms of that difficulty."""
    meant = assess_many((case.as_meant() for case in cases), database, Settings(), day)
    entered = assess_many((case.as_entered() for case in cases), database, Settings(), day)
    return [_write_forms(case, difficulty, *both) for case, *both in zip(cases, meant, entered, strict=True)]


def _write_forms(case: DrillCase, number: int, meant: Assessment, entered: Assessment) -> DrillCase:
    difficulty = DIFFICULTIES[number]
    written = replace(
        case,
        difficulty=number,
        clearance=write_clearance(meant, difficulty.clearance),
        legs=tuple((leg.via, leg.to) for leg in list_legs(entered)) if difficulty.shows_legs else (),
        astray=() if case.kind == CLEAN else _list_astray(meant, entered),
    )
    return replace(written, beside=tuple(dict.fromkeys((*case.beside, *_list_beside(written)))))


def _list_beside(case: DrillCase) -> Iterator[str]:
    """The words next to a wrong one as the route is shown, where it is shown as legs."""
    for first, second in pairwise(case.shown_words) if case.legs else ():
        if (first in case.words) != (second in case.words):
            yield second if first in case.words else first


def _list_astray(meant: Assessment, entered: Assessment) -> tuple[str, ...]:
    """The points inside airways that the route goes by as entered and not as meant."""
    right = {point.text for point in meant.route.points}
    inside = (point.text for point in entered.route.points if point.route_point is None and not point.procedure)
    return tuple(dict.fromkeys(text for text in inside if text not in right))
