"""Hostile files given to the command: never exit code 4, and the answers about the files beside them stand."""

import json
import os

import pytest
from hostile_toml import FIGURES, ROUTE, ROUTE_FILES


def test_all_hostile_route_files_and_two_good_ones(command, tmp_path):
    files = []
    for number, content in enumerate(ROUTE_FILES.values()):
        files.append(tmp_path / f"{number:03d}.route.toml")
        files[-1].write_bytes(content)
    for name in ("first", "last"):
        (tmp_path / f"{name}.route.toml").write_text(ROUTE, "utf-8")
    first, last = (tmp_path / f"{name}.route.toml" for name in ("first", "last"))
    code, output, errors = command("proof", "--demo", "--format", "jsonl", first, *files, last)
    assert code in (1, 2)
    assert "our" not in errors
    results = [json.loads(line) for line in output.splitlines()]
    assert len(results) == len(files) + 3
    for result in (results[1], results[-1]):
        assert result["departure"] == "XVAL"
        assert result["totals"]["distance_nm"] > 100
    assert not any(result["outcomes"]["could_not_run"] for result in results)


@pytest.mark.slow
def test_settings_and_sheets_stop_no_command(command, tmp_path, monkeypatch):
    config = tmp_path / "config"
    monkeypatch.setenv("XDG_CONFIG_HOME", str(config))
    home = config / "routecheck"
    (home / "aircraft").mkdir(parents=True)
    for name, figure in FIGURES.items():
        (home / "settings.toml").write_text(f"[limits.dogleg]\nx = {figure}\n", "utf-8")
        (home / "aircraft" / f"{len(name)}.toml").write_text(f"name = {figure}\n", "utf-8")
        code, output, errors = command("proof", "--demo", "--format", "jsonl")
        assert (name, code) == (name, 1)
        assert len(output.splitlines()) == 1
        assert "not used" in errors.lower()


@pytest.mark.parametrize("kind", ["pipe", "folder"])
@pytest.mark.parametrize(
    "arguments", [["proof", "GIVEN"], ["proof", "--demo", "--navdata", "GIVEN"], ["navdata", "add", "GIVEN"]]
)
def test_what_is_no_file_is_refused_at_once(command, tmp_path, kind, arguments):
    given = tmp_path / "given.txt"
    if kind == "pipe":
        os.mkfifo(given)
    else:
        given.mkdir()
    code, output, errors = command(*[str(given) if one == "GIVEN" else one for one in arguments])
    assert code in (2, 3)
    assert output == ""
    taken = kind == "folder" and arguments[1] == "GIVEN" and arguments[0] == "proof"  # a folder of route inputs
    assert ("there is no route input in the folder" if taken else f"it is no file but a {kind}") in errors


def test_settings_that_are_pipes_stop_no_command(command, tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    home = tmp_path / "routecheck"
    (home / "aircraft").mkdir(parents=True)
    os.mkfifo(home / "settings.toml")
    os.mkfifo(home / "aircraft" / "mine.toml")
    code, output, errors = command("proof", "--demo", "--format", "jsonl")
    assert code == 1
    assert len(output.splitlines()) == 1
    assert errors.count("it is no file but a pipe") == 2
