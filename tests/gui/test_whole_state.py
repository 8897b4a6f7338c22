"""All that the window holds goes into the route file and the saved session, and comes back from them the same."""

import random
from dataclasses import replace
from pathlib import Path
from typing import Any

from full_input import FULL_INPUT

from routecheck.gui import open_files, persistence
from routecheck.gui.window import MainWindow
from routecheck.model import RouteInput
from routecheck.reading.input_fields import INPUT_FIELDS

OF_THE_FILE: dict[str, Any] = {"name": "", "remarks": (), "not_used": ()}
"""What an input says of where it was read."""


def some_inputs(number: int) -> list[RouteInput]:
    """Inputs with each value of the full one given or not, and now and then one that cannot be read."""
    chance = random.Random(7)
    inputs = [FULL_INPUT]
    for _ in range(number):
        left_out = [field.name for field in INPUT_FIELDS if field.name != "route" and chance.random() < 0.5]
        some = replace(FULL_INPUT, **{name: getattr(RouteInput(""), name) for name in left_out})
        typed = [
            (name, "1 2 X") for name in ("level", "off_block", "speed") if name in left_out and chance.random() < 0.5
        ]
        inputs.append(replace(some, typed=tuple(typed)))
    return inputs


def test_what_the_window_holds_comes_back_from_the_file_and_from_the_session(
    window: MainWindow, tmp_path: Path
) -> None:
    for number, given in enumerate(some_inputs(10)):
        window.session.replace_input(given)
        window.flight_fields.edited.emit()  # the input is made again from what the fields show
        held = window.session.route_input
        assert replace(held, typed=()) == replace(given, typed=())
        assert {*held.typed} == {*given.typed}
        assert window.files.save(tmp_path / f"{number}.route.toml")
        back, _ = open_files.read_route(str(tmp_path / f"{number}.route.toml"))
        assert replace(back, **OF_THE_FILE) == replace(held, **OF_THE_FILE)
        persistence.write_route(held)
        assert persistence.read_route() == held
