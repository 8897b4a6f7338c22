"""What the result says of charted courses and of what the magnetic ones rest on."""

import datetime as dt
import json

from routecheck.model import RouteInput
from routecheck.pipeline import assess
from routecheck.report import jsonl
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)


def legs(route, database, date=DAY):
    answer = assess(RouteInput(route, "XVAL", "XVMA", off_block=date), database, Settings(), date)
    result = json.loads(jsonl.format_line(answer))
    return {result["points"][leg["from"]]["text"]: leg for leg in result["legs"]}


def test_a_coded_course_has_its_station_and_a_direct_leg_has_none(demo):
    found = legs("SOLPA V14 GORIT DCT MAV", demo)
    kel, direct = found["KEL"], found["GORIT"]
    assert (kel["course_charted_deg"], kel["course_charted_from"]) == (106.1, "coded")
    assert (kel["aligned_station"], kel["alignment_deg"]) == ("KEL", -25.0)
    keys = ("course_charted_deg", "course_charted_from", "aligned_station", "alignment_deg")
    assert [direct[key] for key in keys] == [None] * 4


def test_what_a_magnetic_course_rests_on_is_named_and_null_where_there_is_none(demo):
    assert {leg["variation_from"] for leg in legs("SOLPA V14 GORIT", demo).values()} == {"WMM2025"}
    later = legs("SOLPA V14 GORIT", demo, dt.date(2031, 1, 1))
    assert later["XVAL"]["variation_from"] == "the field's record"
    assert later["SOLPA"]["variation_from"] == "the record's variation"
    for leg in later.values():
        assert (leg["variation_from"] is None) == (leg["course_magnetic_deg"] is None)
