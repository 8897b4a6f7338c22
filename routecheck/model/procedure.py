"""Coded procedures as the data has them, and their paths. No decoding and no computing lives here.

Feet, knots, degrees and NM. What a record leaves blank is None or "", never zero.
"""

from __future__ import annotations

from dataclasses import KW_ONLY
from enum import StrEnum
from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass

if TYPE_CHECKING:
    from routecheck.model.data import Place
    from routecheck.model.faults import ProcedureFault

Shape = tuple[tuple[float, float], ...]
"""Points (lat, lon) of a line that is no geodesic, both ends included; () = a geodesic."""


class LegType(StrEnum):
    """The 23 ways in which a coded leg is flown and ended. Source: AIXM 5.1.1, CodeSegmentPath."""

    INITIAL_FIX = "IF"
    TRACK_TO_FIX = "TF"
    COURSE_TO_FIX = "CF"
    DIRECT_TO_FIX = "DF"
    FIX_TO_ALTITUDE = "FA"
    FIX_FOR_DISTANCE = "FC"
    FIX_TO_DME = "FD"
    FIX_TO_MANUAL = "FM"
    COURSE_TO_ALTITUDE = "CA"
    COURSE_TO_DME = "CD"
    COURSE_TO_INTERCEPT = "CI"
    COURSE_TO_RADIAL = "CR"
    RADIUS_TO_FIX = "RF"
    ARC_TO_FIX = "AF"
    HEADING_TO_ALTITUDE = "VA"
    HEADING_TO_DME = "VD"
    HEADING_TO_INTERCEPT = "VI"
    HEADING_TO_MANUAL = "VM"
    HEADING_TO_RADIAL = "VR"
    PROCEDURE_TURN = "PI"
    HOLD_TO_ALTITUDE = "HA"
    HOLD_TO_FIX = "HF"
    HOLD_TO_MANUAL = "HM"


class Part(StrEnum):
    """What a branch is of its procedure."""

    RUNWAY = "runway branch"
    COMMON = "common part"
    TRANSITION = "transition"


@dataclass(frozen=True, slots=True)
class AltitudeLimits:
    """The lowest and highest altitude allowed at a point, feet; None = no such limit."""

    low_ft: float | None
    high_ft: float | None


@dataclass(frozen=True, slots=True)
class SpeedLimit:
    """An indicated speed coded at a leg. `code`: "+" at least, "-" at most, "@" just that, "" not said.

    A blank code is ambiguous, so that only its upper side may be held against anybody.
    """

    kt: float
    code: str

    @property
    def most_kt(self) -> float | None:
        """The upper side; None where there is none."""
        return None if self.code == "+" else self.kt

    @property
    def least_kt(self) -> float | None:
        """The lower side; None where there is none."""
        return self.kt if self.code in ("+", "@") else None


@dataclass(frozen=True, slots=True)
class CodedLeg:
    """One leg record. `type` None = a type that is none of the 23. Courses magnetic unless `course_is_true`.

    `fix_ident` is the fix as coded, `fix` its place, None where the leg has none or the data lacks it; likewise
    `navaid` (the recommended one) and `centre` (of an RF arc). `theta_deg` and `rho_nm` tell where the fix lies from
    the navaid. `path_ft` is the altitude on the glide slope or vertical path, where that is given beside the window.
    `role`: A initial approach fix, B intermediate, F final approach fix, I final course fix, M missed-approach point.
    """

    type: LegType | None
    fix_ident: str = ""
    fix: Place | None = None
    _: KW_ONLY
    fly_over: bool = False
    role: str = ""
    missed: bool = False
    """Whether the leg is part of the missed approach."""
    turn: str = ""
    """L, R, E (either), "" = not said."""
    navaid_ident: str = ""
    navaid: Place | None = None
    theta_deg: float | None = None
    rho_nm: float | None = None
    course_deg: float | None = None
    course_is_true: bool = False
    distance_nm: float | None = None
    time_min: float | None = None
    radius_nm: float | None = None
    centre: Place | None = None
    window: AltitudeLimits | None = None
    path_ft: float | None = None
    speed: SpeedLimit | None = None
    vertical_angle_deg: float | None = None
    transition_altitude_ft: float | None = None


