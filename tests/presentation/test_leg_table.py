"""The Leg table: a row a leg, figures as elsewhere, gaps never filled, claims beside what was computed, plain CSV."""

import csv
import datetime as dt
import io
from collections.abc import Callable
from dataclasses import replace
from itertools import accumulate

import pytest

from routecheck.formatting import column_nm, course, duration
from routecheck.model import AltitudeWindow, Assessment, Claim, Leg, RouteInput, Weight, Wind
from routecheck.navdata.database import NavDatabase
from routecheck.performance.times import route_times
from routecheck.pipeline import assess
from routecheck.presentation.leg_table import claims_by_leg, leg_csv, leg_table
from routecheck.presentation.time_words import known_times
from routecheck.report import text
from routecheck.settings import Settings, shipped_sheets

Assess = Callable[..., Assessment]
PLANTED = "LENDU DCT PIKOR UM12 TOVIK DCT SARNO"
SMALL_GAP = "LENDU DCT PIKAR UM12 TOVIK DCT TEMGU SARNO2"


@pytest.fixture
def with_entry(demo_library: NavDatabase) -> Callable[..., Assessment]:
    def made(**what: object) -> Assessment:
        route_input = RouteInput("LENDU DCT PIKAR UM12 TOVIK DCT SARNO", departure="XVAL", destination="XVOR")
        return assess(replace(route_input, **what), demo_library, Settings(), dt.date(2026, 12, 3))

    return made


def cells(assessment: Assessment, head: str) -> list[str]:
    table = leg_table(assessment)
    at = [column.head for column in table.columns].index(head)
    return [row.cells[at] for row in table.rows]


def heads(assessment: Assessment) -> list[str]:
    return [column.head for column in leg_table(assessment).columns]


def read(assessment: Assessment) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(leg_csv(assessment))))


def courses(leg: Leg) -> tuple[float | None, float | None]:
    return leg.course_true_deg, leg.course_magnetic_deg


def test_a_row_a_leg_with_the_figures_of_every_other_place(assessed: Assess) -> None:
    assessment = assessed("LENDU UM12 TOVIK DCT SARNO")
    points, legs = assessment.route.points, assessment.route.legs
    sums = accumulate(leg.distance_nm for leg in legs)
    assert [row.cells[:7] for row in leg_table(assessment).rows] == [
        (start.text, end.text, leg.via, *map(course, courses(leg)), column_nm(leg.distance_nm), column_nm(total))
        for start, end, leg, total in zip(points, points[1:], legs, sums, strict=False)
    ]
    assert heads(assessment) == ["from", "to", "via", "°T", "°M", "NM", "sum NM", "to go", "variation"]


def test_the_text_report_shows_the_same_table(assessed: Assess) -> None:
    assessment = assessed(PLANTED)
    told = [line.split() for line in text.describe_route(assessment).splitlines()]
    table = leg_table(assessment)
    assert " ".join(heads(assessment)).split() in told
    assert all(" ".join(row.cells).split() in told for row in table.rows)


def test_a_gap_has_no_figures_and_sums_say_at_least(assessed: Assess) -> None:
    table = leg_table(assessed(PLANTED))
    gap = table.rows[2]
    assert gap.is_gap
    assert gap.cells[:3] == ("PIKOR", "TOVIK", "UM12")
    assert gap.cells[3:6] == ("", "", "gap")
    assert "not on UM12" in gap.tip
    assert "At least" in gap.tip
    sums = [row.cells[6] for row in table.rows]
    assert not sums[1].startswith("≥")
    assert all(text.startswith("≥ ") for text in sums[2:])


def test_nothing_known_so_far_is_no_sum(assessed: Assess) -> None:
    assert cells(assessed("XXXXX DCT LENDU"), "sum NM")[:2] == ["", ""]


