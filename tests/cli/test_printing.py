"""What leaves to a terminal: nothing that commands it, whatever the stream can encode, whether or not it is open."""

import json
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from routecheck.cli import proof
from routecheck.cli.printing import make_visible, print_complaint
from routecheck.report import jsonl

ESCAPE = "\x1b]0;title\x07\x1b[31m"
SEEN = r"\x1b]0;title\x07\x1b[31m"


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("LENDU ■ 3 NM\nPIKAR", "LENDU ■ 3 NM\nPIKAR"),
        (ESCAPE, SEEN),
        ("a\tb\rc\0", r"a\tb\rc\x00"),
        ("\u202eRAKIP\u200b\ufeff", r"\u202eRAKIP\u200b\ufeff"),
        ("\udcff", r"\udcff"),
    ],
)
def test_what_commands_hides_or_reorders_is_made_visible(text, shown):
    assert make_visible(text) == shown


def test_a_sentence_stays_on_its_line(capsys):
    print_complaint("there is no file a\nroutecheck: all is well")
    assert capsys.readouterr().err == "routecheck: there is no file a routecheck: all is well\n"


@pytest.mark.parametrize(
    "arguments",
    [
        ("proof", f"{ESCAPE}.csv"),
        ("proof", f"--{ESCAPE}"),
        ("proof", "--demo", "--navdata", f"{ESCAPE}.txt"),
        ("explain", ESCAPE),
        ("navdata", "remove", ESCAPE),
        ("navdata", "add", f"{ESCAPE}.txt"),
        (ESCAPE,),
    ],
)
def test_complaints_carry_no_escape(command, arguments):
    code, out, err = command(*arguments)
    assert code in (2, 3)
    assert "\x1b" not in out + err
    assert r"\x1b" in err


def test_navdata_the_data_line_and_settings_carry_no_escape(command, tmp_path, root):
    file = tmp_path / f"{ESCAPE.replace('/', '')}.txt"
    file.write_bytes((root / "resources" / "demo" / "demo_region.txt").read_bytes())
    settings = tmp_path / "home" / "xdg_config_home" / "routecheck" / "settings.toml"
    settings.parent.mkdir()
    settings.write_text('"\\u001b[31m" = 1\n')
    said = [command("navdata", "add", file), command("navdata", "list"), command("proof", "--demo", "--navdata", file)]
    assert [code for code, _, _ in said] == [0, 0, 1]
    for _, out, _ in said:
        assert "\x1b" not in out
        assert SEEN in out
    assert r"\x1b[31m" in said[-1][2]
    assert "\x1b" not in said[-1][2]


def test_marks_are_told_in_ascii_where_nothing_else_can_be_shown(process):
    code, out, err = process("proof", "--demo", PYTHONIOENCODING="ascii", PYTHONUTF8="0")
    assert (code, err) == (1, "")
    assert out.isascii()
    assert "# 1 Wrong: PIKOR is not on UM12" in out
    assert ">= " in out
    assert "?" not in out


def test_closed_streams_are_not_our_mistake(process):
    code, out, err = process(shell="routecheck explain >&-")
    assert (code, out, err) == (2, "", "routecheck: the output cannot be written: standard output is closed\n")
    code, _, err = process(shell="routecheck proof - <&-")
    assert (code, err) == (2, "routecheck: there is no standard input: it is closed\n")
    assert process(shell="routecheck proof no-such-file 2>&-")[:2] == (2, "")
    assert process(shell="routecheck --version >&- 2>&-")[0] == 2


def test_a_log_that_cannot_be_written_is_said_and_no_traceback(command, tmp_path, monkeypatch):
    (tmp_path / "home" / "xdg_state_home" / "routecheck").write_text("a file where the folder would be")

    def broken(*_, **__):
        raise ZeroDivisionError("on purpose")

    monkeypatch.setattr(proof, "assess_many", broken)
    code, _, err = command("proof", "--demo")
    assert code == 4
    assert err.startswith("routecheck: This is our mistake, not yours. The log ")
    assert "cannot be written: " in err
    assert len(err.splitlines()) == 1


def test_a_configuration_folder_without_permission_is_a_sentence(command, monkeypatch):
    def refuse(name):
        real = getattr(Path, name)

        def refused(self, *arguments, **named):
            if "xdg_config_home" in self.parts:
                raise PermissionError(13, "Permission denied", str(self))
            return real(self, *arguments, **named)

        monkeypatch.setattr(Path, name, refused)

    for name in ("iterdir", "read_text", "stat", "open"):
        refuse(name)
    code, out, err = command("proof", "--demo")
    assert code == 1
    assert "PIKOR is not on UM12" in out
    assert "The settings are not used: it cannot be read (permission denied)." in err
    assert "Your own Aircraft sheets are not used: " in err
    assert "Traceback" not in err


def test_a_line_that_cannot_be_written_costs_itself(command, monkeypatch, tmp_path):
    real, seen = jsonl.headline, []

    def fail_on_the_second(assessment):
        seen.append(assessment)
        if len(seen) == 2:
            raise ValueError("no JSON on purpose")
        return real(assessment)

    monkeypatch.setattr(jsonl, "headline", fail_on_the_second)
    file = tmp_path / "rows.csv"
    file.write_text("departure,destination,route\nXVAL,XVOR,LENDU\nXVAL,XVOR,PIKAR\nXVAL,XVOR,SARNO\n")
    code, out, err = command("proof", file, "--format", "jsonl")
    results = [json.loads(line) for line in out.splitlines()]
    assert (code, err) == (4, "")
    assert [result["route"] for result in results] == ["LENDU", "PIKAR", "SARNO"]
    assert "our program failed on this route (ValueError: no JSON on purpose)" in results[1]["headline"]


INTERRUPTED_IMPORT = """
import os, signal, sys

class Interrupt:
    def find_spec(self, name, *_):
        if name == {module!r}:
            os.kill(os.getpid(), signal.SIGINT)

signal.signal(signal.SIGINT, signal.default_int_handler)
sys.meta_path.insert(0, Interrupt())
sys.argv = ["routecheck", "proof", "--demo"]
from routecheck.__main__ import main
sys.exit(main())
"""


@pytest.mark.parametrize("module", ["routecheck.cli.main", "routecheck.cli.proof", "numpy"])
def test_ctrl_c_is_quiet_from_the_first_moment(root, module):
    done = subprocess.run(
        [sys.executable, "-c", INTERRUPTED_IMPORT.format(module=module)],
        cwd=root, capture_output=True, timeout=60, check=False,
    )  # fmt: skip
    assert (done.stdout, done.stderr) == (b"", b"")
    assert done.returncode in (130, -signal.SIGINT)
