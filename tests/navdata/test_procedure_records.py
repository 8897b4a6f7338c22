"""Coded legs decoded: every field at its column, windows by altitude code; lost fields are unknown.

Columns: ARINC 424-18, as found in the U.S. FAA CIFP, cycle 2301 (public domain).
"""

import pytest
from coded_ground import only_leg

from routecheck.model import AltitudeLimits, CodedLeg, LegType, SpeedLimit
from routecheck.navdata.arinc424.procedures import altitude_limits
from routecheck.navdata.database import NavDatabase

# Fields


def test_every_field_of_a_real_record(northeast: NavDatabase) -> None:
    """Source: U.S. FAA CIFP cycle 2301, KPVD, RNAV (RNP) approach H23-Z, RF legs of its final."""
    found = northeast.procedure("KPVD", "APPROACH", "H23-Z")
    assert found is not None
    arcs = [leg for branch in found.branches for leg in branch.legs if leg.type is LegType.RADIUS_TO_FIX]
    assert arcs
    for leg in arcs:
        assert leg.fix is not None
        assert leg.centre is not None
        assert leg.turn in ("L", "R")
        assert leg.radius_nm is not None
        assert 1.0 < leg.radius_nm < 10.0
        assert leg.distance_nm is not None


def test_columns_of_a_leg() -> None:
    leg = only_leg(
        leg_type="CF",
        fix="KOLOZ XX PC",
        description="EY F",
        turn="L",
        navaid="ZQV XX D ",
        theta="0915",
        rho="0052",
        course="2715",
        distance="0063",
        code="H",
        first="01800",
        second="01750",
        transition="18000",
        speed="210",
        speed_code="-",
        path="-300",
    )
    assert leg.type is LegType.COURSE_TO_FIX
    assert leg.fix_ident == "KOLOZ"
    assert leg.fix is not None
    assert (leg.fix.lat, leg.fix.airport) == (pytest.approx(-31.1), "XVZZ")
    assert (leg.fly_over, leg.role, leg.missed, leg.turn) == (True, "F", False, "L")
    assert leg.navaid is not None
    assert (leg.navaid_ident, leg.navaid.declination_deg) == ("ZQV", -21.0)
    assert (leg.theta_deg, leg.rho_nm, leg.course_deg, leg.distance_nm) == (91.5, 5.2, 271.5, 6.3)
    assert (leg.window, leg.path_ft) == (AltitudeLimits(1_800.0, None), 1_750.0)
    assert (leg.transition_altitude_ft, leg.vertical_angle_deg) == (18_000.0, -3.0)
    assert leg.speed == SpeedLimit(210.0, "-")


def test_what_is_blank_is_unknown_and_never_zero() -> None:
    leg = only_leg(leg_type="VM")
    assert leg == CodedLeg(LegType.HEADING_TO_MANUAL)


@pytest.mark.parametrize("leg_type", [kind.value for kind in LegType])
def test_all_23_leg_types_are_known(leg_type: str) -> None:
    assert len(LegType) == 23  # AIXM 5.1.1, CodeSegmentPath
    assert only_leg(leg_type=leg_type).type == leg_type


@pytest.mark.parametrize("leg_type", ["XX", "  ", "T", "tf"])
def test_a_leg_type_that_is_none_of_them_is_not_known(leg_type: str) -> None:
    assert only_leg(leg_type=leg_type).type is None


@pytest.mark.parametrize(
    ("course", "expected"),
    [
        ("2760", (276.0, False)),
        ("194T", (194.0, True)),
        ("    ", (None, False)),
        ("27-0", (None, False)),
        ("3601", (None, False)),
    ],
)
def test_courses_are_magnetic_unless_they_say_true(course: str, expected: tuple[float | None, bool]) -> None:
    """Tenths with the point understood; T in place of the tenth marks a true course: as found in cycle 2301."""
    leg = only_leg(course=course)
    assert (leg.course_deg, leg.course_is_true) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("0125", (12.5, None)),
        ("T010", (None, 1.0)),
        ("    ", (None, None)),
        ("T0 0", (None, None)),
        ("-001", (None, None)),
    ],
)
def test_a_length_is_a_distance_or_a_time(text: str, expected: tuple[float | None, float | None]) -> None:
    leg = only_leg(distance=text)
    assert (leg.distance_nm, leg.time_min) == expected


