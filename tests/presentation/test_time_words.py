"""Time, fuel and windows as a reader meets them: one line of text, the fields of a result line."""

import datetime as dt
import json
from dataclasses import replace

import pytest

from routecheck import formatting
from routecheck.model import RouteInput
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.presentation.leg_table import leg_table
from routecheck.presentation.time_words import known_times, time_sentence, times_over
from routecheck.reading.route_file import read_route_file
from routecheck.report import jsonl, text
from routecheck.settings import Settings

FILE = """
departure = "XVAL"
destination = "XVOR"
route = "N0450F350 LENDU DCT PIKAR UM12 TOVIK DCT SARNO DCT KEBUL DCT {}"
aircraft_sheet = "{}"
{}
[[window]]
point = "KEBUL"
low_ft = 11000
[[window]]
point = "SARNO"
low_ft = 20000
high_ft = 24000
"""


def assessed(last="RIPAS", sheet="Medium jet", wind=""):
    route_input = read_route_file(FILE.format(last, sheet, wind), "a")
    return assess(route_input, demo_database(), Settings(), dt.date(2026, 12, 3))


def line(**given):
    route = assessed(**given).route
    return time_sentence(route, known_times(route))


def test_the_line_says_between_what_and_on_what_it_rests():
    assert line() == (
        "Time 1:35 from take-off at XVAL to landing at XVOR, about 4,330 kg of fuel; climb 300 and descent 310 ft/NM "
        "by the sheet “Medium jet”, typical figures, within the altitude windows; no wind given: ground speed is true "
        "airspeed."
    )
    assert line(wind='wind = "280/45"').endswith("typical figures, within the altitude windows; wind as given.")
    assert line(sheet="") == (
        "Time 1:26 from overhead XVAL at level to overhead XVOR at level; no Aircraft sheet: climb and descent are not "
        "counted; no wind given: ground speed is true airspeed."
    )


def test_over_a_gap_it_is_at_least():
    answer = assessed(last="TEMGU SARNO2")
    assert 0.9 < answer.route.totals.checked_share < 1.0
    assert line(last="TEMGU SARNO2").startswith("Time at least 1:")
    assert ", at least about " in line(last="TEMGU SARNO2")


def test_the_time_over_a_point_is_counted_from_off_block():
    """Past midnight the day goes on; behind a gap it is the least; without a time off-block there is none."""
    begin = dt.datetime(2026, 12, 3, 23, 30, tzinfo=dt.UTC)
    route_input = replace(assessed(last="TEMGU SARNO2").route.route_input, off_block=begin)
    answer = assess(route_input, demo_database(), Settings(), begin.date())
    times, table = known_times(answer.route), leg_table(answer)
    column = [one.key for one in table.columns].index("time_over_utc")
    shown = [row.cells[column] for row in table.rows]
    over = [leg["time_over"] for leg in json.loads(jsonl.format_line(answer))["legs"]]
    gap = times.legs.index(None)
    for leg, (cell, iso) in enumerate(zip(shown[:gap], over[:gap], strict=True)):
        moment = begin + dt.timedelta(minutes=round(sum(one.minutes for one in times.legs[: leg + 1])))
        assert iso == f"{moment:%Y-%m-%dT%H:%MZ}"
        assert cell == f"{moment:%H:%M}{'+1' if moment.day == 4 else ''}"
    assert over[0][:10] == "2026-12-03"
    assert over[gap - 1][:10] == "2026-12-04"
    assert (shown[gap], {*over[gap:]}) == ("", {None})
    assert all(cell.startswith("≥ ") for cell in shown[gap + 1 :])
    assert table.basis.endswith(" Times over from off-block at 23:30 UTC, taxi time not counted.")
    day_alone = assess(replace(route_input, off_block=begin.date()), demo_database(), Settings(), begin.date())
    assert times_over(day_alone.route, times) == [None] * len(times.legs)


