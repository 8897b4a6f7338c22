"""Values written as JSON by hand, against the encoder of the standard library."""

import datetime as dt
import json
from dataclasses import replace

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from routecheck.assess import assess
from routecheck.model import Place, PlaceKind, RouteInput, Span
from routecheck.navdata.database import demo_database
from routecheck.report import jsonl
from routecheck.report.json_text import decimal, keyed, listed, span, spans, strings
from routecheck.settings import Settings

FIGURES = st.floats(allow_nan=False, allow_infinity=False) | st.floats(-360.0, 360.0) | st.floats(-1e-3, 1e-3)


@given(FIGURES, st.sampled_from([1, 2, 3, 4, 8]))
@example(0.0, 4)
@example(-0.0, 4)
@example(359.9996, 3)
@example(100.0, 4)
@example(-120.5, 8)
@example(0.00004999, 4)
@example(1.25e-5, 8)
@example(0.99999999999, 8)
@example(2.675, 2)
@example(999_999.99999, 4)
def test_a_figure_is_written_as_the_encoder_writes_it_rounded(value, digits):
    assert decimal(value, digits) == json.dumps(round(value, digits))


def test_no_figure_is_null():
    assert decimal(None, 4) == "null"


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf")])
def test_what_is_no_number_is_refused(value):
    with pytest.raises(ValueError, match="JSON"):
        decimal(value, 4)


@given(st.lists(st.text()))
def test_texts_are_written_as_the_encoder_writes_them(texts):
    assert strings(texts) == json.dumps(texts, separators=(",", ":"))


def test_spans_lists_and_objects():
    assert span(None) == "null"
    assert spans([Span(0, 5), Span(9, 14)]) == "[[0,5],[9,14]]"
    assert keyed({"a": "1", "b": listed(["2", "null"])}) == '{"a":1,"b":[2,null]}'


def test_a_place_on_the_equator_has_no_sign_whichever_was_written_first():
    answer = assess(RouteInput("LENDU", "XVAL", "XVOR"), demo_database(), Settings(), dt.date(2026, 12, 3))
    first, point, last = answer.route.points

    def written(place):
        points = (first, replace(point, place=place), last)
        return jsonl.line(replace(answer, route=replace(answer.route, points=points)))

    lines = {written(Place("LENDU", lat, 12.5, PlaceKind.FIX)) for lat in (-0.0, 0.0)}
    assert len(lines) == 1
    assert '"lat":0.0,"lon":12.5,' in lines.pop()