def test_findings_are_marked_on_their_legs(assessed: Assess) -> None:
    assessment = assessed(PLANTED)
    table = leg_table(assessment)
    wrong = next(i for i, f in enumerate(assessment.findings) if f.weight is Weight.WRONG)
    assert [wrong in row.findings for row in table.rows] == [False, True, True, False, False]
    assert [row.weight for row in table.rows][:3] == [None, Weight.WRONG, Weight.WRONG]


def test_the_heaviest_finding_comes_first(assessed: Assess) -> None:
    assessment = assessed(PLANTED)
    light = replace(assessment.findings[0], weight=Weight.NOTE)
    table = leg_table(replace(assessment, findings=(light, assessment.findings[0])))
    assert table.rows[1].findings == (1, 0)
    assert table.rows[1].weight is Weight.WRONG


def test_the_level_in_force_is_shown_where_one_is_known(with_entry: Callable[..., Assessment]) -> None:
    assert "level" not in heads(with_entry())
    changed = with_entry(level="F350", route="LENDU DCT PIKAR/N0430F370 UM12 TOVIK/N0400A045 DCT SARNO")
    assert cells(changed, "level") == ["FL350", "FL350", "FL370", "FL370", "4,500 ft", "4,500 ft"]
    assert [row["level"] for row in read(changed)][:3] == ["F350", "F350", "F370"]


def test_claims_stand_beside_what_was_computed(with_entry: Callable[..., Assessment]) -> None:
    claims = (
        Claim("PIKAR", distance_nm=90.0, course_magnetic_deg=100.0),
        Claim("UVAGI"),
        Claim("TOVIK", distance_nm=112.5),
        Claim("SARNO", course_magnetic_deg=359.0),
    )
    assessment = with_entry(claims=claims)
    computed = [leg.distance_nm for leg in assessment.route.legs]
    assert cells(assessment, "claimed NM") == ["", "90.0", "", "112.5", "", ""]
    assert cells(assessment, "differs NM")[1] == f"−{computed[1] - 90.0:.1f}"
    assert cells(assessment, "differs NM")[3] == "0.0"
    assert cells(assessment, "claimed °M") == ["", "100°", "", "", "359°", ""]
    magnetic = assessment.route.legs[4].course_magnetic_deg
    assert magnetic is not None
    assert cells(assessment, "differs °")[4] == f"−{magnetic + 1.0:.0f}"
    assert "claimed °T" not in heads(assessment)


def test_a_claim_belongs_to_the_leg_that_ends_there_in_route_order(with_entry: Callable[..., Assessment]) -> None:
    route = "LENDU DCT PIKAR DCT LENDU DCT PIKAR"
    claims = (Claim("PIKAR", distance_nm=1.0), Claim("NOWHR", distance_nm=2.0), Claim("PIKAR", distance_nm=3.0))
    found = claims_by_leg(with_entry(route=route, claims=claims).route)
    assert [claim.distance_nm if claim else None for claim in found] == [None, 1.0, None, 3.0, None]


def test_csv_has_plain_numbers_and_says_what_is_a_gap(assessed: Assess) -> None:
    rows = read(assessed(PLANTED))
    assert [float(row["distance_nm"]) for row in rows if row["distance_nm"]]
    assert rows[2]["distance_nm"] == ""
    assert "not on UM12" in rows[2]["gap"]
    assert [row["gap"] for row in rows if row["distance_nm"]] == [""] * 4
    total = sum(float(row["distance_nm"] or 0) for row in rows)
    assert float(rows[-1]["sum_of_known_nm"]) == pytest.approx(total, abs=0.05)
    assert all(0 <= float(row["course_true_deg"]) < 360.05 for row in rows if row["course_true_deg"])


def test_csv_differences_have_an_ascii_sign(with_entry: Callable[..., Assessment]) -> None:
    rows = read(with_entry(claims=(Claim("PIKAR", distance_nm=1.0),)))
    assert float(rows[1]["claimed_less_computed_nm"]) < 0


