"""Every output format takes no route, one, and many; the summary counts what passes."""

import csv
import itertools
import json
from xml.etree import ElementTree

import pytest
from written_runs import write_run

from routecheck.model import Origin, RouteInput
from routecheck.report.csv_rows import COLUMNS, guard
from routecheck.report.output_formats import OUTPUT_FORMATS
from routecheck.report.output_options import EVERYTHING, OutputOptions
from routecheck.report.run_summary import RunSummary

ROUTES = [
    RouteInput("LENDU DCT PIKAR UM12 TOVIK DCT SARNO", "XVAL", "XVOR", name="in order"),
    RouteInput("LENDU DCT PIKER DCT UVAGI", "XVAL", "XVOR", name="unknown name"),
    RouteInput("", name="unread", unread="line 2: nothing"),
]


def written(name: str, routes: list[RouteInput], options: OutputOptions = EVERYTHING) -> tuple[str, RunSummary]:
    return write_run(OUTPUT_FORMATS[name], routes, options)


@pytest.mark.parametrize("name", OUTPUT_FORMATS)
@pytest.mark.parametrize("count", [0, 1, 3])
def test_every_format_names_each_route_once_and_ends_its_last_line(name, count):
    options = OutputOptions(every_route=True)
    text, summary = written(name, ROUTES[:count], options)
    assert [text.count(route.name) >= 1 for route in ROUTES] == [i < count for i in range(len(ROUTES))]
    assert summary.routes == count
    assert text == "" or text.endswith("\n")


def test_json_lines_are_in_the_order_of_the_input():
    text, _ = written("jsonl", ROUTES)
    assert [json.loads(line)["name"] for line in text.splitlines()] == [route.name for route in ROUTES]


def test_the_summary_of_many_stands_last_in_text_and_not_over_one():
    text, _ = written("text", ROUTES)
    assert "3 routes: 2 with something Wrong, 0 Doubtful without Wrong, 2 not fully checked." in text
    assert "routes:" not in written("text", ROUTES[:1])[0]


def test_the_summary_counts_what_came_out():
    _, summary = written("jsonl", ROUTES)
    assert (summary.routes, summary.wrong, summary.doubtful, summary.unchecked, summary.failed) == (3, 2, 0, 2, 0)
    assert "demo region" in summary.data_line


# ---- rows keep their identity


def rows_of(*columns_of_rows):
    return [
        RouteInput("LENDU DCT PIKER", "XVAL", "XVOR", name=f"r{line}", origin=Origin("rows.csv", line, tuple(columns)))
        for line, columns in enumerate(columns_of_rows, start=2)
    ]


def test_json_says_file_and_line_and_passes_columns_through():
    text, _ = written("jsonl", [*rows_of([("flight", "ABC1"), ("=x", "=1+1")]), RouteInput("LENDU", "XVAL", "XVOR")])
    first, second = map(json.loads, text.splitlines())
    assert first["input"] == {"file": "rows.csv", "line": 2, "columns": {"flight": "ABC1", "=x": "=1+1"}}
    assert second["input"] == {"file": None, "line": None, "columns": {}}


def test_json_has_turns_and_courses_at_both_ends():
    text, _ = written("jsonl", ROUTES[:1])
    legs = json.loads(text)["legs"]
    assert legs[-1]["turn_deg"] is None
    for leg, following in itertools.pairwise(legs):
        if leg["turn_deg"] is not None:
            turned = (leg["course_end_true_deg"] + leg["turn_deg"] - following["course_true_deg"]) % 360.0
            assert min(turned, 360.0 - turned) < 0.01
    assert sum(leg["turn_deg"] is not None for leg in legs) >= 2


def test_csv_is_a_row_a_route_with_its_columns():
    text, _ = written("csv", [*rows_of([("flight", "ABC1")], [("flight", "D2"), ("gate", "7")]), *ROUTES])
    rows = list(csv.DictReader(text.splitlines()))
    assert len(rows) == len(text.splitlines()) - 1 == 5
    assert [row["line"] for row in rows] == ["2", "3", "", "", ""]
    assert [row["flight"] for row in rows] == ["ABC1", "D2", "", "", ""]
    assert rows[1]["other_columns"] == "gate=7"
    assert {name: rows[0][name] for name in ("verdict", "wrong", "check", "words", "at_least", "departure")} == {
        "verdict": "wrong", "wrong": "1", "check": "unknown-name", "words": "PIKER", "at_least": "yes",
        "departure": "XVAL",
    }  # fmt: skip
    assert rows[0]["likely_intended"].startswith("PIKAR")
    assert (rows[2]["verdict"], rows[2]["checked_share"], rows[2]["finding"]) == ("nothing_found", "1.0", "")
    assert (rows[4]["verdict"], rows[4]["distance_nm"], rows[4]["checked_share"]) == ("not_read", "", "0.0")


@pytest.mark.parametrize(
    "text", ["=1+1", "+1", "-1", "@x", "\t=1", "＝1+1", "\u200b=1", "\u202e＝1", " =1", "\ufeff@x", "－1", "|x", "%x"]
)
def test_no_cell_is_a_formula(text):
    assert guard(text) == f"'{text}"
    out, _ = written("csv", [RouteInput("LENDU", "XVAL", "XVOR", name=text, origin=Origin(text, 2, ((text, text),)))])
    header, row = csv.reader(out.splitlines())
    assert [row[COLUMNS.index(name)] for name in ("file", "name")] == [f"'{text}"] * 2
    assert (header[len(COLUMNS)], row[len(COLUMNS)]) == (f"'{text}", f"'{text}")


@pytest.mark.parametrize("text", ["", "LENDU", "1-2", "a=b", "№1", "5000N 00000E"])
def test_other_cells_stay_as_they_are(text):
    assert guard(text) == text


def test_the_page_is_one_table_and_no_text_of_a_row_is_markup():
    hostile = "<script>alert(1)</script>\u202e&"
    out, _ = written("html", [RouteInput("LENDU <b>", "XV<i>", "XVOR", name=hostile), *ROUTES])
    page = ElementTree.fromstring(out.replace("<!doctype html>\n", "").replace('<meta charset="utf-8">', ""))
    rows = page.findall("table/tbody/tr")
    assert [row.findtext("td") for row in rows][:2] == [f"XV<I>–XVOR · {hostile[:-2]}�&", "XVAL–XVOR · in order"]
    assert [row.findall("td")[1].text for row in rows][1:3] == ["nothing found", "■ Wrong"]
    assert {len(row) for row in rows} == {len(page.findall("table/thead/tr/th"))}
    assert [p.text[:10] for p in page.findall("p")[1:]] == ["4 routes: ", "Navigation", "A cross-ch", "Not looked"]
