"""The options for values beside the route, one for each row of the table of input fields that has one."""

import datetime as dt

import pytest
from full_input import FULL_INPUT

from routecheck.cli import proof
from routecheck.reading.input_fields import INPUT_FIELDS
from routecheck.reading.route_file import write_route_file

BOTH = dt.datetime(2026, 12, 3, 14, 30, tzinfo=dt.UTC)
OPTIONS = [field for field in INPUT_FIELDS if field.option]


@pytest.fixture
def checked(command, monkeypatch):
    """Run the command and give the RouteInputs that it would check."""

    def run(*arguments):
        seen = []
        monkeypatch.setattr(proof, "assess_many", lambda route_inputs, *_, **__: iter(seen.extend(route_inputs) or ()))
        command("proof", *arguments)
        return seen

    return run


def test_every_option_fills_an_input_that_says_nothing_of_it(checked):
    given = [part for f in OPTIONS for part in (f.option_name, f.kind.write_text(getattr(FULL_INPUT, f.name)))]
    (route_input,) = checked("--route", FULL_INPUT.route, *given)
    assert len(OPTIONS) >= 10
    for field in OPTIONS:
        assert getattr(route_input, field.name) == getattr(FULL_INPUT, field.name)


def test_no_option_stands_over_what_the_input_says(checked, tmp_path):
    file = tmp_path / "full.route.toml"
    file.write_text(write_route_file(FULL_INPUT), "utf-8")
    other = {
        "role": "filed", "off_block": "2027-01-01 0900", "departure_runway": "01",
        "destination_runway": "02", "approach": "L01",
        "speed": "N0100", "level": "F100", "rules": "V", "wind": "1/1", "aircraft_sheet": "Turboprop",
        "load": "kg ZFW 1000",
        "alternate_route": "XV9", "first_altitude": "A060",
    }  # fmt: skip
    given = [part for f in OPTIONS for part in (f.option_name, other.get(f.name, "XV9"))]
    (route_input,) = checked(file, *given)
    for field in OPTIONS:
        assert getattr(route_input, field.name) == getattr(FULL_INPUT, field.name)
        assert any(one.name.startswith(f"{field.option_name} ") for one in route_input.not_used)
    assert "Not used: --level F100; the input states “F350” itself." in [one.sentence for one in route_input.not_used]


def test_an_option_that_says_the_same_is_no_value_that_is_not_used(checked, tmp_path):
    file = tmp_path / "full.route.toml"
    file.write_text(write_route_file(FULL_INPUT), "utf-8")
    given = [part for f in OPTIONS for part in (f.option_name, f.kind.write_text(getattr(FULL_INPUT, f.name)))]
    (route_input,) = checked(file, *given, "--date", str(FULL_INPUT.date))
    (plain,) = checked(file)
    assert route_input.not_used == plain.not_used


def test_of_a_row_it_is_a_remark(checked, tmp_path):
    file = tmp_path / "rows.csv"
    file.write_text("departure,destination,route,date\nXVAL,XVOR,DCT,2026-12-03\nXVAL,XVOR,DCT,\n", "utf-8")
    stated, open_one = checked(file, "--date", "2026-12-04")
    assert stated.remarks == ("Not used: --date 2026-12-04; the input states “2026-12-03” itself.",)
    assert (stated.not_used, open_one.remarks, str(open_one.date)) == ((), (), "2026-12-04")


@pytest.mark.parametrize(
    ("stated", "options", "whole"),
    [
        ("", ("--date", "2026-12-03", "--off-block", "1430"), BOTH),
        ("", ("--off-block", "03DEC26 1430"), BOTH),
        ("off_block = 14:30:00\n", ("--date", "2026-12-03"), BOTH),
        ("off_block = 2026-12-03\n", ("--off-block", "2027-01-01 1430"), BOTH),
        ("off_block = 2026-12-03T14:30:00Z\n", ("--off-block", "2027-01-01 0900"), BOTH),
    ],
)
def test_options_add_the_day_or_the_time_that_is_missing(checked, tmp_path, stated, options, whole):
    file = tmp_path / "a.route.toml"
    file.write_text(f'{stated}route = "LENDU"\n', "utf-8")
    (route_input,) = checked(file, *options)
    assert route_input.off_block == whole
