"""The user's own limits and Aircraft sheets as the command uses them, and what it says of those that it does not."""

import pytest

from routecheck.checks.catalogue import bounds, collect
from routecheck.cli.main import main
from routecheck.model import AircraftSheet
from routecheck.settings import load_settings, save_limits, save_sheet

ROUTE = ["proof", "--route", "N0450F400 LENDU DCT PIKAR", "--departure", "XVAL", "--destination", "XVOR", "--demo"]


@pytest.fixture(autouse=True)
def folder(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    return tmp_path / "routecheck"


def said(capsys, *arguments):
    main([*ROUTE[:-1], *arguments])
    return capsys.readouterr()


def test_the_sheet_named_on_the_command_line_is_judged_by(capsys):
    assert "above the ceiling" not in said(capsys).out
    assert "above the ceiling of the sheet “Turboprop”, FL250" in said(capsys, "--aircraft-sheet", "turboprop").out
    assert "there is no Aircraft sheet “Balloon”" in said(capsys, "--aircraft-sheet", "Balloon").err


def test_an_own_sheet_goes_before_the_shipped_one(capsys):
    save_sheet(AircraftSheet("Medium jet", ceiling_ft=39_000.0))
    answer = said(capsys, "--aircraft-sheet", "Medium jet").out
    assert "Wrong: FL400 is above the ceiling of the sheet “Medium jet”, FL390." in answer


def test_own_limits_hold(capsys):
    known = bounds(collect())
    assert "level-for-direction" in said(capsys).out
    save_limits({"level-for-direction": {"first_half_from_deg": 180.0}}, known)
    assert "FL400 is a level for tracks" not in said(capsys).out
    assert load_settings(known).limits == {"level-for-direction": {"first_half_from_deg": 180.0}}


def test_what_is_not_used_of_the_settings_goes_to_the_error_output(capsys, folder):
    folder.mkdir()
    (folder / "settings.toml").write_text("[limits.dogleg]\nnone_such = 3\n")
    answer = said(capsys)
    assert answer.err == "Not used in the settings: none_such of dogleg; the check has no such limit.\n"
    assert "none_such" not in answer.out


def test_every_limit_there_is_can_be_written_and_read_back():
    known = bounds(collect())
    lowest = {
        check: {name: bound.lowest for name, bound in limits.items()} for check, limits in known.items() if limits
    }
    save_limits(lowest, known)
    assert load_settings(known).limits == lowest
