"""What was handed in and the words read from it. No place of the world is known here."""

from __future__ import annotations

import math
from dataclasses import KW_ONLY, field
from enum import StrEnum
from typing import TYPE_CHECKING, NamedTuple

from routecheck.frozen_dataclass import dataclass
from routecheck.model.off_block import off_block_day

if TYPE_CHECKING:
    import datetime as dt

    from routecheck.model.accounting import NotUsed
    from routecheck.model.aircraft import AircraftSheet
    from routecheck.model.altitudes import AltitudeWindow
    from routecheck.model.claims import Claim, ElapsedTime, PlanTotals
    from routecheck.model.load import Load
    from routecheck.model.off_block import OffBlock
    from routecheck.model.pasted import Pasted
    from routecheck.model.read_across import ReadAcross
    from routecheck.model.wind import Wind


class Role(StrEnum):
    """What the text in hand is. Always stated, never assumed."""

    FILED = "filed"
    CLEARED = "cleared"
    ENTERED = "entered"
    NOT_SAID = "not said"


class Span(NamedTuple):
    """Character offsets [start, end) into the route text as given.

    A tuple, for spans are hashed and sorted very often.
    """

    start: int
    end: int

    def overlaps(self, other: Span) -> bool:
        """Whether the two share at least one character."""
        return self.start < other.end and other.start < self.end


@dataclass(frozen=True, slots=True)
class Accepted:
    """A finding that somebody answers for: its check, its words, what it said then; why they do, who, and when.

    `finding` "" = whatever it says. `at` is a time in UTC, "2026-12-03T14:30:00Z", or "" where it is not known.
    """

    check: str
    words: str
    reason: str
    by: str
    _: KW_ONLY
    at: str = ""
    finding: str = ""


