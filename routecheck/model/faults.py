"""What keeps a stretch of the route, or a procedure, from being followed in the data. Values only.

Each kind of fault is a value of its own with what its sentence needs, so that no code reads a sentence.
"""

from __future__ import annotations

from dataclasses import KW_ONLY

from routecheck.frozen_dataclass import dataclass


@dataclass(frozen=True, slots=True)
class UnknownAirway:
    """The data has no airway of that designator."""


@dataclass(frozen=True, slots=True)
class AirwayNotCovered:
    """The airway cannot be followed, and the data does not cover the whole stretch: it may well lead there."""


@dataclass(frozen=True, slots=True)
class OffAirway:
    """One end of the stretch is not on the airway.

    `nearest` is the point of the airway nearest to that end. `piece_end` is the nearer end of the piece that the other
    end of the stretch is on; the end that is off lies `beyond_nm` from it, after a turn of `beyond_turn_deg` there.
    """

    _: KW_ONLY
    at_entry: bool
    """Whether the end that is off is the one at which the airway is entered, else the one at which it is left."""
    nearest: str
    nearest_nm: float
    piece_end: str
    beyond_nm: float
    beyond_turn_deg: float
    leaves_data: bool
    """Whether `piece_end` is a computer-only fix: there the airway leaves the loaded data, as at a border."""


@dataclass(frozen=True, slots=True)
class BothEndsOffAirway:
    """Neither end of the stretch is on the airway."""


@dataclass(frozen=True, slots=True)
class BrokenAirway:
    """Both ends are on the airway, but not on one continuous piece of it. A piece is named by its first and last point.

    `facing` are the ends of the two pieces that look at each other.
    """

    first_piece: tuple[str, str]
    second_piece: tuple[str, str]
    facing: tuple[str, str]
    leaves_data: bool
    """Whether both of `facing` are computer-only fixes: there the airway leaves the loaded data, as at a border."""


@dataclass(frozen=True, slots=True)
class AirwaysApart:
    """Two lines in a row have no point in common."""


@dataclass(frozen=True, slots=True)
class SeveralCrossings:
    """The airway meets the next one at several places. It is followed all the same, by the shortest way."""


@dataclass(frozen=True, slots=True)
class OpenEnd:
    """The airway starts or ends the route without a point named, and comes nowhere near the aerodrome."""

    aerodrome: str
    nearest: str
    nearest_nm: float


@dataclass(frozen=True, slots=True)
class EndUnplaced:
    """An end of the stretch could not be placed."""


@dataclass(frozen=True, slots=True)
class NoRouteGiven:
    """The text names neither a point nor DCT between the aerodromes, so that nothing says how to get there."""


@dataclass(frozen=True, slots=True)
class RouteCutShort:
    """T ends the text: how the route goes on from here is not in it (ICAO Doc 4444 Appendix 2, Item 15)."""


@dataclass(frozen=True, slots=True)
class ProcedureOutOfPlace:
    """A SID that does not begin the route, or a STAR that does not end it."""


@dataclass(frozen=True, slots=True)
class UnknownProcedure:
    """No airport in the data has a procedure of that name. `airports` are those that were asked for it."""

    airports: tuple[str, ...]
    any_loaded: bool
    """Whether the data has procedures of any of them."""
    renumbered: tuple[tuple[str, str], ...]
    """Those of them that differ in number and letter only: (procedure, airport)."""


@dataclass(frozen=True, slots=True)
class ProcedureElsewhere:
    """The procedure belongs to other airports, `owners`, and to none of `airports`, which were asked for it."""

    airports: tuple[str, ...]
    any_loaded: bool
    """Whether the data has procedures of any of them."""
    owners: tuple[str, ...]
    is_far: bool = False
    """Whether the route joins it at one of its points, and no owner is near the airports that were asked."""


ConnectionFault = (
    UnknownAirway
    | AirwayNotCovered
    | OffAirway
    | BothEndsOffAirway
    | BrokenAirway
    | AirwaysApart
    | SeveralCrossings
    | OpenEnd
    | EndUnplaced
    | NoRouteGiven
    | RouteCutShort
    | ProcedureOutOfPlace
    | UnknownProcedure
    | ProcedureElsewhere
)
"""What is wrong with a connection."""


@dataclass(frozen=True, slots=True)
class NoSuchProcedure:
    """The data has no procedure of that name at that airport."""


@dataclass(frozen=True, slots=True)
class NoSuchRunway:
    """The data has runways of the airport, but not the stated one."""


@dataclass(frozen=True, slots=True)
class RunwayNotServed:
    """The procedure has branches for some runways only: `served`, "08B" = all parallels of 08."""

    procedure: str
    runway: str
    served: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NotJoined:
    """The point of the route next to the procedure is on no branch of it that fits."""

    point: str
    procedure: str
    transitions: tuple[str, ...]


ProcedureFault = NoSuchProcedure | NoSuchRunway | RunwayNotServed | NotJoined
"""What keeps a procedure from being followed as the route says."""
