"""Checks of published minima beyond their own examples: where a flight is level, classes of airways, the unknown."""

import datetime as dt
from dataclasses import replace

import pytest

from routecheck.checks.level_flight import level_parts
from routecheck.model import AircraftSheet, AltitudeWindow, Outcome, RouteInput, Weight
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
DEMO = demo_database()


def assessed(route, database=DEMO, departure="XVAL", destination="XVOR", **given):
    return assess(RouteInput(route, departure, destination, **given), database, Settings(), DAY)


def found(assessment, name):
    return [finding for finding in assessment.findings if finding.check == name]


def because(assessment, name):
    return [said.because for said in assessment.not_checked if said.check == name]


# ---- where a flight is level


def test_climb_and_descent_are_left_out():
    """3 NM for every 1,000 ft: FAA-H-8083-16. FL200 takes 60 NM less the field's elevation at either end."""
    route = assessed("N0450F200 31S001E 31S004E").route
    parts = list(level_parts(route))
    lengths = [leg.distance_nm for leg in route.legs]
    fields = [point.place.elevation_ft for point in (route.points[0], route.points[-1])]
    assert parts[0].begins * lengths[0] == pytest.approx((20_000 - fields[0]) * 3 / 1000, abs=0.1)
    assert (1 - parts[-1].ends) * lengths[-1] == pytest.approx((20_000 - fields[1]) * 3 / 1000, abs=0.1)
    assert [part.leg for part in parts] == [0, 1, 2]


def test_the_sheet_says_better():
    sheet = AircraftSheet("Ours", usual_climb_ft_nm=1000, usual_descent_ft_nm=1000)
    route = assessed("N0450F200 31S001E 31S004E", sheet=sheet).route
    assert level_parts(route)[0].begins * route.legs[0].distance_nm == pytest.approx(19.8, abs=0.1)


def test_a_change_of_level_takes_its_way():
    route = assessed("N0450F200 31S001E/N0450F300 31S004E").route
    parts = list(level_parts(route))
    assert [part.feet for part in parts] == [20_000, 30_000, 30_000]
    assert parts[1].begins * route.legs[1].distance_nm == pytest.approx(30, abs=0.1)


def test_a_level_that_is_never_reached_is_nowhere_level():
    assert level_parts(assessed("N0450F390 VAL", destination="XVAL").route) == ()


def test_altitude_windows_are_kept_before_a_leg_counts_as_level():
    """The plan without windows was level at FL200 over a point where a window asks for 9,000 ft."""
    held = AltitudeWindow("SARNO", None, 9_000.0)
    route = assessed("N0450F200 LENDU SARNO 31S004E", windows=(held,)).route
    _, before, behind, _ = level_parts(route)
    lengths = [leg.distance_nm for leg in route.legs]
    assert (before.leg, behind.leg) == (1, 2)
    assert (1.0 - before.ends) * lengths[1] == pytest.approx(11_000 * 3 / 1000, abs=0.1)
    assert behind.begins * lengths[2] == pytest.approx(11_000 * 3 / 1000, abs=0.1)


def test_where_windows_leave_no_room_the_minima_are_judged_as_without_them():
    text, sheet = "N0450F200 31S001E 3100S00102E 31S002E", "Medium jet"
    windows = AltitudeWindow("31S001E", 20_000.0), AltitudeWindow("3100S00102E", None, 3_000.0)
    answer = assessed(text, windows=windows, aircraft_sheet=sheet)
    assert found(answer, "windows-conflict")
    assert level_parts(answer.route) == level_parts(assessed(text, aircraft_sheet=sheet).route) != ()


# ---- airways


def test_the_second_minimum_holds_against_the_coded_order():
    """V14 of the demo region: SOLPA–KEL has 7,000 ft, and 8,000 ft the other way."""
    there = assessed("FINAR V14 KEL", destination="XVKE", level="A070")
    back = assessed("KEL V14 FINAR", departure="XVKE", destination="XVAL", level="A070")
    assert found(there, "airway-level") == []
    (finding,) = found(back, "airway-level")
    assert finding.weight is Weight.DOUBTFUL
    assert finding.message == (
        "7,000 ft on V14 from KEL to SOLPA is below the published minimum of 8,000 ft; lower obstacle-clearance or "
        "radar altitudes may apply."
    )
    assert [(fact.name, fact.value) for fact in finding.facts] == [("level", 7000), ("minimum", 8000)]


def test_an_unknown_minimum_is_not_checked_and_never_zero():
    answer = assessed("N0140A045 NIR V27 HOSTU", departure="XVMA", destination="XVAL")
    assert found(answer, "airway-level") == []
    assert because(answer, "airway-level") == ["the data gives no minimum for V27 from DERUS to HOSTU"]


def test_one_level_is_one_finding_and_names_the_worst_leg():
    (finding,) = found(assessed("N0450F190 LENDU UM12 RULPO DCT SARNO"), "airway-level")
    assert finding.message.startswith("FL190 on UM12 from LENDU to PIKAR and on 3 more legs is below")


def test_without_a_level_it_says_so():
    answer = assessed("LENDU UM12 RULPO DCT SARNO")
    assert because(answer, "airway-level") == ["no level is filed"]
    assert because(answer, "below-minimum") == ["no level is filed"]
    assert dict(answer.outcomes)["airway-level"] is Outcome.NOT_CHECKED


@pytest.mark.parametrize(
    ("route", "level", "weight"),
    [
        ("PSB J60 SAX", "F170", Weight.DOUBTFUL),
        ("PSB J60 SAX", "F460", Weight.DOUBTFUL),
        ("PSB J60 SAX", "F350", None),
        ("SAX V249 WEETS", "A050", Weight.DOUBTFUL),
        ("SAX V249 WEETS", "F190", Weight.NOTE),
        ("SAX V249 WEETS", "A170", None),
    ],
)
def test_real_airways_have_their_bounds_and_their_class(route, level, weight, northeast):
    """FAA CIFP cycle 2301: J60 from 18,000 to 45,000 ft; V249 from 5,500 ft at FLOSI, and no maximum.

    FAA AIM 5-3-4: V airways lie below 18,000 ft.
    """
    answer = assessed(route, northeast, "KBOS", "KBOS", level=level)
    assert [finding.weight for finding in found(answer, "airway-level")] == ([weight] if weight else [])


# ---- the grid


def test_the_grid_says_nothing_against_an_airway():
    answer = assessed("N0140A072 FINAR V14 KEL", destination="XVKE")
    assert found(answer, "below-minimum") == []
    assert found(assessed("N0140A072 FINAR DCT KEL", destination="XVKE"), "below-minimum")


def test_a_cell_without_a_figure_is_said():
    answer = assessed("31S012W 31S009W 31S003W", destination="", departure="", level="A120")
    assert found(answer, "below-minimum") == []
    assert because(answer, "below-minimum") == ["no grid minimum is known for all of 31S012W–31S009W and 1 more leg"]


def test_near_the_field_other_minima_hold():
    """XVKE stands among cells of 7,300 ft; the whole round by KEL and KOLBA lies within 25 NM of it."""
    quiet = assessed("N0110A040 KEL DCT KOLBA", departure="XVKE", destination="XVKE")
    everywhere = replace(Settings(), limits={"below-minimum": {"near_field_nm": 0.0}})
    again = assess(quiet.route.route_input, DEMO, everywhere, DAY)
    assert found(quiet, "below-minimum") == []
    assert len(found(again, "below-minimum")) == 1
