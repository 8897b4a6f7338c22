"""Every output format takes no route, one, and many; the summary counts what passes."""

import datetime as dt
import json

import pytest

from routecheck.model import RouteInput
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess_many
from routecheck.report.output_formats import OUTPUT_FORMATS
from routecheck.report.output_options import EVERYTHING, OutputOptions
from routecheck.report.run_summary import RunSummary
from routecheck.settings import Settings

ROUTES = [
    RouteInput("LENDU DCT PIKAR UM12 TOVIK DCT SARNO", "XVAL", "XVOR", name="in order"),
    RouteInput("LENDU DCT PIKER DCT UVAGI", "XVAL", "XVOR", name="unknown name"),
    RouteInput("", name="unread", unread="line 2: nothing"),
]


def written(name: str, routes: list[RouteInput], options: OutputOptions = EVERYTHING) -> tuple[str, RunSummary]:
    summary = RunSummary()
    assessments = assess_many(routes, demo_database(), Settings(), dt.date(2026, 12, 3))
    return "".join(OUTPUT_FORMATS[name](summary.count(assessments), summary, options)), summary


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