def test_with_less_than_nine_tenths_known_there_is_no_time():
    answer = assessed(last="NOSUCH")
    assert answer.route.totals.checked_share < 0.9
    assert known_times(answer.route) is None
    assert "Time " not in text.describe_route(answer)


def test_nothing_known_is_nothing_said():
    for route_input in (RouteInput("LENDU DCT PIKAR", "XVAL", "XVOR"), RouteInput("", unread="the row is broken")):
        answer = assess(route_input, demo_database(), Settings(), dt.date(2026, 12, 3))
        assert known_times(answer.route) is None
        assert "Time " not in text.describe_route(answer)
        assert json.loads(jsonl.format_line(answer))["totals"]["time_min"] is None


def test_the_result_line_carries_times_fuel_and_windows():
    answer = assessed(wind='wind = "280/45"')
    result = json.loads(jsonl.format_line(answer))
    minutes = [leg["time_min"] for leg in result["legs"]]
    assert sum(minutes) == pytest.approx(result["totals"]["time_min"], abs=0.05)
    assert all(leg["fuel_kg"] > 0 for leg in result["legs"])
    windows = {point["text"]: point["window_ft"] for point in result["points"]}
    assert (windows["KEBUL"], windows["SARNO"], windows["LENDU"]) == ([11_000, None], [20_000, 24_000], None)
    assert any(remark.startswith("Time 1:") for remark in result["remarks"])


def test_the_text_ends_its_leg_table_with_it():
    assert "\nTime 1:35 from take-off at XVAL" in text.describe_route(assessed())


@pytest.mark.parametrize(("minutes", "said"), [(0, "0:00"), (59.6, "1:00"), (93.2, "1:33"), (725, "12:05")])
def test_times_to_the_minute(minutes, said):
    assert formatting.duration(minutes) == said


@pytest.mark.parametrize(
    ("kg", "said"), [(4.2, "4"), (18.4, "18"), (994.4, "994"), (4_186, "4,190"), (71_449, "71,400")]
)
def test_fuel_to_three_figures(kg, said):
    assert formatting.about_kg(kg) == f"about {said} kg"


@pytest.mark.parametrize(
    ("feet", "said"),
    [
        (321, "320 ft"),
        (10_996, "11,000 ft"),
        (17_990, "17,990 ft"),
        (18_000, "FL180"),
        (24_049, "FL240"),
        (140_000, "140,000 ft"),
    ],
)
def test_heights(feet, said):
    assert formatting.altitude(feet, 18_000) == said


@pytest.mark.parametrize(
    ("low", "high", "said"),
    [
        (11_000, None, "at or above 11,000 ft"),
        (None, 6_000, "at or below 6,000 ft"),
        (5_000, 5_000, "at 5,000 ft"),
        (9_000, 20_000, "9,000 ft to FL200"),
        (None, None, "at any altitude"),
    ],
)
def test_windows(low, high, said):
    assert formatting.altitudes_allowed(low, high, 18_000) == said


@pytest.mark.parametrize(
    ("low", "high", "said"),
    [
        (11_000, None, "≥ 11,000 ft"),
        (None, 24_000, "≤ FL240"),
        (5_000, 5_000, "5,000 ft"),
        (9_000, 12_000, "9,000–12,000 ft"),
        (9_000, 20_000, "9,000 ft–FL200"),
        (None, None, ""),
    ],
)
def test_windows_where_there_is_little_room(low, high, said):
    assert formatting.altitudes_in_signs(low, high, 18_000) == said


def test_a_leg_of_no_length_gives_a_route_without_a_speed_no_time():
    route_input = RouteInput("LENDU DCT 3100S00200E DCT 31S002E DCT TOVIK", "XVAL", "XVOR")
    answer = assess(route_input, demo_database(), Settings(), dt.date(2026, 12, 3))
    assert any(leg.distance_nm == 0.0 for leg in answer.route.legs)
    assert known_times(answer.route) is None
    assert json.loads(jsonl.format_line(answer))["totals"]["time_min"] is None
