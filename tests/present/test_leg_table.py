"""The Leg table: a row a leg, figures as elsewhere, gaps never filled, claims beside what was computed, plain CSV."""

import csv
import datetime as dt
import io
from collections.abc import Callable
from dataclasses import replace

import pytest

from routecheck.assess import assess
from routecheck.library import gazetteer
from routecheck.model import Assessment, Claim, Entry, Weight
from routecheck.present.leg_table import claims_by_leg, leg_csv, leg_table
from routecheck.present.rows import leg_rows
from routecheck.settings import Settings

Assess = Callable[..., Assessment]
PLANTED = "LENDU DCT PIKOR UM12 TOVIK DCT SARNO"


@pytest.fixture
def with_entry(demo_library: gazetteer.Library) -> Callable[..., Assessment]:
    def made(**what: object) -> Assessment:
        entry = Entry("LENDU DCT PIKAR UM12 TOVIK DCT SARNO", departure="XVAL", destination="XVOR")
        return assess(replace(entry, **what), demo_library, Settings(), dt.date(2026, 12, 3))

    return made


def cells(assessment: Assessment, head: str) -> list[str]:
    table = leg_table(assessment)
    at = [column.head for column in table.columns].index(head)
    return [row.cells[at] for row in table.rows]


def heads(assessment: Assessment) -> list[str]:
    return [column.head for column in leg_table(assessment).columns]


def read(assessment: Assessment) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(leg_csv(assessment))))


def test_a_row_a_leg_with_the_figures_of_every_other_place(assessed: Assess) -> None:
    assessment = assessed("LENDU UM12 TOVIK DCT SARNO")
    _, *plain = leg_rows(assessment)
    assert [row.cells[:7] for row in leg_table(assessment).rows] == [row[:7] for row in plain]
    assert heads(assessment) == ["from", "to", "via", "°T", "°M", "NM", "sum NM"]


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


def test_nothing_typed_is_no_leg(assessed: Assess) -> None:
    assert leg_table(assessed("", "", "")).rows == ()
    assert [row.cells[:2] for row in leg_table(assessed("", "XVAL", "")).rows] == [("XVAL", "–")]


def test_what_could_not_be_read_has_no_legs(with_entry: Callable[..., Assessment]) -> None:
    assessment = with_entry(unread="broken")
    assert leg_table(assessment).rows == ()
    assert leg_csv(assessment).count("\n") == 1
