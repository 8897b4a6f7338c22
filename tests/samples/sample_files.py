"""What the tests of sample routes share: a file to its fields, fields to an entry, what was meant. No tests here."""

from __future__ import annotations

import datetime as dt
import re
import tomllib
from pathlib import Path
from typing import Any

from routecheck.model import Assessment, RouteInput
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.reading.altitude_windows import WINDOWS
from routecheck.reading.load import LOAD
from routecheck.reading.reading_notes import ReadingNotes
from routecheck.settings import Settings

FOLDER = Path(__file__).resolve().parents[2] / "sample_routes"
_GIVEN = (
    "departure", "departure_runway", "destination", "destination_runway", "approach", "speed", "level",
    "aircraft_sheet",
)  # fmt: skip
_MEANT = "# Meant: "


def fields(path: Path) -> dict[str, Any]:
    """What a sample states."""
    return tomllib.loads(path.read_text("utf-8"))


def meant(path: Path) -> dict[str, Any]:
    """The fields as meant, by the first line: a route, a day "off_block 2026-12-03", or keys with their values."""
    line = path.read_text("utf-8").splitlines()[0]
    assert line.startswith(_MEANT)
    text = line.removeprefix(_MEANT)
    if text.startswith("off_block "):
        day = dt.date.fromisoformat(text.split()[1])
        return fields(path) | {"off_block": dt.datetime.combine(day, dt.time(14, 30), dt.UTC)}
    return fields(path) | (tomllib.loads(f"it = {{{text}}}")["it"] if re.match("[a-z_]+ = ", text) else {"route": text})


def route_input(sample: dict[str, Any]) -> RouteInput:
    """The fields as an entry; what a route file does not use would be said, and is nothing here."""
    given = {key: sample[key] for key in _GIVEN if key in sample}
    notes = ReadingNotes()
    windows = WINDOWS.read_value(sample.get("window", []), "window", notes)
    load = LOAD.read_value(sample["load"], "load", notes) if "load" in sample else None
    assert notes.not_used == []
    return RouteInput(sample["route"], **given, off_block=sample["off_block"], windows=windows, load=load)


def assessed(sample: dict[str, Any]) -> Assessment:
    """The fields assessed on the demo region."""
    return assess(route_input(sample), demo_database(), Settings(), dt.date(2026, 11, 25))
