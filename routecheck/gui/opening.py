"""Opening files for the window: a route to show, and where the window starts. Reading itself is done in reading/."""

from __future__ import annotations

from dataclasses import dataclass
from importlib.resources import files
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING

from routecheck.library import gazetteer
from routecheck.reading.inputs import read_input
from routecheck.settings import DataError

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.library.gazetteer import Library
    from routecheck.model import Entry

_LARGEST = 20_000_000
DEMO = "demo.route.toml"


def read_route(path: str) -> tuple[Entry, str]:
    """The first route of a file and a sentence about the rest ("" where there is none). Raises DataError, OSError."""
    file = Path(path)
    if file.stat().st_size > _LARGEST:
        raise DataError(file.name, None, "over 20 MB, which is no route")
    return _first(file.read_bytes(), file.name)


def demo_route() -> Entry:
    """The route of the invented region with its one planted entry error."""
    return _first(files("routecheck.sample_routes").joinpath(DEMO).read_bytes(), DEMO)[0]


@dataclass(frozen=True, slots=True)
class DataFiles:
    """Files of navigation data to load; none = the demo region."""

    paths: tuple[str, ...] = ()

    def __call__(self, progress: Callable[[float], None]) -> Library:
        """Load them, telling the share done; `progress` may raise to stop. Raises DataError, UsageError, OSError."""
        return gazetteer.load(self.paths, progress=progress) if self.paths else gazetteer.demo()


def _first(data: bytes, name: str) -> tuple[Entry, str]:
    entries = list(islice(read_input(data, name), 2))
    if entries[0].unread:
        raise DataError(name, None, entries[0].unread)
    more = f"{name} holds more than one route: the first is shown." if len(entries) > 1 else ""
    return entries[0], more
