"""Words turned into route points and connections, and those into points and legs with every computed figure."""

from __future__ import annotations

from dataclasses import KW_ONLY, field
from enum import StrEnum
from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass
from routecheck.model.data import PlaceKind
from routecheck.model.faults import SeveralCrossings

if TYPE_CHECKING:
    import datetime as dt

    from routecheck.model.altitudes import AltitudeWindow, LegMinima
    from routecheck.model.corrections import BestEdit
    from routecheck.model.data import Airway, AirwaySegment, DataSource, Place
    from routecheck.model.faults import ConnectionFault
    from routecheck.model.procedure import FlownProcedure, Shape, SpeedLimit
    from routecheck.model.text import ParsedRoute, RouteInput, Span, WordRole
    from routecheck.model.usage import KnownUsage


_NOT_ALL = 0.9999
"""The greatest share short of all: a stretch that may be of no length at all may also be long."""


class Via(StrEnum):
    """How a stretch between two route points is flown."""

    DIRECT = "DCT"
    IMPLIED = "implied direct"
    AIRWAY = "airway"
    PROCEDURE = "procedure"
    RADIAL = "radial"
    UNKNOWN = "unknown"


_NO_PATH = frozenset({Via.PROCEDURE, Via.UNKNOWN})


@dataclass(frozen=True, slots=True)
class LostChoice:
    """A place of the same name that was not chosen, and by how much the whole route would be longer with it."""

    place: Place
    longer_nm: float | None
    reason: str


@dataclass(frozen=True, slots=True)
class RoutePoint:
    """A point the text names, an airport beside the text, or a junction that the text implies; placed or not.

    `word` indexes ParsedRoute.words; None for the airports given beside the text. `place` None = could not be placed;
    `why` then says why, its name included. `implied` marks a junction that no word names: of two airways in a row, or
    of an airway left open near an aerodrome.
    """

    word: int | None
    text: str
    place: Place | None
    _: KW_ONLY
    why: str = ""
    implied: bool = False
    lost_choices: tuple[LostChoice, ...] = ()
    covered: bool = True
    """Whether the loaded data is complete where the point is, or where it should be."""
    unknown: bool = False
    """Whether the word was read but nothing of that name is in the data."""
    joined_lines: tuple[str, str] | None = None
    """The two airways, radials or procedures in a row whose junction it is; None = it is none."""
    hint: Place | None = None
    """Where an undated list of the world has a station of its name, if it has no place: shown, never reckoned with."""
    namesake_nm: float | None = None
    """How far away another place of the name is loaded, where the data does not cover the way; None = none is."""
    crossings: tuple[tuple[str, ...], ...] = ()
    """The places at which the two airways meet: each is one point, or the points of a stretch flown by both."""


@dataclass(frozen=True, slots=True)
class PresentProcedure:
    """The procedure that the data has now in place of one with another number, as the route would fly it."""

    name: str
    path: FlownProcedure


@dataclass(frozen=True, slots=True)
class Connection:
    """How the route leads from route point `i` to route point `i + 1`.

    `words` index the words that say so, `name` is the airway's designator or the procedure's name, `inner` are the
    places of an airway between the two points.
    """

    via: Via
    words: tuple[int, ...] = ()
    name: str = ""
    _: KW_ONLY
    inner: tuple[Place, ...] = ()
    segments: tuple[AirwaySegment, ...] = ()
    forward: bool = True
    """Whether the airway is flown in the order in which it is coded."""
    piece: Airway | None = field(default=None, compare=False, repr=False)
    """The piece of the airway that `segments` are of; None off airways."""
    first_segment: int = 0
    """The index in that piece of the segment that is flown first."""
    fault: ConnectionFault | None = None
    off_radial_nm: float | None = None
    """How far the nearer end lies off the radial that is to be flown; None = no radial, or an end is not placed."""
    procedure: FlownProcedure | None = None
    """The coded path of a SID, STAR or approach, whose legs know their own gaps; None = it could not be followed."""
    procedure_kind: str = ""
    """"SID", "STAR" or "APPROACH" where there is a `procedure`."""
    present: PresentProcedure | None = field(default=None, compare=False, repr=False)
    """Where the named procedure is not in the data, the one that has its name and another number there: to be shown."""

    is_straight: bool = False
    """Whether it is measured straight although a fault keeps it from being followed: the plan gives its points."""

    @property
    def is_blocked(self) -> bool:
        """Whether a fault keeps it from being followed. Several crossings do not: the shortest is taken."""
        return self.fault is not None and not isinstance(self.fault, SeveralCrossings)

    @property
    def is_gap(self) -> bool:
        """Whether the path between the two points is not fixed, so that no length may be given."""
        return not self.is_straight and (self.is_blocked or (self.procedure is None and self.via in _NO_PATH))


