"""The text and what is given beside it lead between other aerodromes: one finding first of all, and two ways out."""

import datetime as dt

import pytest

from routecheck.model import Assessment, RouteInput
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.presentation.headline import headline
from routecheck.settings import Settings

LEFT_OVER = {"departure": "XVMA", "destination": "XVMA", "departure_runway": "18", "destination_runway": "36"}


def assessed(route: str, **beside: str) -> Assessment:
    return assess(RouteInput(route, **{**LEFT_OVER, **beside}), demo_database(), Settings(), dt.date(2026, 12, 3))


def test_the_ends_of_the_last_flight_are_one_finding_first_of_all():
    answer = assessed("XVAL LENDU DCT PIKAR UM12 TOVIK DCT SARNO DCT QQQQQ DCT KEBUL XVOR")
    assert [one.check for one in answer.findings[:2]] == ["ends-differ", "unknown-name"]
    message = "The text leads from XVAL to XVOR; given beside it are XVMA and XVMA."
    assert answer.findings[0].message == message
    assert headline(answer).verdict_line == f"Wrong: {message}"


def test_two_ways_out_and_the_runways_go_with_their_aerodromes():
    found = assessed("XVAL LENDU DCT PIKAR UM12 TOVIK DCT SARNO XVOR").findings[0]
    by_text, by_fields = found.likely_intended
    assert {(one.field, one.new) for one in by_text.beside} == {
        ("departure", "XVAL"),
        ("departure_runway", ""),
        ("destination", "XVOR"),
        ("destination_runway", ""),
    }
    assert by_text.span is None
    assert by_text.why.startswith("departure XVAL, no departure runway, destination XVOR, no destination runway: ")
    assert by_fields.route == "XVMA LENDU DCT PIKAR UM12 TOVIK DCT SARNO XVMA"
    assert by_fields.beside == ()


def test_sid_and_star_say_it_where_the_text_names_no_aerodrome():
    found = assessed("LENDU1 LENDU DCT PIKAR UM12 TOVIK DCT SARNO SARNO2").findings[0]
    assert found.check == "ends-differ"
    assert found.message == ("The text leads from XVAL (LENDU1) to XVOR (SARNO2); given beside it are XVMA and XVMA.")
    (by_text,) = found.likely_intended
    assert {one.field: one.new for one in by_text.beside}["destination"] == "XVOR"


@pytest.mark.parametrize(
    ("route", "beside", "message"),
    [
        (
            "XVAL LENDU DCT PIKAR UM12 TOVIK DCT SARNO",
            {"destination": "XVOR"},
            "The text begins at XVAL; the departure given beside it is XVMA.",
        ),
        (
            "LENDU DCT PIKAR UM12 TOVIK DCT SARNO XVOR",
            {"departure": "XVAL"},
            "The text ends at XVOR; the destination given beside it is XVMA.",
        ),
    ],
)
def test_one_end_alone(route: str, beside: dict[str, str], message: str) -> None:
    given = {"departure_runway": "", "destination_runway": "", **beside}
    assert [one.message for one in assessed(route, **given).findings if one.check == "ends-differ"] == [message]


def test_one_procedure_alone_may_be_mistyped_itself():
    answer = assessed("LENDU DCT PIKAR UM12 TOVIK DCT SARNO SARNO2", departure="XVAL", departure_runway="09")
    assert "ends-differ" not in {one.check for one in answer.findings}


def test_the_next_flight_begins_where_the_last_one_ended():
    given = {"departure": "XVMA", "destination": "XVAL", "departure_runway": "", "destination_runway": ""}
    found = assessed("LENDU1 LENDU DCT PIKAR UM12 TOVIK DCT SARNO SARNO2", **given).findings[0]
    assert found.message == "The text leads from XVAL (LENDU1) to XVOR (SARNO2); given beside it are XVMA and XVAL."
    assert found.likely_intended[0].why.startswith("XVAL–XVOR: as the text says; ")
    typed = assessed("XVAL LENDU DCT PIKAR UM12 TOVIK DCT SARNO XVOR", **given).findings[0]
    assert typed.likely_intended[0].why.startswith("XVAL–XVOR: as the text says; "), "never the two exchanged"


def test_a_text_without_a_sid_begins_where_the_last_flight_ended():
    text, given = "31S003W LENDU UM12 TOVIK DCT SARNO SARNO2", {"departure_runway": "", "destination_runway": ""}
    found = assessed(text, destination="XVAL", **given).findings[0]
    assert found.message == "The text leads from XVAL (31S003W) to XVOR (SARNO2); given beside it are XVMA and XVAL."
    (by_text,) = found.likely_intended
    assert by_text.why.startswith("XVAL–XVOR: as the text says; ")
    here = assessed(text, departure="XVAL", **given)
    assert "ends-differ" not in {one.check for one in here.findings}, "it begins near the departure given"


def test_ends_that_are_only_exchanged_are_another_matter():
    answer = assessed(
        "LENDU1 LENDU DCT SARNO SARNO2",
        departure="XVOR",
        destination="XVAL",
        departure_runway="",
        destination_runway="",
    )
    assert "ends-differ" not in {one.check for one in answer.findings}
