"""Pasted nav logs in many dresses: the same flight every time, its figures compared, and nothing of the text lost."""

import itertools
import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.model import Span, Use
from routecheck.reading.input_format import ReadingChoices
from routecheck.reading.inputs import read_input, recognise_format
from routecheck.reading.nav_logs.nav_log import read_nav_log
from routecheck.reading.nav_logs.read_again import read_again

ROUTE = "LENDU UM12 PIKAR UM12 UVAGI UM12 TOVIK DCT SARNO"


def table(rows, heads, sign, head=True):
    lines = [sign.join(heads)] if head else []
    return "\n".join([*lines, *(sign.join(row[name] for name in heads.values()) for row in rows)])


def aligned(rows, heads):
    body = [[*heads], *([row[name] for name in heads.values()] for row in rows)]
    widths = [max(map(len, column)) for column in zip(*body, strict=True)]
    return "\n".join("  ".join(cell.rjust(width) for cell, width in zip(line, widths, strict=True)) for line in body)


HEADS = {"Point": "fix", "Via": "airway", "MC": "mag", "Dist (NM)": "dist", "Total dist": "so far", "Time": "time"}


def read_one(text, columns=""):
    (route_input,) = read_input(text.encode(), "log.txt", None, ReadingChoices(columns=columns))
    return route_input


@pytest.mark.parametrize("sign", ["\t", ",", ";", " | ", "   "])
def test_whatever_parts_the_columns(rows, found, sign):
    text = table(rows, HEADS, sign)
    assert recognise_format(text, "log.txt").name == "nav-log"
    given = read_one(text)
    assert (given.route, given.destination, given.not_used) == (f"{ROUTE} DCT", "XVOR", ())
    assert [claim.distance_nm for claim in given.claims] == [float(row["dist"]) for row in rows]
    assert found(text) == {}


@pytest.mark.parametrize("order", list(itertools.permutations(range(4)))[::5])
def test_whatever_the_order_of_the_columns(rows, found, order):
    heads = [("Waypoint", "fix"), ("Airway", "airway"), ("True course", "true"), ("NM", "dist")]
    text = table(rows, dict(heads[i] for i in order), "\t")
    assert read_one(text).route == f"{ROUTE} DCT"
    assert found(text) == {}


def test_aligned_blanks_with_an_empty_cell_and_a_head_of_two_words(rows, found):
    first = [{**rows[0], "airway": "", "so far": ""}, *rows[1:]]
    text = "Flight log for tomorrow\n\n" + aligned(
        first, {"FIX": "fix", "AWY": "airway", "TC": "true", "DIST": "dist", "REM DIST": "left"}
    )
    given = read_one(text)
    assert given.route == f"{ROUTE} DCT"
    assert [claim.distance_left_nm for claim in given.claims][-1] == 0.0
    assert (
        given.not_used[0].sentence == "Not used: 1 line of text around the plan; it begins “Flight log for tomorrow”."
    )
    assert found(text) == {}


def test_without_a_head_by_the_looks_of_the_cells(rows, found):
    bare = [{**row, "mag": f"{row['mag']}M"} for row in rows]
    text = table(bare, {"1": "fix", "2": "airway", "3": "mag", "4": "dist", "5": "so far"}, "\t", head=False)
    given = read_one(text)
    assert given.remarks[0].endswith("columns: 1 fix, 2 airway, 3 course magnetic, 4 distance and 5 distance so far.")
    assert found(text) == {}


def test_rows_of_two_lines_and_repeated_heads(rows, found):
    head = "FIX   AWY   MC\nLAT   LON   DIST\n"
    lines = [f"{r['fix']}   {r['airway']}   {r['mag']}\n{r['lat']}   {r['lon']}   {r['dist']}\n" for r in rows]
    text = head + "".join(lines[:3]) + "\n" + head + "".join(lines[3:])
    given = read_one(text)
    assert given.route == f"{ROUTE} DCT"
    assert given.claims[1].lat == pytest.approx(-30.695, abs=0.01)
    assert any(remark == "Passed over: repeated head." for remark in given.remarks)
    assert found(text) == {}


