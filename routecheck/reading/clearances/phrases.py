"""The phrases of a spoken clearance, each with the stretch it takes and what it says. No route is written here.

Phraseology of ICAO Doc 4444, 12.3, and FAA Order JO 7110.65, 4-2 and 4-3 (both from memory).
"""

from __future__ import annotations

import re
from enum import Enum, auto
from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass
from routecheck.model import Span

if TYPE_CHECKING:
    from collections.abc import Iterator


class PhraseKind(Enum):
    """What a phrase is about."""

    LIMIT = auto()
    """Cleared to: the aerodrome or point to which the clearance goes."""
    ROUTE = auto()
    """Words of the route, behind via, direct, then."""
    AS_FILED = auto()
    """The rest is as it was filed."""
    LEVEL = auto()
    """Climb, descend, maintain."""
    EXPECTED_LEVEL = auto()
    CROSSING = auto()
    """Cross a point at, above or below an altitude."""
    VIA_PROCEDURE = auto()
    """Climb via, descend via: the altitudes of the procedure hold."""
    RUNWAY = auto()
    ASIDE = auto()
    """Squawk, frequency, time: of no use to a route."""


@dataclass(frozen=True, slots=True)
class Phrase:
    """A phrase with where it stands, and its own values by name, as they are written."""

    kind: PhraseKind
    span: Span
    values: dict[str, tuple[str, Span]]


_POINT = r"(?P<point>[A-Z0-9]{2,11})"
_LEVEL = (
    r"(?P<level>(?:FL|FLIGHT LEVEL) ?\d{2,3}|\d{1,2},?\d{3}(?: ?(?:FT|FEET))?|"
    r"(?:ONE|TWO|THREE|FOUR|FIVE|SIX|SEVEN|EIGHT|NINER?|TEN|ELEVEN|TWELVE) THOUSAND(?: FEET)?)"
)
_LOOSE = r"(?:DEPARTURE |CONTACT |TOWER |ON ){0,3}(?:FREQ(?:UENCY)?|CONTACT \w+|DEPARTURE)?(?: IS| ON)? ?"
_OR = r"OR (?:ABOVE|BELOW)"
_SPOKEN: tuple[tuple[PhraseKind, tuple[str, ...]], ...] = (
    (
        PhraseKind.AS_FILED,
        (
            r"(?:(?:AND )?THEN |AND )?(?:REST (?:OF ROUTE )?)?(?:AS (?:FILED|CLEARED)|FLIGHT PLAN(?:NED)? ROUTE)",
            r"(?:AND )?(?:THE )?REST (?:OF (?:THE )?)?ROUTE (?:IS )?UNCHANGED",
            r"NO CHANGE (?:TO|IN) (?:THE )?ROUTE",
        ),
    ),
    (
        PhraseKind.EXPECTED_LEVEL,
        (rf"EXPECT (?:HIGHER |FINAL )?{_LEVEL}(?: (?:IN )?\w+ MIN(?:UTE)?S?(?: AFTER DEPARTURE)?)?",),
    ),
    (
        PhraseKind.VIA_PROCEDURE,
        (r"(?:CLIMB|DESCEND) VIA (?:THE )?(?:SID|STAR|[A-Z]{3,6} ?\w{1,5} (?:DEPARTURE|ARRIVAL))",),
    ),
    (
        PhraseKind.LEVEL,
        (
            rf"(?:EXCEPT )?(?:CLIMB|DESCEND)(?: AND MAINTAIN| TO| INITIALLY){{0,3}}(?: ALTITUDE)? {_LEVEL}",
            rf"(?:EXCEPT )?MAINTAIN(?: ALTITUDE)? {_LEVEL}",
            r"(?:AT )?(?P<level>(?:FL|FLIGHT LEVEL) ?\d{2,3})",
        ),
    ),
    (
        PhraseKind.CROSSING,
        (rf"CROSS {_POINT} AT (?:AND MAINTAIN )?(?P<how>{_OR} |){_LEVEL}(?P<than> {_OR})?",),
    ),
    (
        PhraseKind.RUNWAY,
        (r"(?P<which>DEPART(?:URE|ING)|TAKE-?OFF|LANDING|ARRIVAL) (?:FROM )?RU?N?WA?Y (?P<runway>\d\d[LRC]?)",),
    ),
    (
        PhraseKind.ASIDE,
        (
            r"SQUAWK(?:ING)? \d{4}",
            rf"{_LOOSE}1[123]\d[.,]\d{{1,3}}",
            r"(?:CLEARANCE )?VOID (?:IF NOT OFF BY|TIME) \d{4}Z?",
            r"(?:RELEASED? )?(?:AT|TIME) \d{4}Z?",
            r"QNH \d{3,4}|INFORMATION [A-Z]\b",
        ),
    ),
    (
        PhraseKind.LIMIT,
        (
            rf"(?:RE-?)?CLEARED TO (?:THE )?{_POINT}(?: (?:AIRPORT|AERODROME))?",
            r"(?:RE-?)?CLEARED (?P<point>[A-Z]{4})(?=,? (?:VIA|AS FILED|AIRPORT))",
        ),
    ),
)
"""How each kind of phrase is said, with a blank for any run of blanks and line ends."""


def _compile_spoken(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern.replace(" ?", r"\s*").replace(" ", r"\s+"))