# Windows. Source: ARINC 424, 5.29, as public documents paraphrase it; of B the higher stands first, always.
# V and X: "a later text lists V, X and Y as deleted": accepted all the same.


@pytest.mark.parametrize(
    ("code", "first", "second", "expected"),
    [
        ("", 5_000.0, None, (5_000.0, 5_000.0)),
        ("@", 5_000.0, None, (5_000.0, 5_000.0)),
        ("+", 5_000.0, None, (5_000.0, None)),
        ("-", 5_000.0, None, (None, 5_000.0)),
        ("B", 12_000.0, 9_000.0, (9_000.0, 12_000.0)),
        ("C", None, 4_000.0, (4_000.0, None)),
        ("D", None, 4_000.0, (4_000.0, None)),
        ("G", 3_000.0, 2_950.0, (3_000.0, 3_000.0)),
        ("H", 3_000.0, 2_950.0, (3_000.0, None)),
        ("I", 3_000.0, 1_800.0, (3_000.0, 3_000.0)),
        ("J", 3_000.0, 1_800.0, (3_000.0, None)),
        ("O", None, 4_000.0, (4_000.0, None)),
        ("V", 1_300.0, 1_310.0, (1_300.0, None)),
        ("X", 1_300.0, 1_310.0, (1_300.0, 1_300.0)),
        ("Y", 1_300.0, 1_310.0, (None, 1_300.0)),
        ("+", -50.0, None, (-50.0, None)),
    ],
)
def test_a_window_for_each_altitude_code(
    code: str, first: float | None, second: float | None, expected: tuple[float | None, float | None]
) -> None:
    assert altitude_limits(code, first, second) == AltitudeLimits(*expected)


@pytest.mark.parametrize(
    ("code", "first"), [("", None), ("+", None), ("-", None), ("B", None), ("V", None), ("?", 500.0)]
)
def test_no_window_where_no_limit_is_given(code: str, first: float | None) -> None:
    assert altitude_limits(code, first, None) is None


def test_a_window_the_wrong_way_round_stays_so_for_a_check_to_say() -> None:
    assert altitude_limits("B", 9_000.0, 12_000.0) == AltitudeLimits(12_000.0, 9_000.0)


def test_flight_levels_and_heights_below_the_sea() -> None:
    assert only_leg(code="B", first="FL240", second="15000").window == AltitudeLimits(15_000.0, 24_000.0)
    assert only_leg(code="+", first="-0050").window == AltitudeLimits(-50.0, None)


@pytest.mark.parametrize(
    ("speed_code", "most", "least"), [("", 210.0, None), ("-", 210.0, None), ("+", None, 210.0), ("@", 210.0, 210.0)]
)
def test_a_blank_speed_code_binds_only_upwards(speed_code: str, most: float | None, least: float | None) -> None:
    speed = only_leg(speed="210", speed_code=speed_code).speed
    assert speed is not None
    assert (speed.most_kt, speed.least_kt) == (most, least)


def test_a_speed_of_nothing_is_no_limit() -> None:
    assert only_leg(speed="000").speed is None
    assert only_leg(speed="2 0").speed is None


def test_the_fixes_of_an_airports_procedures_without_decoding_them(northeast: NavDatabase) -> None:
    """KPVD as in the U.S. FAA CIFP cycle 2301: what the decoded procedures come to, the missed approaches left out."""
    feeders, fixes = northeast.terminal_fixes("KPVD")
    named, flown = set(), set()
    for kind in ("SID", "STAR", "APPROACH"):
        for name in northeast.procedure_names("KPVD", kind):
            found = northeast.procedure("KPVD", kind, name)
            assert found is not None
            named |= {branch.ident for branch in found.transitions if kind == "APPROACH"}
            flown |= {leg.fix_ident for branch in found.branches for leg in branch.legs if not leg.missed}
    assert feeders == named - {""}
    assert fixes == (flown | named) - {""}
    assert northeast.terminal_fixes("ZZZZ") == (frozenset(), frozenset())