@dataclass(frozen=True, slots=True)
class Change:
    """Words changed here against what was entered; the original stays on record.

    `at` = the offset in the route text where it was made, -1 = beside it; `ticked` = the user says that it is
    corrected elsewhere too. `field` = the name in RouteInput of the value beside the text; "" = the text, or not said.
    """

    old: str
    new: str
    at: int = -1
    ticked: bool = False
    field: str = ""


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a route input comes from: the file as the user calls it, and the line at which it begins there.

    `line` None = the file as a whole holds this one route, or nothing that could be read as a route.
    """

    file: str = ""
    line: int | None = None
    columns: tuple[tuple[str, str], ...] = ()
    """What its row holds in columns of other names, (name, text): nothing reads it, results pass it through."""


@dataclass(frozen=True, slots=True)
class RouteInput:
    """One route as handed in, before anything is read. `unread` says why a row could not be read at all."""

    route: str
    departure: str = ""
    destination: str = ""
    _: KW_ONLY
    departure_runway: str = ""
    destination_runway: str = ""
    approach: str = ""
    """The approach at the destination, by its coded name ("I27"); "" = not stated."""
    speed: str = ""
    level: str = ""
    first_altitude: str = ""
    """The altitude or level to which the flight is cleared first, as Item 15 writes it; "" = not said."""
    off_block: OffBlock | None = None
    """Day and time off-block, UTC, or one of them; None = neither is known."""
    name: str = ""
    role: Role = Role.NOT_SAID
    title: str = ""
    alternate: tuple[str, ...] = ()
    alternate_route: str = ""
    """The route from the destination to the first alternate; "" = direct."""
    aircraft_sheet: str = ""
    unread: str = ""
    rules: str = ""
    """Flight rules of Item 8: I, V, Y or Z; "" = not known."""
    expect: tuple[str, ...] | None = None
    claims: tuple[Claim, ...] = ()
    stated_totals: PlanTotals | None = None
    """What the plan states of the flight as a whole; None = nothing."""
    load: Load | None = None
    """Weights, fuel and take-off speeds as the plan states them; None = nothing of them."""
    elapsed: tuple[ElapsedTime, ...] = ()
    """Times from take-off to boundaries and points as a message gives them (EET/ of Item 18)."""
    delays: tuple[ElapsedTime, ...] = ()
    """Delays or holding planned at points of the route (DLE/ of Item 18)."""
    equipment: str = ""
    """Item 10 of a message: the letters of the equipment carried; "" = not known."""
    pbn: str = ""
    """PBN/ of Item 18: the codes of performance-based navigation; "" = none stated."""
    columns: str = ""
    """What the user says the columns of the pasted nav log are, as `--columns` has it: "fix=1,distance=4"."""
    is_routeless: bool = False
    """Whether it is a message whose kind carries no route (a delay, a cancellation …); `unread` then says which."""
    groups: tuple[str, ...] = ()
    """The names of the routes of a message that holds several, where none was chosen; the input is then unread."""
    pasted: Pasted | None = None
    """The whole text that the route was read from, where that was more than the route; None = it was the route."""
    remarks: tuple[str, ...] = ()
    """What was assumed in reading it, in sentences; every result says so."""
    not_used: tuple[NotUsed, ...] = ()
    """What the input holds and its reader could not use."""
    read_across: ReadAcross | None = None
    """What two people found in going through the rows against another display; None = they did not begin."""
    accepted: tuple[Accepted, ...] = ()
    """Findings accepted with a reason. They stay findings: nothing is counted away by it."""
    changed: tuple[Change, ...] = ()
    """What was changed here against what was entered, in the order in which it was changed."""
    typed: tuple[tuple[str, str], ...] = ()
    """What was typed for a value and cannot be read, (name of the field here, text): kept and said, never used."""
    windows: tuple[AltitudeWindow, ...] = ()
    """Altitude windows as stated beside the route."""
    wind: tuple[Wind, ...] = ()
    """One for all levels, one a level, or one a leg; () = none given, which is not calm."""
    isa_deviation_c: float | None = None
    """How much warmer the air is than the standard atmosphere; None = not given, then the standard is taken."""
    other: RouteInput | None = None
    """The other version of the route that this one is compared with; None = there is none."""
    sheet: AircraftSheet | None = None
    """The sheet that `aircraft_sheet` names, put in where the settings are known; None = none, or not known."""
    origin: Origin = field(default=Origin(), compare=False)
    """Where it comes from. Two inputs that say the same are equal, wherever they were read."""

    @property
    def date(self) -> dt.date | None:
        """The day of the flight, UTC; None = not known."""
        return off_block_day(self.off_block)

    @property
    def is_no_input(self) -> bool:
        """Whether a whole file, and not one row of it, could not be read as a route."""
        return bool(self.unread and self.origin.file and self.origin.line is None)


class WordKind(StrEnum):
    """What a word is by its form alone. A NAME is a point, an airway or a procedure: the navigation data decides."""

    NAME = "name"
    POSITION = "position"
    RADIAL = "radial"
    RADIAL_DISTANCE = "radial and distance"
    DIRECT = "direct"
    CHANGE = "speed and level"
    RUNWAY = "runway"
    RULES = "flight rules"
    CRUISE_CLIMB = "cruise climb"
    TRUNCATION = "truncation"
    TRACK = "organised track"
    EUROPEAN = "European word, not checked"
    UNREAD = "unread"


class WordRole(StrEnum):
    """What a word was taken for in its route, as a reader sees it."""

    DEPARTURE = "departure"
    DESTINATION = "destination"
    POINT = "point"
    AIRPORT = "airport"
    POSITION = "position"
    RADIAL_DISTANCE = "radial and distance"
    RADIAL = "radial"
    AIRWAY = "airway"
    SID = "SID"
    STAR = "STAR"
    PROCEDURE_ELSEWHERE = "procedure of another airport"
    DIRECT = "direct"
    TRACK = "organised track"
    CHANGE = "speed and level"
    RUNWAY = "runway"
    RULES = "flight rules"
    CRUISE_CLIMB = "cruise climb"
    TRUNCATION = "truncation"
    EUROPEAN = "European word, not checked"
    UNKNOWN_NAME = "unknown name"
    UNKNOWN_AIRWAY = "unknown airway"
    UNKNOWN_PROCEDURE = "unknown procedure"
    IMPOSSIBLE_POSITION = "impossible position"
    UNREAD = "unread"


class PositionForm(StrEnum):
    """How a typed position was written. Whole degrees are exact by definition, minutes are rounded."""

    DEGREES = "degrees"
    MINUTES = "minutes"


@dataclass(frozen=True, slots=True)
class Position:
    """A typed latitude and longitude, degrees; `precision_deg` is half the last digit typed (0 = exact)."""

    lat: float
    lon: float
    form: PositionForm
    precision_deg: float


@dataclass(frozen=True, slots=True)
class Word:
    """One word of the route text. `text` is upper case; `span` points into the text as given.

    `bad` says why a word of a recognised form cannot be true (minutes of 60, bearing of 400 …); `why` says why a word
    fits no form at all. `attached` marks what follows a slash (`TOVIK/N0430F360` is two words).
    """

    text: str
    span: Span
    kind: WordKind
    _: KW_ONLY
    attached: bool = False
    position: Position | None = None
    ident: str = ""
    bearing_deg: float | None = None
    distance_nm: float | None = None
    speed: str = ""
    level: str = ""
    bad: str = ""
    why: str = ""
    meant: str = ""
    """What stands for a word that fits no form, where only one thing can be meant; `position` or `speed` are its."""

    @property
    def precision_nm(self) -> float:
        """By how much the place it names may be off, NM: half the last digits of a position or radial distance."""
        if self.position:
            return self.position.precision_deg * 60.0
        return 0.0 if self.distance_nm is None else math.hypot(0.5, self.distance_nm * math.radians(0.5))


@dataclass(frozen=True, slots=True)
class ParsedRoute:
    """A route text cut into words, in order. Nothing typed is dropped: every visible character lies in a word, or is
    a separator (blank, `+`, punctuation at the end of a word, `.` between words)."""

    route_input: RouteInput
    words: tuple[Word, ...]
