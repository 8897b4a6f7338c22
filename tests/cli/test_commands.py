"""The command itself: version, help, explain, and what happens when nobody reads, interrupts or has a display."""

import json
import os
import re
import signal
import subprocess
import sys

import pytest

from routecheck import __version__
from routecheck.checks.catalogue import collect
from routecheck.citations import cite
from routecheck.cli import window
from routecheck.cli.main import main

NO_DISPLAY = {"DISPLAY": None, "WAYLAND_DISPLAY": None, "QT_QPA_PLATFORM": None}
COMMANDS = ((), *((name,) for name in window.COMMANDS))


def test_version(capsys):
    with pytest.raises(SystemExit) as leaving:
        main(["--version"])
    assert leaving.value.code == 0
    assert capsys.readouterr().out == f"routecheck {__version__}\n"


@pytest.mark.parametrize("words", COMMANDS, ids=str)
def test_help_with_examples_everywhere(capsys, words):
    with pytest.raises(SystemExit) as leaving:
        main([*words, "--help"])
    out = capsys.readouterr().out
    assert leaving.value.code == 0
    examples = out.partition("examples:\n")[2].splitlines()
    assert len(examples) >= 2
    assert all("routecheck" in example for example in examples)


def test_the_examples_of_proof_use_options_that_it_has(capsys):
    with pytest.raises(SystemExit):
        main(["proof", "--help"])
    options, _, examples = capsys.readouterr().out.partition("examples:")
    shown = set(re.findall(r"--[a-z-]+", examples))
    assert len(shown) > 5
    assert shown <= set(re.findall(r"--[a-z-]+", options))


# ---- explain


def test_explain_lists_every_check_by_family(command):
    code, out, _ = command("explain")
    assert code == 0
    for check in collect():
        assert re.search(rf"^  {check.name} ", out, re.MULTILINE)
        assert check.sentence in out


@pytest.mark.parametrize("check", collect(), ids=lambda c: c.name)
def test_explain_tells_all_about_each(command, check):
    code, out, _ = command("explain", check.name)
    assert code == 0
    flowing = " ".join(out.split())
    assert all(text in flowing for text in (check.sentence, check.explanation, check.false_alarms))
    assert all(limit.name in out for limit in check.limits)
    assert all(str(cite(key)) in out for key in check.citations)
    assert out.count("\n  ") >= len(check.flagged) + len(check.quiet)
    assert "[ to ]" not in out


@pytest.mark.parametrize(
    ("name", "hint"),
    [("dogleg2", "dogleg"), ("dog-leg", "dogleg"), ("same-nane", "same-name"), ("qqqq", "routecheck explain")],
)
def test_a_misspelt_check_is_answered_with_the_nearest(command, name, hint):
    code, out, err = command("explain", name)
    assert (code, out) == (2, "")
    assert f"there is no check called “{name}”" in err
    assert hint in err


def test_several_checks_at_once_and_as_json(command):
    _, out, _ = command("explain", "dogleg", "off-airway")
    assert out.startswith("dogleg, Shape")
    assert "\noff-airway, Airways" in out
    _, out, _ = command("explain", "dogleg", "off-airway", "--format", "json")
    assert [entry["name"] for entry in json.loads(out)] == ["dogleg", "off-airway"]
    _, out, _ = command("explain", "--format", "json")
    assert [entry["name"] for entry in json.loads(out)] == [check.name for check in collect()]


@pytest.mark.parametrize("words", [("help",), ("help", "proof")])
def test_help_is_asked_for_in_words_too(capsys, words):
    with pytest.raises(SystemExit) as leaving:
        main(list(words))
    assert leaving.value.code == 0
    assert capsys.readouterr().out.startswith(f"usage: {' '.join(('routecheck', *words[1:]))} ")


