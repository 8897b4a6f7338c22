"""The three difficulties of a drill: in what form clearance and entry are shown, and what of the tool is.

One form for both makes a reading of word against word: for beginners. From level 2 on the clearance stands in words and
the entry as legs, as on a day at work: the reader must know what lies on an airway, and where it is to be left.

A clearance gives some kinds away at a glance: exchanged ends and another airport stand in its first words, and a point
that was entered twice needs none. They stay, for they happen; at level 3 most of them are rare (`making`). What it
cannot show, a point of the same name elsewhere, is no kind of a drill: both texts would be the same.
"""

from __future__ import annotations

from dataclasses import KW_ONLY
from enum import StrEnum

from routecheck.frozen_dataclass import dataclass


class ClearanceForm(StrEnum):
    """How a clearance is written down."""

    TYPED = "the words of the route"
    PHRASES = "in phrases"
    SPOKEN = "as it is spoken"


@dataclass(frozen=True, slots=True)
class Difficulty:
    """What a trainee sees of a route without paying for it."""

    number: int
    summary: str
    _: KW_ONLY
    clearance: ClearanceForm
    shows_legs: bool
    """Whether the entry is shown as legs, the points of airways among them; else as the words that were typed."""
    shows_picture: bool
    shows_figures: bool


USUAL_DIFFICULTY = 2
DIFFICULTIES = {
    one.number: one
    for one in (
        Difficulty(
            1,
            "large errors; clearance and entry word against word; picture and figures shown",
            clearance=ClearanceForm.TYPED,
            shows_legs=False,
            shows_picture=True,
            shows_figures=True,
        ),
        Difficulty(
            2,
            "errors of any size; clearance in phrases, entry as legs; picture shown, figures at a cost",
            clearance=ClearanceForm.PHRASES,
            shows_legs=True,
            shows_picture=True,
            shows_figures=False,
        ),
        Difficulty(
            3,
            "small errors; clearance as it is spoken, entry as legs; picture and figures at a cost",
            clearance=ClearanceForm.SPOKEN,
            shows_legs=True,
            shows_picture=False,
            shows_figures=False,
        ),
    )
}
"""By number."""
