"""What of the answer is shown, and where it goes: filters, a file, quiet, colour, the width of the terminal."""

import io
import json
import os
import sys

import pytest

from routecheck.cli.printing import text_width, wants_colour

WRONG = ("--route", "LENDU DCT PIKER DCT UVAGI", "--departure", "XVAL", "--destination", "XVOR", "--date", "2026-12-03")


class Terminal(io.StringIO):
    def isatty(self):
        return True


def test_filters_hide_findings_and_change_nothing_else(command):
    whole = json.loads(command("proof", *WRONG, "--format", "jsonl")[1])
    names = [finding["check"] for finding in whole["findings"]]
    assert "unknown-name" in names
    code, out, _ = command("proof", *WRONG, "--format", "jsonl", "--without", "unknown-name")
    left = json.loads(out)
    assert code == 1, "what is hidden is Wrong all the same"
    assert [finding["check"] for finding in left["findings"]] == [name for name in names if name != "unknown-name"]
    assert left["findings_not_shown"] == 1
    assert left["outcomes"] == whole["outcomes"]
    code, out, _ = command("proof", *WRONG, "--without", "unknown-name,best-edit")
    assert "[unknown-name]" not in out
    assert "1 finding not shown." in out
    assert "1 Wrong" in out


def test_the_worst_comes_first_on_request(command, tmp_path):
    file = tmp_path / "rows.csv"
    file.write_text("name,departure,destination,route\na,XVAL,XVOR,LENDU\nb,XVAL,XVOR,LENDU DCT PIKER\n")
    order = []
    for more in ((), ("--worst-first",)):
        _, out, _ = command("proof", file, "--format", "jsonl", *more)
        order.append([json.loads(line)["name"] for line in out.splitlines()])
    assert order == [["a", "b"], ["b", "a"]]


def test_output_into_a_file_is_the_same_text_and_whole_or_not_at_all(command, tmp_path):
    file = tmp_path / "answer.txt"
    _, printed, _ = command("proof", *WRONG)
    code, out, err = command("proof", *WRONG, "-o", file)
    assert (code, out, err) == (1, "", "")
    assert file.read_text("utf-8") == printed
    assert [path.name for path in tmp_path.iterdir() if path.is_file()] == ["answer.txt"]
    code, out, err = command("proof", *WRONG, "-o", tmp_path / "no" / "such")
    assert (code, out) == (2, "")
    assert "cannot be written: no such file or directory" in err


def test_quiet_leaves_the_exit_code_and_complaints(command, tmp_path):
    assert command("proof", *WRONG, "-q") == (1, "", "")
    picture = tmp_path / "picture"
    picture.write_bytes(b"\x89PNG\r\n\x1a\n\0\0\0")
    code, out, err = command("proof", picture, "--quiet")
    assert (code, out) == (2, "")
    assert "this is no text" in err


def test_marks_are_coloured_where_that_is_asked_for(command):
    _, plain, _ = command("proof", *WRONG)
    _, coloured, _ = command("proof", *WRONG, "--color", "always")
    assert "\x1b" not in plain
    assert "\x1b[38;5;166m■ 1 Wrong\x1b[0m: PIKER" in coloured
    _, out, _ = command("proof", *WRONG, "--color", "always", "--format", "jsonl")
    json.loads(out)


@pytest.mark.parametrize(
    ("stream", "environment", "asked", "wanted"),
    [
        (io.StringIO(), {}, "auto", False),
        (Terminal(), {}, "auto", True),
        (Terminal(), {"NO_COLOR": "1"}, "auto", False),
        (Terminal(), {"NO_COLOR": ""}, "auto", True),
        (Terminal(), {"TERM": "dumb"}, "auto", False),
        (Terminal(), {"NO_COLOR": "1"}, "always", True),
        (Terminal(), {}, "never", False),
    ],
)
def test_colour_is_for_terminals_that_want_it(monkeypatch, stream, environment, asked, wanted):
    for name in ("NO_COLOR", "TERM"):
        monkeypatch.delenv(name, raising=False)
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    monkeypatch.setattr(sys, "stdout", stream)
    assert wants_colour(asked) is wanted


@pytest.mark.parametrize(("columns", "width"), [("80", 80), ("20", 60), ("400", 160)])
def test_text_is_as_wide_as_the_terminal_within_reason(monkeypatch, columns, width):
    monkeypatch.setenv("COLUMNS", columns)
    assert text_width(118) == 118, "what is no terminal has the usual width"
    monkeypatch.setattr(sys, "stdout", Terminal())
    assert text_width(118) == width


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="this system has no /dev/full")  # noqa: PTH110
def test_a_device_takes_the_output_as_it_comes(command):
    assert command("proof", *WRONG, "-o", os.devnull) == (1, "", "")
    code, _, err = command("proof", *WRONG, "-o", "/dev/full")
    assert (code, err) == (2, "routecheck: /dev/full cannot be written: no space left on device\n")
