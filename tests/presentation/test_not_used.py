"""What of the input was not used stands in every output and beside the headline, and never under a plain "all"."""

import datetime as dt
import json

import pytest
from written_runs import write_run

from routecheck.model import InputKind, NotUsed, RouteInput
from routecheck.pipeline import assess
from routecheck.presentation.assessment_view import view_assessment
from routecheck.presentation.headline import headline
from routecheck.presentation.verdict import Verdict
from routecheck.report.jsonl import format_line
from routecheck.report.output_formats import OUTPUT_FORMATS
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
MISSPELT = NotUsed(InputKind.KEY, "levle", "claim 2", "there is no such key")
DATE = NotUsed(InputKind.FIELD, "date", "line 7", "“soon” is no date: write it as 2026-12-03")


@pytest.fixture
def with_unused(demo):
    def assess_with(*not_used):
        given = RouteInput("DCT", "XVAL", "XVOR", not_used=not_used)
        return assess(given, demo, Settings(), DAY)

    return assess_with


def test_all_is_said_only_where_all_was_used(with_unused):
    plain, less = headline(with_unused()), headline(with_unused(MISSPELT))
    assert plain.sentence == "Nothing found in all that can be checked. Checked: all of the route."
    assert less.sentence == (
        "Nothing found in what was checked. "
        "Checked: all of the route, but not all that was given with it. 1 value not used: the key “levle” of claim 2."
    )
    assert less.verdict is Verdict.NOTHING_FOUND_IN_PART


def test_many_are_counted_and_the_first_are_named(with_unused):
    named = headline(with_unused(DATE, *[MISSPELT] * 4)).not_used_sentence
    assert named.startswith("5 values not used: date of line 7, the key “levle”")
    assert named.endswith("and 2 more.")


def test_the_window_says_it_under_its_headline(with_unused):
    view = view_assessment(with_unused(DATE))
    assert view.how_much.endswith("1 value not used: date of line 7.")
    assert DATE.sentence in view.recognised


def test_every_output_names_it():
    inputs = [RouteInput("DCT", "XVAL", "XVOR", not_used=(DATE, MISSPELT)), RouteInput("DCT", "XVAL", "XVOR")]
    for name, make_report in OUTPUT_FORMATS.items():
        written, summary = write_run(make_report, inputs)
        assert (summary.not_used, summary.with_not_used) == (2, 1)
        assert ("is no date: write it as" in written, "levle" in written) == (True, True), name
        if name == "text":
            assert " 2 values not used, in 1 route." in written


def test_the_result_gives_it_as_a_value(with_unused):
    result = json.loads(format_line(with_unused(DATE)))
    because = "“soon” is no date: write it as 2026-12-03"
    assert result["not_used"] == [{"what": "field", "name": "date", "where": "line 7", "because": because}]
    assert DATE.sentence in result["remarks"]
