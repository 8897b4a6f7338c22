"""Opens and saves files for the window: routes, and navigation data. reading/ and navdata/ do the reading itself."""

from __future__ import annotations

from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING

from routecheck.files import open_file, read_bytes, remove_abandoned_drafts, write_atomically
from routecheck.formatting import as_sentence, count
from routecheck.frozen_dataclass import dataclass
from routecheck.gui.input_bounds import describe_too_long, describe_too_much
from routecheck.navdata.database import demo_database, load_navdata
from routecheck.reading.route_file import write_route_file
from routecheck.reading.samples import read_demo_route
from routecheck.settings import DataError, UsageError

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.model import RouteInput
    from routecheck.navdata.database import NavDatabase

    Progress = Callable[[float], None]

__all__ = [
    "AddFiles",
    "DataFiles",
    "DemoRegion",
    "RemoveFile",
    "StoredData",
    "read_demo_route",
    "read_route",
    "save_route",
]
_LARGEST = 20_000_000
_PASTED = "the pasted text"
_MOST_PLANS = 1_000
_FEW = 20
"""Of a file so many inputs are looked at for the first that is a route."""
SUFFIX = ".route.toml"


def read_route(path: str, group: str = "") -> tuple[RouteInput, str]:
    """Read the first route of a file; gives it with a sentence about the rest, or "". Raises DataError, OSError.

    A message of several routes comes unread, with the names of its `groups`, until one of them is given.
    """
    from routecheck.reading.input_format import ReadingChoices
    from routecheck.reading.inputs import read_input

    file = Path(path)
    remove_abandoned_drafts(file.parent)
    with open_file(file) as stream:
        content = stream.read(_LARGEST + 1)
    if len(content) > _LARGEST:
        raise DataError(file.name, None, "over 20 MB, which is no route")
    read = list(islice(read_input(content, file.name, None, ReadingChoices(group=group)), _FEW))
    route_inputs = [one for one in read if not one.is_routeless] or read
    if route_inputs[0].groups:
        return route_inputs[0], ""
    if route_inputs[0].unread:
        raise DataError(file.name, None, route_inputs[0].unread)
    if too_much := describe_too_much(route_inputs[0]):
        raise DataError(file.name, None, too_much)
    more = f"{file.name} holds more than one route: the first is shown." if len(route_inputs) > 1 else ""
    return route_inputs[0], more


def is_more_than_a_route(text: str) -> bool:
    """Whether a text is a message, a table, a page …: anything but the text of one route."""
    from routecheck.reading.inputs import is_of_a_format

    return is_of_a_format(text)


def read_plan(text: str, group: str = "") -> tuple[RouteInput, str]:
    """Read the first plan of a pasted text; gives it with a sentence about it.

    Raises UsageError where there is none, or one that is too long. A message of several routes comes as from a file.
    """
    from routecheck.reading.input_format import ReadingChoices
    from routecheck.reading.inputs import read_input

    if not is_more_than_a_route(text):
        raise UsageError(describe_too_long(text))
    plain = text.replace("\r\n", "\n").replace("\r", "\n")
    choices = ReadingChoices(group=group)
    plans = list(islice(read_input(plain.encode(errors="replace"), _PASTED, None, choices), _MOST_PLANS))
    if plans[0].groups:
        return plans[0], ""
    routes = [one for one in plans if not one.unread]
    if not routes:
        raise UsageError(f"The pasted text: {plans[0].unread}")
    if too_much := describe_too_much(routes[0]):
        raise UsageError(too_much)
    more = sum(not one.is_routeless for one in plans) - 1
    others = f" {count(more, 'more plan')} in it: the first is shown." if more else ""
    return routes[0], f"The route and what stands beside it were read from the pasted text.{others}"


def describe_trouble(trouble: Exception) -> str:
    """A sentence on why a file was not read or written."""
    if isinstance(trouble, OSError):
        where = f"{Path(str(trouble.filename)).name}: " if trouble.filename else ""
        return f"{where}{(trouble.strerror or str(trouble)).lower()}."
    return as_sentence(str(trouble)) if isinstance(trouble, ValueError) else f"{trouble}."


def save_route(route_input: RouteInput, path: Path, opened: Path | None = None) -> None:
    """Write a route file, whole or not at all. What else stood in the file `opened` before is carried along.

    Raises ValueError (a sentence) where that is no route file any more, OSError.
    """
    if not route_input.route.strip():
        raise ValueError("there is no route text yet")
    write_atomically(path, write_route_file(route_input, _read_existing(opened)).encode())


def _read_existing(opened: Path | None) -> str | None:
    if opened is None or not opened.exists():
        return None
    try:
        return read_bytes(opened).decode("utf-8")
    except UnicodeDecodeError:
        raise ValueError(f"{opened.name} is not in UTF-8 any more, as a route file must be") from None


@dataclass(frozen=True, slots=True)
class StoredData:
    """The navigation data that was added for good; where there is none, the demo region."""

    def __call__(self, progress: Progress) -> NavDatabase:
        """Open it, telling the share done; `progress` may raise to stop. Raises DataError."""
        from routecheck.navdata import store

        return store.open_store(progress=progress) or demo_database()


@dataclass(frozen=True, slots=True)
class DemoRegion:
    """The invented region alone, whatever else was added."""

    def __call__(self, _progress: Progress) -> NavDatabase:
        """Load it."""
        return demo_database()


@dataclass(frozen=True, slots=True)
class DataFiles:
    """Files of navigation data for this session only."""

    paths: tuple[str, ...]

    def __call__(self, progress: Progress) -> NavDatabase:
        """Load them, telling the share done; `progress` may raise to stop. Raises DataError, UsageError, OSError."""
        return load_navdata(self.paths, progress=progress)


@dataclass(frozen=True, slots=True)
class AddFiles:
    """Files of navigation data to add for good."""

    paths: tuple[str, ...]

    def __call__(self, progress: Progress) -> NavDatabase:
        """Add them and open all that was added. Raises like `store.add_file`; what was added before it stays."""
        from routecheck.navdata import store

        for done, path in enumerate(self.paths):
            store.add_file(path, progress=lambda share, done=done: progress((done + share) / len(self.paths)))  # type: ignore[misc]
        return StoredData()(progress)


@dataclass(frozen=True, slots=True)
class RemoveFile:
    """A file of navigation data to take out again."""

    name: str

    def __call__(self, progress: Progress) -> NavDatabase:
        """Take it out and open what is left. Raises UsageError, DataError."""
        from routecheck.navdata import store

        store.remove_file(self.name)
        return StoredData()(progress)
