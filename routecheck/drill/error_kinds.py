"""The kinds of entry error of a drill: what a trainee calls them, their family, and why people make them."""

from __future__ import annotations

from routecheck.citations import cite
from routecheck.frozen_dataclass import dataclass


@dataclass(frozen=True, slots=True)
class ErrorKind:
    """A kind by the name that planters and answers use. `citation` is a key of the register, "" where there is none."""

    name: str
    family: str
    meaning: str
    """What it looks like, in a few words."""
    why: str
    citation: str = ""

    def explain(self, sentence: str = "") -> str:
        """Why people make it, or what the instructor says of it, and where such an error was reported."""
        source = f"Reported: {cite(self.citation)}." if self.citation else "No public report of it is known to us."
        return f"{sentence or self.why} {source}"


CLEAN = "clean"
"""What an answer says of a route without an error."""
_KINDS = (
    ErrorKind(
        "letter to a known name",
        "names",
        "another point's name, an error in the letters away",
        "Five-letter names are made to be spoken, not to look unlike: with two letters exchanged or one changed the "
        "name is often that of another point, and nothing refuses it.",
        "letters-exchanged-report",
    ),
    ErrorKind(
        "letter to an unknown name",
        "names",
        "a name that nothing has, an error in the letters away",
        "Letters and figures that look alike (I and 1, O and 0) or lie side by side on the keys are taken for each "
        "other; the name is then nobody's, or stands for another place.",
        "letter-for-figure-report",
    ),
    ErrorKind(
        "points exchanged",
        "names",
        "two points, each in the place of the other",
        "Two points are heard or read in one breath and kept in mind as a pair; the order is what is lost first.",
    ),
    ErrorKind(
        "point repeated",
        "names",
        "a point entered twice in a row",
        "The work is interrupted after a point; whoever comes back types it again to be on the safe side.",
    ),
    ErrorKind(
        "airway number",
        "airways",
        "another airway, a figure or letter of its name away",
        "Airways of one letter differ in a figure only, and many of them pass the same points.",
    ),
    ErrorKind(
        "exit too far",
        "airways",
        "the airway is left beyond the point that was meant",
        "An airway is entered as its name and the point where it is left. Every point of it is taken, and those of the "
        "next stretch stand beside the right one in the list.",
        "airway-exit-report",
    ),
    ErrorKind(
        "entry too far",
        "airways",
        "the airway is joined at a point before the one that was meant",
        "Where an airway is joined is seldom said, for the point before it says it. The point that stands first in the "
        "list, or that is joined on other days, is taken instead.",
        "airway-entry-report",
    ),
    ErrorKind(
        "procedure number",
        "procedures",
        "the SID or STAR with another number",
        "A procedure has another number each time it is changed, and others that differ in a letter or figure: the one "
        "of last month, or the next line of the list, is entered.",
        "procedure-choice-report",
    ),
    ErrorKind(
        "position digit",
        "positions",
        "one digit of a position is another",
        "A position is a row of digits with no sense to it, and with one of them wrong it is a position all the same.",
        "position-digit-report",
    ),
    ErrorKind(
        "position digits swapped",
        "positions",
        "two digits of a position, each in the place of the other",
        "Two digits side by side are typed the other way round. The total distance may hardly change, so that a check "
        "of the total misses it.",
        "digits-exchanged-report",
    ),
    ErrorKind(
        "position hemisphere",
        "positions",
        "north for south, or east for west",
        "The letter is typed out of habit: that of the part of the world flown most. Points hundreds of miles apart "
        "may change the total by little.",
        "hemisphere-report",
    ),
    ErrorKind(
        "latitude and longitude exchanged",
        "positions",
        "the digits of one in the place of the other",
        "Both numbers are read out in one breath, and where the longitude is below 90 each of them can be either.",
    ),
    ErrorKind(
        "half degree",
        "positions",
        "half a degree of latitude too much or too little",
        "Half degrees are written in several ways, one of which is a letter moved by one place: read as whole degrees "
        "it is 30 NM off.",
        "half-degree-names",
    ),
    ErrorKind(
        "ends exchanged",
        "ends",
        "departure and destination, each in the place of the other",
        "The flight back lies in the same folder under nearly the same name, and its ends are those of this one.",
    ),
    ErrorKind(
        "airport letter",
        "ends",
        "another aerodrome, a letter of its name away",
        "Aerodromes of one country share their first letters, so that the last one or two carry all the difference.",
    ),
)
ERROR_KINDS = {kind.name: kind for kind in _KINDS}
"""By name, in the order in which they are offered."""


def family_of(name: str) -> str:
    """The family of a kind; the name itself where it is none of them."""
    return ERROR_KINDS[name].family if name in ERROR_KINDS else name


def explain_kind(name: str) -> str:
    """What a kind looks like; "" for what is none."""
    return ERROR_KINDS[name].meaning if name in ERROR_KINDS else ""