def test_no_text_becomes_a_formula(with_entry: Callable[..., Assessment]) -> None:
    rows = read(with_entry(departure="=1+1", destination="@SUM(A1)"))
    assert rows[0]["from"] == "'=1+1"
    assert rows[-1]["to"] == "'@SUM(A1)"


def test_nothing_known_to_go_is_not_called_at_least_nothing(assessed: Assess) -> None:
    table = leg_table(assessed("DCT QQQQQ DCT QQQQX DCT"))
    to_go = [column.key for column in table.columns].index("to_go_nm")
    assert [row.cells[to_go] for row in table.rows] == ["", "", "0.0"]


def test_nothing_typed_is_no_leg(assessed: Assess) -> None:
    assert leg_table(assessed("", "", "")).rows == ()
    assert [row.cells[:2] for row in leg_table(assessed("", "XVAL", "")).rows] == [("XVAL", "–")]


def test_what_could_not_be_read_has_no_legs(with_entry: Callable[..., Assessment]) -> None:
    assessment = with_entry(unread="broken")
    assert leg_table(assessment).rows == ()
    assert leg_csv(assessment).count("\n") == 1


# ---- windows, times, fuel


FLOWN = {
    "route": "LENDU1 LENDU DCT PIKAR UM12 TOVIK DCT SARNO SARNO2",
    "departure_runway": "09",
    "destination_runway": "27",
    "speed": "N0430",
    "level": "F350",
}
SHEET = shipped_sheets()[3]


def test_times_say_between_which_ends_and_what_they_rest_on(with_entry: Callable[..., Assessment]) -> None:
    assessment = with_entry(speed="N0430", level="F350")
    table = leg_table(assessment)
    times = route_times(assessment.route)
    assert times.minutes is not None
    assert cells(assessment, "TAS kt") == ["430"] * 6
    assert sum(float(row["time_min"]) for row in read(assessment)) == pytest.approx(times.minutes, abs=0.3)
    by_head = dict(zip(heads(assessment), table.total, strict=True))
    assert (by_head["from"], by_head["time"]) == ("total", duration(times.minutes))
    assert by_head["NM"] == f"{assessment.route.totals.distance_nm:.1f}"
    assert table.basis.startswith("Time 1:")
    assert "overhead XVAL at level to overhead XVOR at level" in table.basis
    assert "no wind given: ground speed is true airspeed" in table.basis
    assert "about kg" not in heads(assessment)
    assert {row["time_rests_on"] for row in read(assessment)} == {"; ".join(times.notes)}


def test_with_a_wind_the_speed_is_that_over_the_ground(with_entry: Callable[..., Assessment]) -> None:
    assessment = with_entry(speed="N0430", level="F350", wind=(Wind(270, 50),))
    assert "TAS kt" not in heads(assessment)
    assert all(int(kt) > 430 for kt in cells(assessment, "GS kt")[:5])
    assert leg_table(assessment).basis.endswith("wind as given.")


def test_a_sheet_brings_fuel_and_take_off_and_landing(with_entry: Callable[..., Assessment]) -> None:
    assessment = with_entry(speed="N0430", level="F350", sheet=SHEET)
    times = route_times(assessment.route)
    assert "from take-off at XVAL to landing at XVOR, about " in leg_table(assessment).basis
    shown = [int(kg.replace(",", "")) for kg in cells(assessment, "about kg")]
    assert times.fuel_kg is not None
    assert sum(shown) == pytest.approx(times.fuel_kg, rel=0.01)
    assert "typical figures" in leg_table(assessment).basis


def test_no_speed_is_no_time(with_entry: Callable[..., Assessment]) -> None:
    assessment = with_entry()
    assert not {"time", "TAS kt", "GS kt", "about kg"} & set(heads(assessment))
    assert leg_table(assessment).basis == ""
    assert leg_table(assessment).total[heads(assessment).index("NM")]


