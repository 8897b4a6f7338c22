"""What `proof` takes: folders, standard input as it comes, columns by other names, and what it says of the rest."""

import contextlib
import json
import os
import subprocess
import sys

import pytest

from routecheck.cli.standard_input import StandardInput

HEADER = "departure,destination,route\n"


@pytest.fixture
def folder(tmp_path):
    inside = tmp_path / "routes"
    (inside / "deeper").mkdir(parents=True)
    (inside / "b.csv").write_text(f"{HEADER}XVAL,XVOR,LENDU\nXVAL,XVOR,PIKAR\n")
    (inside / "a.route.toml").write_text('route = "SARNO"\ndeparture = "XVAL"\ndestination = "XVOR"\n')
    (inside / "deeper" / "c.txt").write_text("TOVIK")
    (inside / "picture.png").write_bytes(b"\x89PNG")
    (inside / ".hidden.csv").write_text("no")
    return inside


def routes(out):
    return [json.loads(line)["route"] for line in out.splitlines()]


def test_a_folder_is_checked_in_the_order_of_its_names_and_other_files_are_named(command, folder):
    _, out, err = command("proof", folder, "--format", "jsonl")
    assert routes(out) == ["SARNO", "LENDU", "PIKAR", "TOVIK"]
    assert err == f"{folder}: 1 file not read, by their names no route inputs: picture.png\n"
    assert command("proof", folder, "-q")[1:] == ("", "")


def test_a_folder_without_route_inputs_is_said(command, tmp_path):
    (tmp_path / "empty").mkdir()
    code, out, err = command("proof", tmp_path / "empty")
    assert (code, out) == (2, "")
    assert "there is no route input in the folder" in err
    assert ".csv" in err


def test_rows_on_standard_input_are_answered_as_they_come(root):
    """The answer to the first row is there before the second row is written."""
    running = subprocess.Popen(
        [sys.executable, "-m", "routecheck", "proof", "-", "--demo", "--format", "jsonl"],
        cwd=root, stdin=subprocess.PIPE, stdout=subprocess.PIPE, env={**os.environ, "PYTHONUNBUFFERED": ""},
    )  # fmt: skip
    with running:
        assert json.loads(running.stdout.readline())["name"].startswith("Demo")
        for row, route in enumerate(("LENDU", "PIKAR"), start=2):
            head = HEADER if row == 2 else ""
            running.stdin.write(f"{head}XVAL,XVOR,{route}\n".encode())
            running.stdin.flush()
            result = json.loads(running.stdout.readline())
            assert (result["route"], result["input"]["line"]) == (route, row)
            assert result["input"]["file"] == "standard input"
        running.stdin.close()
        assert running.stdout.read() == b""


@pytest.fixture
def pipe_in(monkeypatch):
    """Put bytes on the standard input of this process, through a pipe."""
    with contextlib.ExitStack() as opened:

        def put(data):
            reading, writing = os.pipe()
            with os.fdopen(writing, "wb") as pipe:
                pipe.write(data)
            monkeypatch.setattr(sys, "stdin", opened.enter_context(os.fdopen(reading, encoding="utf-8")))

        yield put


@pytest.mark.parametrize(
    ("data", "expected"),
    [
        (b"\n\n" + HEADER.encode() + b"XVAL,XVOR,LENDU\r\nXVAL,XVOR,PIKAR", ["LENDU", "PIKAR"]),
        (b"\xef\xbb\xbf" + HEADER.encode() + b"XVAL,XVOR,LENDU\n", ["LENDU"]),
        (HEADER.encode() + b'XVAL,XVOR,"LENDU\nPIKAR"\n', ["LENDU\nPIKAR"]),
        (HEADER.encode() + b"XVAL,XVOR,LENDU \xe9\nXVAL,XVOR,PIKAR \xc3\xa9\n", ["LENDU é", "PIKAR é"]),
        (f"{HEADER}XVAL,XVOR,LENDU\n".encode("utf-16"), ["LENDU"]),
        (b"LENDU\nPIKAR\n", ["LENDU\nPIKAR"]),
        (b'route = "LENDU"\n', ["LENDU"]),
    ],
)
def test_standard_input_is_read_as_a_file_is(command, pipe_in, data, expected):
    pipe_in(data)
    _, out, err = command("proof", "-", "--format", "jsonl")
    assert (routes(out), err) == (expected, "")


@pytest.mark.parametrize("data", [b"", b"\n \n", b"\x89PNG\r\n\x1a\n\0\0\0"])
def test_standard_input_that_is_no_route_is_exit_code_2(command, pipe_in, data):
    pipe_in(data)
    code, _, err = command("proof", "-")
    assert code == 2
    assert err.startswith("routecheck: standard input: ")


class Slow:
    """Gives a piece at each call."""

    def __init__(self, *pieces):
        self.pieces = [*pieces, b""]

    def read1(self, _size):
        return self.pieces.pop(0)


def test_lines_are_put_together_from_pieces(monkeypatch):
    class Standard:
        buffer = Slow(b"a,b", b"\r", b"\nc\r", b"d", b"\ne")

    monkeypatch.setattr(sys, "stdin", Standard)
    stream = StandardInput()
    assert stream.read_head() == b"a,b\r\nc\r"
    lines = stream.lines()
    assert next(lines) == "a,b\r\n"
    assert stream.would_wait()
    assert list(lines) == ["c\r", "d\n", "e"]


def test_columns_by_other_names(command, tmp_path):
    file = tmp_path / "flights.csv"
    file.write_text("ADEP,ADES,FPL,gate\nXVAL,XVOR,LENDU,7\n")
    code, _, err = command("proof", file)
    assert code == 2
    assert "missing here: route" in err
    _, out, _ = command("proof", file, "--columns", "route=FPL", "--format", "jsonl")
    (result,) = map(json.loads, out.splitlines())
    assert (result["departure"], result["destination"], result["route"]) == ("XVAL", "XVOR", "LENDU")
    assert result["input"]["columns"] == {"gate": "7"}
    code, _, err = command("proof", file, "--columns", "route=FLP")
    assert (code, "did you mean fpl" in err) == (2, True)


def test_progress_is_shown_on_a_terminal_only(command, tmp_path):
    file = tmp_path / "rows.csv"
    file.write_text(HEADER + "XVAL,XVOR,LENDU\n" * 3)
    assert command("proof", file)[2] == ""