_BY_KIND = tuple((kind, _compile_spoken(pattern)) for kind, patterns in _SPOKEN for pattern in patterns)
_LEADS = re.compile(
    r"(?:(?:(?:RE-?)?CLEARED|PROCEED(?:ING)?|FLY|ROUT(?:E|ING)|TURN\s+(?:LEFT|RIGHT)|RESUME|WHEN\s+(?:ABLE|READY)|AND|"
    r"THEN)(?:\s+TO)?[,\s]+){0,4}(?P<lead>VIA|DIRECT(?:\s+TO)?|DCT(?:\s+TO)?|THEN(?:\s+VIA)?)[:,\s]+"
)
"""What leads to words of the route: “cleared direct”, “proceed via”, “then”."""
NUMBERS = ("ONE", "TWO", "THREE", "FOUR", "FIVE", "SIX", "SEVEN", "EIGHT", "NINE")
_DIGITS = {name: str(digit) for digit, name in enumerate(NUMBERS, 1)}
_PROCEDURE = re.compile(
    rf"([A-Z]{{3,6}})\s?({'|'.join(_DIGITS)}|\d)\s?([A-Z])?\s+(?:DEPARTURE|ARRIVAL|SID|STAR|TRANSITION)"
)
_TRANSITION = re.compile(r"([A-Z]{2,5})\s+TRANSITION\b")
_WORD = re.compile(r"[A-Z0-9/+.]+")
_BLANKS, _BETWEEN = re.compile(r"[\s,.;:]*"), re.compile(r"[\s,]*")
_ENGLISH_WORDS = (
    "A ABLE ABOVE ACFT ADVISE AFTER AIRPORT AIRWAY ALTITUDE AND ARRIVAL AS AT BELOW BY CHANGE CHECK CLEAR CLEARED "
    "CLIMB CONTACT CONTROL CORRECT CREW CROSS DEPART DESCEND DUE ETC EXCEPT EXPECT FEET FILED FINAL FLIGHT FLY "
    "FOLLOW FOR FROM HEADING HI HOLD IF IN INITIAL INTO IS IT JOIN LEFT LEVEL MAINTAIN MINUTES NEW NO NOT NOW OF "
    "OFF ON OR ORDER OUT OVER PASSING PER PILOT PLAN PLEASE POINT PROCEED READ READY REPORT REROUTE REST RESUME "
    "RIGHT ROUTE ROUTING RUNWAY SLOT SPEED SQUAWK STAND START TAXI THAT THE THEN THIS TIME TO TOWER TRAFFIC TURN "
    "UNTIL VIA WE WEATHER WHEN WILCO WITH YOU YOUR"
)
_ENGLISH = frozenset(_ENGLISH_WORDS.split())
"""Words of a clearance, or about one, that are no points. All others of the form of a point are taken for the route."""


def find_phrases(text: str) -> Iterator[Phrase]:
    """The phrases of a text in capitals, in order. What stands between them is none."""
    at = 0
    while at < len(text):
        at = _skip(_BLANKS, text, at)
        phrase = _find_phrase(text, at)
        if phrase:
            yield phrase
        at = phrase.span.end if phrase else _skip(re.compile(r"\S+"), text, at)


def _find_phrase(text: str, at: int) -> Phrase | None:
    for kind, pattern in _BY_KIND:
        match = pattern.match(text, at)
        if match and match.end() > at and not text[match.end() : match.end() + 1].isalnum():
            values = {name: (match[name], Span(*match.span(name))) for name in match.groupdict() if match[name]}
            return Phrase(kind, Span(*match.span()), values)
    return _find_route(text, at)


def _find_route(text: str, at: int) -> Phrase | None:
    """Words of the route: all behind a word that leads to them, or behind a procedure by its full name."""
    lead = _LEADS.match(text, at)
    if not lead and not _PROCEDURE.match(text, at):
        return None
    end = lead.end() if lead else at
    words = list(_take_words(text, end))
    if not words:
        return None
    if lead and lead["lead"][0] == "D":
        words.insert(0, ("DCT", Span(*lead.span("lead"))))
    return Phrase(PhraseKind.ROUTE, Span(at, words[-1][1].end), {str(i): word for i, word in enumerate(words)})


def _take_words(text: str, at: int) -> Iterator[tuple[str, Span]]:
    """Words of the route one behind the other; the full name of a procedure or transition is one."""
    while (found := _take_word(text, at)) is not None:
        yield found
        at = found[1].end
        if text[at : at + 1] == ".":
            return  # a full stop ends the route
        at = _skip(_BETWEEN, text, at)


def _take_word(text: str, at: int) -> tuple[str, Span] | None:
    if procedure := _PROCEDURE.match(text, at):
        name = procedure[1] + _DIGITS.get(procedure[2], procedure[2]) + (procedure[3] or "")
        return name, Span(*procedure.span())
    if transition := _TRANSITION.match(text, at):
        return transition[1], Span(*transition.span())
    match = _WORD.match(text, at)
    name = match[0].rstrip(".") if match else ""
    if not name or name in _ENGLISH or _is_other_phrase(text, at):
        return None
    return ("DCT" if name == "DIRECT" else name), Span(at, at + len(name))


def _is_other_phrase(text: str, at: int) -> bool:
    return any(pattern.match(text, at) for _, pattern in _BY_KIND)


def _skip(pattern: re.Pattern[str], text: str, at: int) -> int:
    match = pattern.match(text, at)
    return match.end() if match else at
