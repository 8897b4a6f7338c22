"""Which known routes a run uses: a value that another process can load the same ones by."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from routecheck.faults import DataError, UsageError, system_reason
from routecheck.files import read_bytes
from routecheck.frozen_dataclass import dataclass
from routecheck.known.collection import TooManyWordsError, compile_collection
from routecheck.known.intake import Intake, take_in_files
from routecheck.known.known_routes import KnownRoutes
from routecheck.known.sources import group_sources
from routecheck.known.store import open_store

if TYPE_CHECKING:
    import datetime as dt

    from routecheck.known.collection import Collection
    from routecheck.known.sources import Source
    from routecheck.navdata.database import NavDatabase


@dataclass(frozen=True, slots=True)
class KnownChoice:
    """Files for this run; without any the collections that are kept."""

    files: tuple[str, ...] = ()

    def load(self, database: NavDatabase, today: dt.date) -> KnownRoutes | None:
        """Load them; None where there are none. Raises UsageError for a missing file, DataError."""
        if not self.files:
            return open_store()
        sources = group_sources([Path(file) for file in self.files])
        return KnownRoutes([compile_intake(_read_source(source, database, today)) for source in sources])


def compile_intake(intake: Intake, added: str = "") -> Collection:
    """The collection that a file makes. Raises DataError where it makes none."""
    if not intake.rows:
        first = f", the first because {intake.uncounted[0].because}" if intake.uncounted else ""
        raise DataError(intake.name, None, f"none of its rows can be used as a known route{first}; nothing was added")
    try:
        return compile_collection(intake.rows, lambda routes: intake.about(routes, added), lambda _share: None)
    except TooManyWordsError:
        raise DataError(intake.name, None, "it has more different words than routes can have") from None


def _read_source(source: Source, database: NavDatabase, today: dt.date) -> Intake:
    intake = Intake(source.name)
    contents = ((path.name, _read_content(path)) for path in source.files)
    for _ in take_in_files(contents, intake, database, today):
        pass
    return intake


def _read_content(path: Path) -> bytes:
    try:
        return read_bytes(path)
    except FileNotFoundError:
        raise UsageError(f"there is no file {path}") from None
    except OSError as error:
        raise UsageError(f"{path} cannot be read: {system_reason(error)}") from None