@dataclass(frozen=True, slots=True)
class ResolvedRoute:
    """Words turned into places; `connections[i]` leads from `route_points[i]` to `route_points[i + 1]`."""

    parsed: ParsedRoute
    _: KW_ONLY
    route_points: tuple[RoutePoint, ...]
    connections: tuple[Connection, ...]
    roles: tuple[WordRole, ...]
    """For every word what it was taken for."""
    sources: tuple[DataSource, ...] = ()
    runways: tuple[str, str] = ("", "")
    """The runways of departure and destination ("09", "27R") as stated or typed; of an approach its own; "" = none."""
    thresholds: tuple[Place | None, Place | None] = (None, None)
    """Where these runways begin; None where none is stated or the data does not have it."""
    other_approaches: tuple[str, ...] | None = None
    """Where an approach is stated that the destination does not have in the data: those it has; else None."""
    runways_there: tuple[tuple[str, ...], tuple[str, ...]] = ((), ())
    """All runways of departure and destination that are loaded, where one is stated; () = none loaded, or not asked."""
    departure_end: Place | None = None
    """The far end of the departure runway, from its opposite threshold; None where that is not known."""


@dataclass(frozen=True, slots=True)
class PathPoint:
    """One point of the path. `span` is that of the word it came from, None for the airports beside the text.

    `route_point` indexes ResolvedRoute.route_points; None = inside an airway or procedure, not chosen. `place` None =
    not placed.
    """

    text: str
    span: Span | None
    place: Place | None
    route_point: int | None
    _: KW_ONLY
    why: str = ""
    procedure: str = ""
    """The SID, STAR or approach whose coded path goes by it; "" = none."""
    speed: SpeedLimit | None = None
    """The limit coded there; how far it reaches is said by the legs."""
    fly_over: bool = False
    note: str = ""
    """What is flown there without adding to the path: a holding, a procedure turn."""

    @property
    def taken_for(self) -> str:
        """The position that its word means though it fits no form of one; "" where it says what it means."""
        place = self.place
        typed = place is not None and place.kind is PlaceKind.TYPED and place.ident != self.text
        return place.ident if place is not None and typed else ""


class VariationFrom(StrEnum):
    """Where a magnetic course has its variation from."""

    WMM = "WMM2025"
    RECORD = "the record's variation"
    FIELD = "the field's record"
    NEARBY = "a nearby fix's record"
    STATION = "the station's alignment"


@dataclass(frozen=True, slots=True)
class Leg:
    """From point i to point i + 1. A figure that has no ground is None; `gap` then says why, "" = no gap.

    Courses in degrees: `course_*` leaving the first point, `end_course_*` arriving at the second. `least_nm` is the
    geodesic between the ends where both are placed, gap or not: what the stretch measures at least.
    """

    via: str
    connection: int
    _: KW_ONLY
    distance_nm: float | None
    course_true_deg: float | None
    end_course_true_deg: float | None
    course_magnetic_deg: float | None
    end_course_magnetic_deg: float | None
    variation_from: VariationFrom | None
    least_nm: float | None
    gap: str = ""
    is_open_by_design: bool = False
    """Whether the gap is published as one: a heading, vectors, nothing coded. Else what lies there was lost."""
    shape: Shape = ()
    """The points of an arc, both ends included, which `distance_nm` follows; () = a geodesic."""
    most_kt: float | None = None
    """The coded speed limit in force along it, indicated; likewise `least_kt`."""
    least_kt: float | None = None

    @property
    def variation_deg(self) -> float | None:
        """The variation that its magnetic course rests on, degrees, east positive; None = it has no such course."""
        if self.course_true_deg is None or self.course_magnetic_deg is None:
            return None
        return (self.course_true_deg - self.course_magnetic_deg + 180.0) % 360.0 - 180.0


