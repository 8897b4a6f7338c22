"""Another runway: what changes is said at once, nothing across a gap, and what to look at again."""

import datetime as dt
from collections.abc import Callable
from dataclasses import replace

import pytest

from routecheck.model import AltitudeWindow, Assessment, Claim, RouteInput
from routecheck.navdata.database import NavDatabase
from routecheck.pipeline import assess
from routecheck.presentation.runway_change import runway_change
from routecheck.settings import Settings

Made = Callable[..., Assessment]


@pytest.fixture
def made(demo_library: NavDatabase) -> Made:
    """The demo's own procedures, from runway 09 to runway 27."""

    def one(**what: object) -> Assessment:
        route_input = RouteInput(
            "LENDU1 LENDU DCT PIKAR UM12 TOVIK DCT SARNO SARNO2", departure="XVAL", destination="XVOR"
        )
        route_input = replace(route_input, departure_runway="09", destination_runway="27", speed="N0430", level="F350")
        return assess(replace(route_input, **what), demo_library, Settings(), dt.date(2026, 12, 3))

    return one


def test_the_same_runways_are_no_change(made: Made) -> None:
    assert runway_change(made(), made()) == ()
    assert runway_change(made(), made(level="F370")) == ()


def test_another_runway_of_arrival_is_said_from_where_the_ways_part(made: Made) -> None:
    # branches and heights as resources/demo/README.md gives them: 09 by TAMPU, 27 by GRELA
    before, after = made(), made(destination_runway="09")
    said = runway_change(before, after)
    assert said[:2] == (
        "Destination XVOR: runway 09, was 27.",
        "Way from HUNSA: SARNO2, HUNSA–TAMPU–XVOR; was SARNO2, HUNSA–GRELA–XVOR.",
    )
    assert said[2].startswith("First leg from HUNSA: HUNSA–TAMPU 189°M 20.2 NM; was HUNSA–GRELA 105°M 34.1 NM.")
    assert said[3] == "First turn from HUNSA: 40° right at HUNSA; was 45° left at HUNSA."
    assert said[4] == "First altitude from HUNSA: TAMPU at or above 4,000 ft; was GRELA at 4,000 ft."
    lengths = [f"at least {assessment.route.totals.distance_nm:.0f} NM" for assessment in (after, before)]
    assert said[5].startswith(f"Distance: {lengths[0]}, was {lengths[1]}; time at least 1:")
    assert said[-1].startswith(
        "Look again at SARNO2 as loaded for runway 09, its last turns and altitudes; and at performance"
    )


def test_nothing_is_said_of_a_turn_across_a_gap(made: Made) -> None:
    said = runway_change(made(), made(destination_runway="04"))
    assert "First turn from HUNSA: not known, HUNSA–XVOR is not fixed; was 45° left at HUNSA." in said
    assert any("HUNSA–XVOR, SARNO2 has no branch for runway 04" in line for line in said)
    assert any(line.startswith("Now Wrong: SARNO2 is not for runway 04") for line in said)
    back = runway_change(made(destination_runway="04"), made())
    assert "1 finding of before no longer stands." in back


def test_another_runway_of_departure(made: Made) -> None:
    said = runway_change(made(), made(departure_runway="27"))
    assert said[:2] == ("Departure XVAL: runway 27, was 09.", "LENDU1: by the same points.")
    assert said[2].startswith("First leg: XVAL–TILBU, not fixed on the map: heading 271°M to 900 ft")
    assert said[-1].startswith("Look again at LENDU1 as loaded for runway 27, its first turn and altitudes")
    assert not any("Destination" in line for line in said)


def test_without_a_procedure_the_turn_off_the_runway_is_about(made: Made) -> None:
    direct = {"route": "LENDU DCT PIKAR UM12 TOVIK DCT SARNO"}
    said = runway_change(made(**direct), made(departure_runway="27", **direct))
    assert any(line.startswith("First turn: about half round after take-off; was ") for line in said)
    assert any(line.startswith("First leg: XVAL–LENDU 091°M ") for line in said)
    assert said[-1].startswith("Look again at the departure as loaded for runway 27")


def test_without_a_gap_the_difference_is_told(made: Made) -> None:
    direct = {"route": "LENDU DCT PIKAR UM12 TOVIK DCT SARNO"}
    before, after = made(**direct), made(departure_runway="27", **direct)
    shorter = before.route.totals.distance_nm - after.route.totals.distance_nm
    assert any(f" NM, {shorter:.1f} NM shorter" in line for line in runway_change(before, after))
    unknown = {"route": "JPOOL5 BILEE RIICE8"}
    assert "Distance: not known, as before." in runway_change(made(**unknown), made(departure_runway="27", **unknown))


def test_other_figures_in_the_same_finding_are_no_news(made: Made) -> None:
    wrong_way = {"route": "LENDU DCT PIKAR UM12 TOVIK DCT SARNO", "level": "F360"}
    before, after = made(**wrong_way), made(departure_runway="27", **wrong_way)
    told = [{f.message for f in a.findings if f.check == "level-for-direction"} for a in (before, after)]
    assert told[0]
    assert told[0] != told[1]
    assert not any(line.startswith("Now ") or "of before" in line for line in runway_change(before, after))


def test_a_runway_taken_away_or_stated_for_the_first_time(made: Made) -> None:
    assert runway_change(made(), made(departure_runway=""))[0] == "Departure XVAL: runway not stated, was 09."
    assert runway_change(made(departure_runway=""), made())[0] == "Departure XVAL: runway 09, was not stated."


def test_an_approach_is_part_of_it(made: Made) -> None:
    said = runway_change(made(), made(destination_runway="09", approach="R09"))
    assert said[0] == "Destination XVOR: runway 09 by approach R09, was 27."
    assert "SARNO2 and R09, HUNSA–TAMPU–" in said[1]


def test_what_is_stated_for_points_that_are_gone_is_named(made: Made) -> None:
    stated = {"windows": (AltitudeWindow("GRELA", 3_000.0, None),), "claims": (Claim("GRELA", distance_nm=34.0),)}
    said = runway_change(made(**stated), made(destination_runway="09", **stated))
    assert "What is stated for GRELA belongs to no point of the route now." in said


@pytest.mark.parametrize("route", ["", "$$$", "QQQQQ", "LENDU1", "SARNO2"])
def test_no_route_is_too_broken(made: Made, route: str) -> None:
    for ends in (("XVAL", "XVOR"), ("", ""), ("ZZZ9", "XVOR")):
        what = {"route": route, "departure": ends[0], "destination": ends[1]}
        assert isinstance(
            runway_change(made(**what), made(departure_runway="27", destination_runway="9X", **what)), tuple
        )