def test_totals_with_a_gap_say_at_least(with_entry: Callable[..., Assessment]) -> None:
    assessment = with_entry(speed="N0430", level="F350", route=PLANTED)
    by_head = dict(zip(heads(assessment), leg_table(assessment).total, strict=True))
    totals = assessment.route.totals
    assert by_head["NM"] == f"≥ {totals.least_nm:,.1f}"
    assert totals.least_nm > totals.distance_nm
    assert "time" not in by_head


def test_with_a_small_gap_the_time_is_at_least(with_entry: Callable[..., Assessment]) -> None:
    assessment = with_entry(speed="N0430", level="F350", route=SMALL_GAP)
    assert 0.9 < (assessment.route.totals.checked_share or 0.0) < 1.0
    by_head = dict(zip(heads(assessment), leg_table(assessment).total, strict=True))
    assert by_head["time"].startswith("≥ ")
    assert by_head["to"] == "+ gaps"
    assert "" in cells(assessment, "time")


def test_a_procedure_shows_its_windows_limits_and_which_points_the_text_names(
    with_entry: Callable[..., Assessment],
) -> None:
    assessment = with_entry(**FLOWN)
    table = leg_table(assessment)
    ends = dict(zip(cells(assessment, "to"), table.rows, strict=True))
    windows = dict(zip(cells(assessment, "to"), cells(assessment, "window"), strict=True))
    # the windows as resources/demo/README.md gives them
    assert (windows["SARNO"], windows["KEBUL"], windows["RIPAS"], windows["HUNSA"]) == (
        "FL200–FL240",
        "≥ 11,000 ft",
        "9,000–12,000 ft",
        "5,000 ft",
    )
    assert [name for name, row in ends.items() if not row.in_text[1]] == [
        "TILBU", "RESKO", "UVAGI", "KEBUL", "RIPAS", "HUNSA", "GRELA",
    ]  # fmt: skip
    assert "KEBUL is on SARNO2; the text does not name it." in ends["KEBUL"].tip
    assert "RIPAS: 9,000 ft to 12,000 ft, coded by SARNO2." in ends["RIPAS"].tip
    limits = [leg.most_kt for leg in assessment.route.legs]
    assert cells(assessment, "limit kt") == ["" if kt is None else f"{kt:.0f}" for kt in limits]
    assert any(limits)
    assert [row["end_named_in_text"] for row in read(assessment)].count("no") == 7
    levels = dict(zip(cells(assessment, "to"), cells(assessment, "level"), strict=True))
    assert (levels["PIKAR"], levels["SARNO"], levels["KEBUL"]) == ("FL350", "FL350", "")


def test_a_stated_window_is_shown_and_said_to_be_stated(with_entry: Callable[..., Assessment]) -> None:
    assessment = with_entry(
        windows=(AltitudeWindow("TOVIK", None, 24_000.0), AltitudeWindow("SARNO", 5_000.0, 5_000.0))
    )
    assert cells(assessment, "window") == ["", "", "", "≤ FL240", "5,000 ft", ""]
    assert "TOVIK: at or below FL240, stated." in leg_table(assessment).rows[3].tip
    rows = read(assessment)
    assert [(row["window_low_ft"], row["window_high_ft"]) for row in rows][3:] == [
        ("", "24000"),
        ("5000", "5000"),
        ("", ""),
    ]
    assert "window" not in heads(with_entry())


def test_claimed_times_are_held_against_ours_only_with_a_wind(with_entry: Callable[..., Assessment]) -> None:
    claims = (Claim("PIKAR", time_min=20.0, fuel_kg=700.0),)
    calm = with_entry(speed="N0430", level="F350", sheet=SHEET, claims=claims)
    assert cells(calm, "claimed time")[1] == "0:20"
    assert "differs min" not in heads(calm)
    windy = with_entry(speed="N0430", level="F350", sheet=SHEET, claims=claims, wind=(Wind(270, 50),))
    ours = route_times(windy.route).legs[1]
    assert ours is not None
    assert cells(windy, "differs min")[1] == f"+{20 - ours.minutes:.0f}"
    assert ours.fuel_kg is not None
    assert cells(windy, "differs kg")[1] == f"+{700 - ours.fuel_kg:.0f}"