def test_a_head_on_two_lines_over_rows_of_one(rows, found):
    heads = {"FIX": "fix", "VIA": "airway", "TRUE": "true", "LEG": "dist", "TOTAL": "so far"}
    body = table(rows, heads, "\t", head=False)
    text = f"FIX\tVIA\tTRUE\tLEG\tTOTAL\n\t\tCOURSE\tDIST\tDIST\n{body}"
    given = read_one(text)
    assert given.remarks[0].endswith("columns: 1 fix, 2 airway, 3 course true, 4 distance and 5 distance so far.")
    assert found(text) == {}


def test_a_procedure_that_is_not_named_is_said(rows):
    text = table([{**rows[0], "airway": "SID"}, *rows[1:]], HEADS, "\t")
    assert [one.because for one in read_one(text).not_used] == ["which one is not said; the leg is taken as direct"]


def test_a_departure_row_and_a_row_of_totals(rows, found):
    body = table(rows, {"a": "fix", "b": "airway", "c": "dist", "d": "gs"}, ";", head=False)
    text = f"Fix;Airway;Dist;Fuel (lb)\nXVAL;;;\n{body}"
    whole = sum(float(row["dist"]) for row in rows)
    given = read_one(f"{text}\nTOTAL;;{whole:.1f};2640\n")
    assert (given.departure, given.destination) == ("XVAL", "XVOR")
    assert given.stated_totals.distance_nm == pytest.approx(whole, abs=0.05)
    assert given.claims[1].fuel_kg == pytest.approx(440 * 0.45359237)
    assert "sums" not in found(f"{text}\nTOTAL;;{whole:.1f};2640\n")
    assert "sums" in found(f"{text}\nTOTAL;;{whole + 10:.1f};2640\n")


def test_a_column_where_the_leg_begins(rows):
    whole = [{**row, "from": before} for row, before in zip(rows, ["XVAL", *(r["fix"] for r in rows)], strict=False)]
    given = read_one(table(whole, {"From": "from", "To": "fix", "Via": "airway", "Dist": "dist"}, "\t"))
    assert (given.departure, given.route) == ("XVAL", f"DCT {ROUTE} DCT")


def test_a_course_of_unknown_kind_is_not_compared_and_can_be_named(rows, found):
    text = table(rows, {"Fix": "fix", "Course": "mag", "Dist": "dist"}, "\t")
    assert read_one(text).claims[1].course_magnetic_deg is None
    assert any(
        "nothing says whether it is true or magnetic: column 2 “Course”" in one for one in read_one(text).remarks
    )
    assert read_one(text, "course_magnetic=2").claims[1].course_magnetic_deg == float(rows[1]["mag"])


def test_columns_that_nobody_knows_are_named_and_can_be_said(rows):
    odd = [{**row, "so far": "x"} for row in rows]
    text = table(odd, {"Fix": "fix", "Dist": "dist", "Klang": "gs"}, "\t")
    assert [one.sentence for one in read_one(text).not_used] == [
        "Not used: the column “Klang”; not recognised; say what it is."
    ]
    assert read_one(text, "gs=3").not_used == ()


@pytest.mark.slow
def test_rows_beyond_the_most_are_counted():
    given = read_one("Fix\tVia\tDist\n" + "LENDU\tDCT\t1.0\n" * 3_007)
    assert len(given.claims) == 3_000
    assert given.not_used[0].sentence == "Not used: 7 lines; of one table no more than 3,000 are read."


@pytest.mark.parametrize("columns", ["fix", "fix=0", "fix=x", "distanz=4", "fix=1;distance=2"])
def test_columns_that_cannot_be_read(columns):
    assert (
        "names no column: write fix=1,distance=4" in read_nav_log("A B C", "x", ReadingChoices(columns=columns)).unread
    )


@pytest.mark.parametrize("columns", ["fix=1,,distance=3", "fix=1,distance=3,", ","])
def test_an_empty_choice_is_said(columns):
    assert "has a comma too many" in read_one("Fix\tVia\tDist\n" + "LENDU\tDCT\t1.0\n" * 4, columns).unread


@pytest.mark.parametrize("columns", ["fix=1,fix=2", "fix=1,distance=1"])
def test_columns_that_are_said_twice(columns):
    assert "says something else than what stands before it" in read_one("A\tB\tC\n" * 4, columns).unread


def test_a_column_that_the_table_has_not_is_named(rows):
    given = read_one(table(rows, HEADS, "\t"), "gs=9")
    assert [one.sentence for one in given.not_used] == ["Not used: the column “gs=9”; the table has 6 columns."]


