"""The window with the user's own Aircraft sheets and limits, and what it keeps of windows and wind."""

from collections.abc import Callable
from pathlib import Path

from full_input import FULL_INPUT

from routecheck.gui import persistence
from routecheck.gui.window import MainWindow
from routecheck.model import AircraftSheet, AltitudeWindow, Change, RouteInput, Weight, Wind
from routecheck.settings import config_folder, save_sheet


def test_an_own_sheet_is_judged_by_and_an_unknown_key_said(opened: Callable[..., MainWindow], tmp_path: Path) -> None:
    save_sheet(AircraftSheet("Ours", ceiling_ft=30_000.0))
    (config_folder() / "settings.toml").write_text("foo = 1\n")
    file = tmp_path / "a.route.toml"
    file.write_text('departure = "XVAL"\ndestination = "XVOR"\nroute = "N0450F350 LENDU"\naircraft_sheet = "ours"\n')
    window = opened(str(file))
    findings = window.session.answer.assessment.findings
    assert [f.weight for f in findings if f.check == "above-ceiling"] == [Weight.WRONG]
    assert window.status.message.text() == "Not used in the settings: the unknown key “foo”."


def test_every_value_is_kept_with_the_route() -> None:
    route_input = RouteInput(
        "LENDU",
        windows=(AltitudeWindow("LENDU", 9_000, None), AltitudeWindow("PIKAR", 12_000, 12_000)),
        wind=(Wind(280, 45, "F350"), Wind(270, 30, to="PIKAR")),
        isa_deviation_c=-7.5,
        aircraft_sheet="ours",
        approach="I27",
        changed=(Change("PIKOR", "PIKAR", 10), Change("XVOR", "XVAL", ticked=True)),
    )
    for kept in (route_input, FULL_INPUT):
        persistence.write_route(kept)
        assert persistence.read_route() == kept