@dataclass(frozen=True, slots=True)
class ChartedCourse:
    """The magnetic course at the start of an airway leg as charts have it, degrees.

    It rests on the alignment of `station`, whatever the field is there today; "" = no station beside it explains it, or
    it is none's. `coded`: the data says so; else it is reckoned from the alignment of the station.
    """

    course_deg: float
    _: KW_ONLY
    coded: bool
    station: str = ""
    alignment_deg: float | None = None


@dataclass(frozen=True, slots=True)
class Turn:
    """The turn at a point where a fixed leg comes in and another goes out.

    `turn_deg` in (-180, 180], right positive, from the course at the END of the leg before; `detour_nm` = both legs
    less the geodesic past the point; `share` = detour over that geodesic (inf where it is zero);
    `d_value_nm` = detour × |turn| / 90, divided by 3 next to an aerodrome.
    """

    turn_deg: float
    detour_nm: float
    share: float
    d_value_nm: float
    next_to_airport: bool


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of the route that was not checked, from point to point: its least length, if known, and why.

    `is_open_by_design` = it is published without a fixed path, so that there is nothing to check. Else it was lost.
    """

    first: int
    last: int
    least_nm: float | None
    because: str
    _: KW_ONLY
    is_open_by_design: bool = False
    is_measured: bool = False
    """Whether its length is known and counted all the same; what is not sure is that it is the right one."""


@dataclass(frozen=True, slots=True)
class Totals:
    """Sums over the route, NM. `distance_nm` sums the known legs; `gaps` counts the others.

    `checked_nm` of `whole_nm` were checked; `whole_nm` and `direct_nm` are None where an end is not placed.
    """

    _: KW_ONLY
    distance_nm: float
    direct_nm: float | None
    gaps: int
    checked_nm: float
    whole_nm: float | None
    not_checked: tuple[Stretch, ...] = ()
    unread: int = 0
    """How many words could not be read, those too that open no stretch: a speed, or what stands behind a slash."""

    @property
    def checked_share(self) -> float | None:
        """Share of the route checked, 0 to 1, and 1 only if all was; None where the whole is not known."""
        if self.whole_nm is None:
            return None
        if not self.not_checked:
            return _NOT_ALL if self.unread else 1.0
        return min(self.checked_nm / self.whole_nm, _NOT_ALL) if self.whole_nm else 0.0

    @property
    def lost(self) -> tuple[Stretch, ...]:
        """The stretches that could not be checked: unread, unknown, not covered."""
        return tuple(stretch for stretch in self.not_checked if not stretch.is_open_by_design)

    @property
    def open_by_design(self) -> tuple[Stretch, ...]:
        """The stretches that are published without a fixed path."""
        return tuple(stretch for stretch in self.not_checked if stretch.is_open_by_design)

    @property
    def least_nm(self) -> float:
        """What the route measures at least: what is known with the least of each gap, and never below direct."""
        gaps = sum(stretch.least_nm or 0.0 for stretch in self.not_checked if not stretch.is_measured)
        return max(self.distance_nm + gaps, self.direct_nm or 0.0)


@dataclass(frozen=True, slots=True)
class Route:
    """Everything that checks may look at. `turns[i]` is at `points[i]`, None where there is nothing to judge."""

    resolved: ResolvedRoute
    _: KW_ONLY
    points: tuple[PathPoint, ...]
    legs: tuple[Leg, ...]
    turns: tuple[Turn | None, ...]
    totals: Totals
    date: dt.date
    best_edits: tuple[BestEdit, ...] = ()
    """The best corrections of each stretch, best stretch first; stretches share no leg."""
    edits_not_tried: int = 0
    """Stretches with a correction and suspect points that were left out, there being too many for all to be tried."""
    windows: tuple[tuple[AltitudeWindow, ...], ...] = ()
    """For every point the altitude windows coded or stated there; () = there are none on the whole route."""
    minima: tuple[LegMinima, ...] = ()
    """For every leg the published minima; () = not looked up, for no level is filed."""
    alternates: tuple[Route, ...] = ()
    """For every alternate, in order, the way to it from the destination: direct, or by the route that is given."""
    usage: KnownUsage | None = None
    """What known routes say of it; None = none are loaded."""
    own_mistakes: tuple[str, ...] = ()
    """Our own mistakes that were noticed while computing: shown, never swallowed."""

    @property
    def route_input(self) -> RouteInput:
        """The route as handed in."""
        return self.resolved.parsed.route_input

    @property
    def parsed(self) -> ParsedRoute:
        """The words."""
        return self.resolved.parsed