def test_a_table_is_read_again_and_what_was_typed_since_stays(rows):
    heads = {"Fix": "fix", "Course": "mag", "W/V": "wind", "Dist": "dist"}
    given = replace(read_one(table(rows, heads, "\t")), level="F350")
    again = read_again(given, "course_magnetic=2")
    assert again.claims[1].course_magnetic_deg == float(rows[1]["mag"])
    assert (again.level, again.columns, again.destination) == ("F350", "course_magnetic=2", "XVOR")
    assert len(again.wind) == len(rows)
    typed = read_again(replace(again, wind=(), destination="XVMA"), "")
    assert (typed.wind, typed.destination, typed.claims) == ((), "XVMA", given.claims)
    assert read_again(given, "other=1").unread.startswith("no column of points")


def test_the_first_leg_that_departs_is_named(rows, found):
    wrong = [row if row["fix"] != "UVAGI" else {**row, "dist": "78.6", "mag": "275"} for row in rows]
    text = table(wrong, {k: v for k, v in HEADS.items() if v != "so far"}, "\t")
    assert found(text)["claimed-distance"].message.startswith("The plan gives PIKAR–UVAGI 78.6 NM")
    assert "It is the reciprocal: the way back." in found(text)["claimed-course"].message


def test_positions_win_over_names_and_are_compared(rows, found):
    heads = {"Fix": "fix", "Lat": "lat", "Long": "lon", "Dist": "dist"}
    assert found(table(rows, heads, "\t")) == {}
    moved = [row if row["fix"] != "PIKAR" else {**row, "lat": "S3141.7"} for row in rows]
    assert "PIKAR is stated at" in found(table(moved, heads, "\t"))["position-disagrees"].message


def test_words_are_found_in_the_table(rows):
    given = read_one(table(rows, HEADS, "\t"))
    at = given.route.index("UVAGI")
    span = given.pasted.find_span(Span(at, at + 5))
    assert given.pasted.text[span.start : span.end] == "UVAGI"


@pytest.mark.parametrize(
    "text",
    [
        "LENDU DCT PIKAR UM12 TOVIK",
        "LENDU DCT\nPIKAR UM12\nTOVIK DCT SARNO",
        "N0430F350 LENDU\nUM12 PIKAR/N0450F370\nUVAGI 5000N02000W",
        "departure,destination,route\nXVAL,XVOR,LENDU\nXVAL,XVOR,PIKAR\nXVAL,XVOR,UVAGI",
        "52N020W 52N030W 50N040W\n49N050W 48N060W 47N070W\n46N080W 45N090W 44N100W",
    ],
)
def test_what_is_no_nav_log(text):
    assert recognise_format(text, "x").name != "nav-log"


WORDS = "LENDU PIKAR UM12 DCT 064 64.0 0:12 N5130.5 W00010.2 TOTAL 280/45 - ß"
CELLS = st.sampled_from([*WORDS.split(), ""])
LINES = st.lists(st.lists(CELLS, max_size=6), max_size=8)


@given(LINES, st.sampled_from(["\t", "|", ",", "  ", " "]), st.sampled_from(["", "Fix\tDist\tTC\n", "FIX  AWY  NM\n"]))
def test_any_table_is_read_and_every_sign_accounted_for(lines, sign, head):
    text = head + "\n".join(sign.join(line) for line in lines)
    given = read_nav_log(text, "x", ReadingChoices())
    assert bool(given.unread) != bool(given.route)
    if given.pasted:
        end = 0
        for part in given.pasted.parts:
            assert end <= part.span.start < part.span.end <= len(text)
            assert re.fullmatch(r"[\s|,;+=_.*'\"-]*", text[end : part.span.start])
            end = part.span.end
        assert re.fullmatch(r"[\s|,;+=_.*'\"-]*", text[end:])
        assert all(isinstance(part.use, Use) for part in given.pasted.parts)


@given(st.text(max_size=200), st.text(max_size=20))
def test_any_text_raises_nothing(text, columns):
    read_nav_log(text, "x", ReadingChoices(columns=columns))


def test_it_is_said_where_airways_lead_on():
    lines = "Fix\tVia\tDist\nLENDU\tUM12\t101.2\nPIKAR\tUM12\t94.0\nTOVIK\t{}\t200.1\n"
    said = "An airway is taken to lead on from the point of its row, for the last row has none."
    assert said in read_one(lines.format("")).remarks
    assert said not in read_one(lines.format("UM12")).remarks
