"""Values beside the text that no form reads: refused on the command line, a finding in a file, never a false reason."""

import json

import pytest

ROUTE = ("proof", "--route", "LENDU DCT PIKAR", "--departure", "XVAL", "--destination", "XVOR", "--date", "2026-12-03")
HEADER = "departure,destination,route,date,speed,level\n"


def results(output):
    return [json.loads(line) for line in output.splitlines()]


@pytest.mark.parametrize(
    "option", ["--level", "--speed", "--date", "--departure-runway", "--destination-runway", "--approach", "--rules"]
)
def test_an_option_that_cannot_be_read_is_exit_code_2(command, option):
    code, out, err = command(*ROUTE, option, "banana")
    assert (code, out) == (2, "")
    assert "“banana” is no " in err


def test_an_option_is_read_in_any_form_of_the_trade(command):
    code, out, _ = command(*ROUTE, "--level", "FL350", "--speed", "450", "--rules", "IFR", "--format", "jsonl")
    (result,) = results(out)
    assert code == 0
    assert [f for f in result["findings"] if f["check"] == "field-unread"] == []
    assert not any("no level is filed" in one["because"] for one in result["not_checked"])
    assert not any(one["check"] == "rules-change" for one in result["not_checked"])


def test_a_cell_that_cannot_be_read_is_wrong_and_named(command, tmp_path):
    file = tmp_path / "rows.csv"
    file.write_text(f"{HEADER}XVAL,XVOR,LENDU DCT PIKAR,2026-12-03,N043O,F35O\n")
    code, out, _ = command("proof", file, "--format", "jsonl")
    (result,) = results(out)
    assert code == 1
    found = [f["message"] for f in result["findings"] if f["check"] == "field-unread"]
    assert ["“N043O”" in found[0], "“F35O”" in found[1], len(found)] == [True, True, 2]
    assert [one["name"] for one in result["not_used"]] == ["speed", "level"]
    reasons = [one["because"] for one in result["not_checked"]]
    assert not any("no level is filed" in why or "no speed is filed" in why for why in reasons)
    assert "the level given beside the text cannot be read" in reasons


def test_text_and_field_that_disagree_are_doubtful(command, tmp_path):
    file = tmp_path / "rows.csv"
    file.write_text(f"{HEADER}XVAL,XVOR,N0430F350 LENDU DCT PIKAR,2026-12-03,N0450,F350\n")
    _, out, _ = command("proof", file, "--format", "jsonl")
    (finding,) = [f for f in results(out)[0]["findings"] if f["check"] == "field-unread"]
    assert (finding["weight"], finding["spans"]) == ("doubtful", [[0, 9]])
    assert "N0430" in finding["message"]
    assert "N0450" in finding["message"]
