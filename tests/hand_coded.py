"""Hand-made procedures for the tests: places about an invented airport, legs in few words. No tests here."""

from geographiclib.geodesic import Geodesic

from routecheck.model import CodedBranch, CodedLeg, CodedProcedure, LegType, Part, Place, PlaceKind

FIELD = Place("XVZZ", -31.0, 12.0, PlaceKind.AIRPORT, variation_deg=-20.0)
THRESHOLD = Place("RW09", -31.0, 11.98, PlaceKind.RUNWAY, airport="XVZZ")
STATION = Place("ZQV", -31.0, 12.1, PlaceKind.VOR_DME, declination_deg=-22.0)


def off(start: Place, course_deg: float, distance_nm: float, ident: str = "") -> Place:
    """A place by true course and distance, by the other geodesic library."""
    end = Geodesic.WGS84.Direct(start.lat, start.lon, course_deg, distance_nm * 1852.0)
    return Place(ident or f"{start.ident[:2]}{course_deg:03.0f}", end["lat2"], end["lon2"], PlaceKind.TERMINAL_FIX)


def apart_nm(a: Place, b: Place) -> float:
    """The geodesic between two places, by the other library."""
    return float(Geodesic.WGS84.Inverse(a.lat, a.lon, b.lat, b.lon)["s12"]) / 1852.0


A = off(FIELD, 30.0, 10.0, "ALPHZ")
B = off(A, 90.0, 12.0, "BRAVZ")
C = off(B, 120.0, 20.0, "CHARZ")
D = off(C, 120.0, 25.0, "DELTZ")
E = off(C, 60.0, 25.0, "ECHOZ")


def leg(leg_type: str, fix: Place | None = None, **more: object) -> CodedLeg:
    """A leg of a type to (or from) a place."""
    return CodedLeg(LegType(leg_type), fix.ident if fix else "", fix, **more)  # type: ignore[arg-type]


def branch(part: Part, ident: str, *legs: CodedLeg) -> CodedBranch:
    """A branch; one named "RW09" is for that runway."""
    return CodedBranch(part, ident, legs, ident.removeprefix("RW") if ident.startswith("RW") else "")


def runway(ident: str, *legs: CodedLeg) -> CodedBranch:
    """A runway branch: "RW09", "RW08B"."""
    return branch(Part.RUNWAY, ident, *legs)


def common(*legs: CodedLeg) -> CodedBranch:
    """The common part."""
    return branch(Part.COMMON, "ALL", *legs)


def transition(ident: str, *legs: CodedLeg) -> CodedBranch:
    """A transition."""
    return branch(Part.TRANSITION, ident, *legs)


def sid(*branches: CodedBranch) -> CodedProcedure:
    """A departure."""
    return CodedProcedure("XVZZ", "SID", "ZAQIP1", branches, FIELD)


def star(*branches: CodedBranch) -> CodedProcedure:
    """An arrival."""
    return CodedProcedure("XVZZ", "STAR", "ZAQIP2", branches, FIELD)
