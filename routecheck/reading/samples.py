"""The route files that come with the program, found wherever it is installed. No judging here."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from importlib import resources
from typing import TYPE_CHECKING

from routecheck.model import Origin
from routecheck.reading.route_file import read_route_file

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import RouteInput

SUFFIX = ".route.toml"


@cache
def read_demo_route() -> RouteInput:
    """Read the demo route, with its one planted entry error."""
    return _read("demo" + SUFFIX)


def list_sample_names(folder: str) -> list[str]:
    """List the names of all samples in a folder ("clean" or "planted"), such as "clean/island-to-island.route.toml"."""
    files = resources.files("routecheck.sample_routes").joinpath(folder).iterdir()
    return sorted(f"{folder}/{file.name}" for file in files if file.name.endswith(SUFFIX))


def read_samples(folder: str) -> Iterator[tuple[str, RouteInput]]:
    """Read every sample of a folder; gives each with its name."""
    for name in list_sample_names(folder):
        yield name, _read(name)


def _read(name: str) -> RouteInput:
    text = resources.files("routecheck.sample_routes").joinpath(*name.split("/")).read_text("utf-8")
    return replace(read_route_file(text, name), origin=Origin(name))