@dataclass(frozen=True, slots=True)
class CodedBranch:
    """The legs of one branch in coded order. `ident` is what the data calls it: of a transition its fix ("TOVIK")."""

    part: Part
    ident: str
    legs: tuple[CodedLeg, ...]
    runway: str = ""
    """The runway it is for: "09", "27R", "08B" = all parallels of 08; "" = every runway."""


@dataclass(frozen=True, slots=True)
class CodedProcedure:
    """A SID, STAR or APPROACH (`kind`) with all its branches. `field` is the place of its airport, None = not known."""

    airport: str
    kind: str
    name: str
    branches: tuple[CodedBranch, ...]
    field: Place | None = None

    @property
    def runways(self) -> tuple[CodedBranch, ...]:
        """The runway branches."""
        return self._branches_of_part(Part.RUNWAY)

    @property
    def common(self) -> tuple[CodedBranch, ...]:
        """The common part: as a rule one branch or none. Of an approach what follows its transitions."""
        return self._branches_of_part(Part.COMMON)

    @property
    def transitions(self) -> tuple[CodedBranch, ...]:
        """The enroute transitions, of an approach those that lead into it."""
        return self._branches_of_part(Part.TRANSITION)

    def _branches_of_part(self, part: Part) -> tuple[CodedBranch, ...]:
        return tuple(branch for branch in self.branches if branch.part is part)


@dataclass(frozen=True, slots=True)
class ProcedurePoint:
    """A point on the path of a procedure. `place` None = its fix is not in the data.

    `speed` is the limit coded there; how far it reaches is said by the legs. `note` tells of what is flown at the point
    without adding to the path: a holding, a procedure turn.
    """

    name: str
    place: Place | None
    _: KW_ONLY
    window: AltitudeLimits | None = None
    speed: SpeedLimit | None = None
    fly_over: bool = False
    role: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class ProcedureLeg:
    """From one point of the path to the next: a length with true courses at both ends, or a gap with its cause.

    `shape` holds the points of an arc. `coded` are the legs of the data it stands for: one, or several where a gap
    runs over legs without a fixed end. `most_kt` and `least_kt` are the coded speed limits in force along it.
    `is_open_by_design` tells a gap that is published as one (a heading, vectors, nothing coded) from one that was lost.
    """

    distance_nm: float | None
    course_deg: float | None
    end_course_deg: float | None
    _: KW_ONLY
    gap: str = ""
    is_open_by_design: bool = False
    shape: Shape = ()
    coded: tuple[CodedLeg, ...] = ()
    most_kt: float | None = None
    least_kt: float | None = None


@dataclass(frozen=True, slots=True)
class ProcedurePath:
    """The path of a procedure in the order of flight: `legs[i]` leads from `points[i]` to `points[i + 1]`.

    `before` is the gap ahead of the first point, `after` the one behind the last: towards the runway, and towards the
    point of the route where it is not on the path. None = the path reaches it, or nothing is known on that side.
    `joined` = the point of the route that was asked for is the last point (SID) or the first (STAR, approach).
    `remarks` say what was taken where the route leaves it open.
    """

    points: tuple[ProcedurePoint, ...] = ()
    legs: tuple[ProcedureLeg, ...] = ()
    _: KW_ONLY
    before: ProcedureLeg | None = None
    after: ProcedureLeg | None = None
    joined: bool = False
    remarks: tuple[str, ...] = ()
    faults: tuple[ProcedureFault, ...] = ()


@dataclass(frozen=True, slots=True)
class FlownProcedure:
    """A procedure as a route flies it: `legs[i]` leads from `points[i]` to `points[i + 1]`.

    A SID begins at the runway's threshold where the runway is known, else at the airport, and ends at the next route
    point; a STAR or approach leads the other way round. Without such a point it ends (begins) with its own last
    (first) one. `runway` is the one flown from or to, "" = not one alone. `remarks` say what was taken where the route
    leaves it open.
    """

    points: tuple[ProcedurePoint, ...] = ()
    legs: tuple[ProcedureLeg, ...] = ()
    _: KW_ONLY
    runway: str = ""
    joined: bool = False
    remarks: tuple[str, ...] = ()
    faults: tuple[ProcedureFault, ...] = ()