# ---- what a nav log has


def test_how_far_it_is_to_go_and_since_when_it_is_flown(with_entry: Callable[..., Assessment]) -> None:
    assessment = with_entry(route="LENDU DCT PIKAR UM12 TOVIK DCT SARNO", speed="N0450", level="F350")
    legs, times = assessment.route.legs, known_times(assessment.route)
    assert times is not None
    lengths = [leg.distance_nm or 0.0 for leg in legs]
    minutes = [leg.minutes for leg in times.legs if leg]
    to_go = [sum(lengths) - nm for nm in accumulate(lengths)]
    assert cells(assessment, "to go") == [column_nm(max(nm, 0.0)) for nm in to_go]
    assert cells(assessment, "sum") == [duration(so_far) for so_far in accumulate(minutes)]


def test_the_altitude_is_the_planned_one_and_not_the_filed_level_while_climbing(
    with_entry: Callable[..., Assessment],
) -> None:
    """The symptom: FL350 stood at a leg that ends 30 NM behind the runway."""
    climbing = with_entry(
        route="3140S00300W LENDU DCT PIKAR UM12 TOVIK", level="F350", speed="N0450", aircraft_sheet="Medium jet"
    )
    shown, filed = cells(climbing, "altitude"), [row["level"] for row in read(climbing)]
    assert shown[0] != "FL350" == shown[3]
    assert filed[0] == "F350", "CSV has both"
    assert "level" not in heads(climbing)
    assert "altitude" not in heads(with_entry(route="LENDU DCT PIKAR", level="F350"))


def test_the_minimum_is_the_airways_or_the_grids_and_never_made_up(with_entry: Callable[..., Assessment]) -> None:
    flown = with_entry(route="LENDU DCT PIKAR UM12 TOVIK DCT SARNO", level="F350", speed="N0450")
    (on_airway,) = {c for c, leg in zip(cells(flown, "minimum"), flown.route.legs, strict=True) if leg.via == "UM12"}
    assert on_airway == "FL245"
    assert cells(flown, "minimum")[1].endswith(" grid") or cells(flown, "minimum")[1] == "not known"
    assert "minimum" not in heads(with_entry(route="LENDU DCT PIKAR"))


def test_the_wind_used_is_shown_where_one_is_given(with_entry: Callable[..., Assessment]) -> None:
    windy = with_entry(route="LENDU DCT PIKAR", level="F350", speed="N0450", wind=(Wind(280.0, 45.0),))
    assert set(cells(windy, "wind")) == {"280/45"}
    assert "wind" not in heads(with_entry(route="LENDU DCT PIKAR", level="F350", speed="N0450"))


def test_the_source_of_each_variation_is_named(with_entry: Callable[..., Assessment]) -> None:
    today, later = (with_entry(route="LENDU DCT PIKAR", off_block=day) for day in (None, dt.date(2031, 1, 1)))
    assert all(cell.endswith(("W", "E")) for cell in cells(today, "variation"))
    assert [cell.split(" ", 1)[1] for cell in cells(later, "variation")] == ["field", "record", "record"]
    assert {row["variation_from"] for row in read(today)} == {"WMM2025"}


def test_a_charted_course_stands_where_it_differs_and_the_tip_says_why(with_entry: Callable[..., Assessment]) -> None:
    flown = with_entry(route="SOLPA V14 GORIT")
    at = next(i for i, row in enumerate(leg_table(flown).rows) if row.cells[0] == "KEL")
    assert cells(flown, "charted °M")[at] == "106°"
    assert "KEL aligned 25°W" in leg_table(flown).rows[at].tip
    assert read(flown)[at]["course_charted_from"] == "coded"
    assert "charted °M" not in heads(with_entry(route="LENDU UM12 TOVIK"))
