"""The kinds of entry error of a drill: what a trainee calls them, their family, and why people make them."""

from __future__ import annotations

from routecheck.frozen_dataclass import dataclass


@dataclass(frozen=True, slots=True)
class ErrorKind:
    """A kind by the name that planters and answers use. `citation` is a key of the register, "" where there is none."""

    name: str
    family: str
    why: str
    citation: str = ""


CLEAN = "clean"
"""What an answer says of a route without an error."""
_LETTERS = "Five-letter names are made to be spoken, not to look unlike: one letter turns a name into another or none."
_DIGITS = "Positions are typed as rows of digits that look alike, and nobody can hear a wrong one."
_AIRWAYS = "An airway is entered as a name and an exit: every point on it is accepted, also one beyond the one meant."
_ENDS = "Aerodromes of one country share their first letters, and the last is one of many."
_SWAPPED = "The two are read in one breath and typed in the other order."
_HABIT = "The letter is typed out of habit: that of the part of the world flown most."
_HALF = "Half degrees are written in several ways, one of which drops them."
_NUMBERS = "Procedures are numbered anew when they change: the old number stays in mind."
_REPORTS = "entry-error-reports"
_KINDS = (
    ErrorKind("letter to a known name", "names", _LETTERS, _REPORTS),
    ErrorKind("letter to an unknown name", "names", _LETTERS, _REPORTS),
    ErrorKind("points exchanged", "names", "Two points read together are typed the other way round."),
    ErrorKind("point repeated", "names", "After an interruption the last point is typed again."),
    ErrorKind("airway number", "airways", "Airway names differ in a digit, and nobody can hear a wrong one."),
    ErrorKind("exit too far", "airways", _AIRWAYS),
    ErrorKind("entry too far", "airways", _AIRWAYS),
    ErrorKind("procedure number", "procedures", _NUMBERS),
    ErrorKind("position digit", "positions", _DIGITS, _REPORTS),
    ErrorKind("position digits swapped", "positions", _DIGITS, _REPORTS),
    ErrorKind("position hemisphere", "positions", _HABIT),
    ErrorKind("latitude and longitude exchanged", "positions", _SWAPPED),
    ErrorKind("half degree", "positions", _HALF, "half-degree-names"),
    ErrorKind("ends exchanged", "ends", "The plan of the way back lies under that of the way there."),
    ErrorKind("airport letter", "ends", _ENDS),
)
ERROR_KINDS = {kind.name: kind for kind in _KINDS}
"""By name, in the order in which they are offered."""


def family_of(name: str) -> str:
    """The family of a kind; the name itself where it is none of them."""
    return ERROR_KINDS[name].family if name in ERROR_KINDS else name