# ---- words that are not understood


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("prof",), "there is no file prof, and no command of that name; did you mean proof"),
        (("qqqq",), "there is no file qqqq, and no command of that name"),
        (("prooof", "a.txt", "--demo"), "there is no file prooof, and no command of that name; did you mean proof"),
        (("proof", "LENDU DCT PIKAR"), "there is no file LENDU DCT PIKAR; a route as text is given with --route"),
        (("--navdata", "none.zip"), "there is no file none.zip"),
        (("proof", "--navdta", "x"), "there is no option --navdta; did you mean --navdata"),
        (("proof", "--demo", "--format", "jsnol"), "“jsnol” is none of text, jsonl"),
        (("navdata", "lst"), "“lst” is none of add, list, remove; did you mean list"),
        (("explain", "--formt", "json"), "there is no option --formt; did you mean --format"),
    ],
)
def test_what_is_misspelt_is_answered_with_the_nearest(command, arguments, said):
    code, out, err = command(*arguments)
    assert (code, out) == (2, "")
    assert said in err
    assert len(err.splitlines()) == 1


# ---- quick


@pytest.mark.parametrize("arguments", [("--version",), ("--help",), ("explain",), ("explain", "dogleg")])
def test_what_needs_no_check_imports_none(root, arguments):
    code = (
        "import sys\nfrom routecheck.cli.main import main\n"
        f"try:\n    main({list(arguments)})\nexcept SystemExit:\n    pass\n"
        "print(sorted({m.partition('.')[0] for m in sys.modules} & {'numpy', 'pyproj', 'logging', 'PySide6', 'email'}"
        " | {m for m in sys.modules if m.startswith(('routecheck.checks', 'routecheck.model', 'routecheck.nav'))}),"
        " file=sys.stderr)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=root, capture_output=True, text=True, timeout=60, check=False
    )
    assert done.stderr == "[]\n"


# ---- as a process


def test_no_display_is_one_line_and_exit_code_2(process):
    code, out, err = process(**NO_DISPLAY)
    assert (code, out) == (2, "")
    assert err == "routecheck: No display to open a window on. To check without a window: routecheck proof FILE\n"


def test_a_reader_that_is_gone_before_the_first_word(process):
    for words, expected in (("proof --demo", 1), ("explain", 0), ("--help", 0)):
        code, _, err = process(shell=f"routecheck {words} | true")
        assert (code, err) == (expected, ""), words


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="this system has no /dev/full")  # noqa: PTH110
def test_a_full_disk_is_not_our_mistake(process):
    code, _, err = process(shell="routecheck proof --demo > /dev/full")
    assert code == 2
    assert err == "routecheck: the output cannot be written: no space left on device\n"


def test_json_lines_lose_no_character_whatever_the_terminal_can_show(command, process):
    given = ("proof", "--route", "LENDU ☂ é PIKAR", "--departure", "XVAL", "--destination", "XVOR", "--format", "jsonl")
    code, out, err = process(*given, PYTHONIOENCODING="ascii")
    assert (code, out, err) == command(*given)
    assert (code, err) == (1, "")
    assert "\\u2602" in out


def test_an_argument_that_is_no_utf8(process, root):
    done = subprocess.run(
        [sys.executable.encode(), b"-m", b"routecheck", b"proof", b"--route", b"LENDU \xff\xfe PIKAR"],
        cwd=root, capture_output=True, timeout=60, check=False,
    )  # fmt: skip
    assert done.returncode == 1
    assert done.stderr == b""
    assert b"cannot be read" in done.stdout


READING = """
import sys, types
from routecheck.cli.main import main

class Input:
    def read1(self, size, real=sys.stdin.buffer):
        print("reading", flush=True)
        return real.read1(size)

sys.stdin = types.SimpleNamespace(buffer=Input())
sys.exit(main(["proof", "-"]))
"""


def test_ctrl_c_is_quiet(root):
    """Sent once the program itself says that it waits for its input."""
    running = subprocess.Popen(
        [sys.executable, "-c", READING],
        cwd=root, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        # A test run in the background inherits "ignore Ctrl-C": a user's program does not.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    )  # fmt: skip
    with running:
        assert running.stdout.readline() == b"reading\n"
        running.send_signal(signal.SIGINT)
        out, err = running.communicate(timeout=60)
    assert (out, err) == (b"", b"")
    assert running.returncode == 130


def test_standard_input_as_a_user_pipes_it(process):
    code, out, err = process("proof", "-", "--departure", "XVAL", "--destination", "XVOR", stdin=b"LENDU\r\nDCT\tPIKAR")
    assert (code, err) == (0, "")
    assert "LENDU DCT PIKAR" in out
