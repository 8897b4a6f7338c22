"""A worklist: the routes to look at first, which entry errors come back, and what somebody accepted."""

import json

import pytest
from worklist_routes import ROUTES
from written_runs import DAY, assess_on_demo

from routecheck.navdata.choice import DataChoice
from routecheck.settings import Settings
from routecheck.worklist.acceptances import AcceptanceFile
from routecheck.worklist.order import Urgency, count_groups, urgency
from routecheck.worklist.rows import WorklistRows, route_key
from routecheck.worklist.worklist import Worklist

ACCEPTED = {"reason": "cleared so", "by": "AB", "at": "2026-12-03T10:00:00Z"}


@pytest.fixture(scope="module")
def rows():
    collected = WorklistRows()
    for assessment in assess_on_demo(ROUTES[:4]):
        collected.add(assessment)
    return collected.rows


@pytest.fixture
def accepted(tmp_path):
    return AcceptanceFile(tmp_path / "rows.csv")


def test_what_to_look_at_first_stands_on_top(rows):
    found = [urgency(row, row.route.findings) for row in rows]
    assert found == [Urgency.IN_ORDER, Urgency.WRONG, Urgency.DOUBTFUL, Urgency.LOST]


def test_routes_are_counted_by_entry_error_then_by_check(rows):
    groups = count_groups(row.route.findings for row in [*rows, rows[1]])
    assert groups[0] == ("one letter away", False, 2)
    assert [group.is_check for group in groups] == sorted(group.is_check for group in groups)
    assert sum(group.routes for group in groups) == 4


def test_an_acceptance_holds_for_the_same_finding_at_the_same_route(rows, accepted):
    row = rows[1]
    for finding in row.route.findings:
        accepted.add(row, finding, **ACCEPTED)
    again = AcceptanceFile(accepted.path.with_name("rows.csv"))
    again.read()
    assert again.open_findings(row) == ()
    assert again.open_findings(rows[2]) == rows[2].route.findings
    assert next(iter(again.of_row(row))).words == "PIKER"
    assert urgency(row, ()) in (Urgency.ACCEPTED, Urgency.IN_PART)
    changed = row.route.findings[0]._replace(message="something else")
    assert again.find(row, changed) is None


def test_a_line_that_is_no_acceptance_costs_itself(rows, accepted):
    accepted.path.write_text('nonsense\n{"route": 1}\n\n[]\n{"cut off', "utf-8")
    accepted.read()
    assert accepted.remark.startswith("rows.csv.accepted.jsonl: no acceptance can be read in line 1, 2, 4 and 5.")
    accepted.add(rows[1], rows[1].route.findings[0], **ACCEPTED)
    lines = accepted.path.read_text("utf-8").split("\n")
    assert lines[:5] == ["nonsense", '{"route": 1}', "", "[]", '{"cut off']
    assert json.loads(lines[5])["by"] == "AB"


def test_a_route_is_known_by_its_ends_and_words():
    changed = ROUTES[0].__class__("LENDU  DCT\nPIKAR um12 TOVIK DCT SARNO", " xval", "XVOR")
    assert route_key(changed) == route_key(ROUTES[0])
    assert route_key(changed) != route_key(ROUTES[1])


@pytest.mark.slow
def test_a_file_is_checked_and_written(tmp_path):
    table = tmp_path / "rows.csv"
    lines = [f"XVAL,XVOR,{route.route},{n}" for n, route in enumerate(ROUTES)]
    table.write_text("\n".join(["departure,destination,route,gate", *lines]), "utf-8")
    worklist = Worklist(table, DataChoice(demo=True), Settings(), DAY)
    assert list(worklist.check(1))[-1] == len(ROUTES) == worklist.summary.routes
    assert worklist.input_of(2).route == ROUTES[2].route
    assert [row.route.line for row in worklist.rows] == list(range(2, len(ROUTES) + 2))
    written = "".join(worklist.write("csv", 1)).splitlines()
    assert len(written) == len(ROUTES) + 1
    assert written[0].endswith(",gate,other_columns")
