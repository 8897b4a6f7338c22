"""What `proof` tells the shell: 0 clean, 1 found or nothing checked, 2 no route input, 4 our fault; and --fail-on."""

import json

import pytest

from routecheck.cli.exit_codes import exit_code
from routecheck.report.run_summary import RunSummary

ENDS = ("--departure", "XVAL", "--destination", "XVOR", "--date", "2026-12-03")
CLEAN = "LENDU DCT PIKAR UM12 TOVIK DCT SARNO"
DOUBTFUL = "LENDU DCT PIKAR DCT LENDU DCT PIKAR DCT SARNO"


def finished(**counts):
    return RunSummary(is_finished=True, routes=1, **counts)


@pytest.mark.parametrize(
    ("counts", "fail_on", "code"),
    [
        ({}, ("wrong",), 0),
        ({"wrong": 1}, ("wrong",), 1),
        ({"wrong": 1}, ("never",), 0),
        ({"nothing_checked": 1, "unchecked": 1}, ("wrong",), 1),
        ({"nothing_checked": 1, "unchecked": 1}, ("never",), 0),
        ({"doubtful": 1}, ("wrong",), 0),
        ({"doubtful": 1}, ("doubtful",), 1),
        ({"doubtful": 1}, ("unchecked",), 0),
        ({"unchecked": 1}, ("doubtful",), 0),
        ({"unchecked": 1}, ("doubtful", "unchecked"), 1),
        ({"unread_files": {"a": "a picture"}, "wrong": 1}, ("never",), 2),
        ({"unread_files": {"a": "a picture"}, "failed": 1}, ("wrong",), 4),
        ({"failed": 1}, ("never",), 4),
    ],
)
def test_what_a_run_comes_to(counts, fail_on, code):
    assert exit_code(finished(**counts), fail_on) == code


def test_a_run_that_nobody_read_to_its_end_is_never_clean():
    assert exit_code(RunSummary(routes=3), ("wrong",)) == 1


@pytest.mark.parametrize(
    ("route", "fail_on", "code"),
    [
        (CLEAN, (), 0),
        (CLEAN, ("--fail-on", "unchecked"), 0),
        ("LENDU DCT PIKER DCT UVAGI", ("--fail-on", "never"), 0),
        ("LENDU UM12 PIKOR DCT UVAGI", (), 1),
        ("BATTY", ("--departure", "ZZZZ", "--destination", "ZZZY"), 1),
    ],
)
def test_fail_on(command, route, fail_on, code):
    assert command("proof", "--route", route, *ENDS, *fail_on)[0] == code


def test_an_input_of_a_later_schema_is_usage_though_the_others_are_checked(command, tmp_path):
    later, fine = tmp_path / "later.route.toml", tmp_path / "fine.txt"
    later.write_text('schema = 2\nroute = "LENDU"\n')
    fine.write_text(CLEAN)
    code, out, err = command("proof", later, fine, *ENDS, "--format", "jsonl")
    assert code == 2
    assert f"routecheck: {later}: this route file is of schema 2" in err
    assert [json.loads(line)["route"] for line in out.splitlines()] == ["", CLEAN]


def test_one_bad_row_is_wrong_and_no_bad_input(command, tmp_path):
    file = tmp_path / "rows.csv"
    file.write_text(f"departure,destination,route\nXVAL,XVOR,{CLEAN}\nXVAL\n")
    code, out, err = command("proof", file, "--date", "2026-12-03")
    assert (code, err) == (1, "")
    assert "2 rows read, 2 routes: 1 with something Wrong" in out


def test_a_closed_pipe_is_1_where_a_row_is_wrong_and_where_rows_were_left_unchecked(process, command, tmp_path):
    wrong, clean = tmp_path / "wrong.csv", tmp_path / "clean.csv"
    wrong.write_text("departure,destination,route\n" + "XVAL,XVOR,LENDU DCT PIKER\n" * 100)
    clean.write_text("departure,destination,route,date\n" + f"XVAL,XVOR,{CLEAN},2026-12-03\n" * 100)
    for file in (wrong, clean):
        code, out, err = process(shell=f"routecheck proof {file} --format jsonl | head -n 1")
        assert (code, err, len(out.splitlines())) == (1, "", 1)
    code, out, _ = command("proof", clean, "--format", "jsonl")
    assert code == 0
    assert len(out) > 2 * 65_536, "more than a pipe takes"


def test_a_message_without_a_route_is_said_and_is_no_route_of_which_nothing_was_checked(command, tmp_path):
    file = tmp_path / "messages.txt"
    plan = "(FPL-ABC1-IS\n-B738/M-SDFGRWY/S\n-XVAL1430\n-N0430F350 LENDU DCT PIKAR\n-XVOR0130\n-DOF/261203)\n"
    file.write_text(f"{plan}(CNL-ABC2-XVAL1430-XVOR-DOF/261203)\n")
    code, out, _ = command("proof", file)
    assert code == 0
    assert "No route to check: a cancellation (CNL) of ABC2 carries no route." in out
    assert "1 route: 0 with something Wrong" in out
    assert "1 message without a route." in out
    assert command("proof", file, "--fail-on", "unchecked")[0] == 1
    file.write_text("(CNL-ABC2-XVAL1430-XVOR-DOF/261203)\n")
    assert command("proof", file)[0] == 2
