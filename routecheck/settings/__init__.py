"""What the user may change: limits of checks and Aircraft sheets. Which limits exist is said by the checks.

Reading never fails on what a user wrote: what is not used is named in `Settings.remarks` and stays in the file.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

import platformdirs

from routecheck.settings.documents import put, text_of
from routecheck.settings.faults import DataError, UsageError
from routecheck.settings.limits import Bound, Bounds, Changed, read_limits, write_limits
from routecheck.settings.sheets import file_name, read_sheet, same_name, sheets, write_sheet

if TYPE_CHECKING:
    from collections.abc import Mapping

    from routecheck.model import AircraftSheet

__all__ = [
    "Bound",
    "Bounds",
    "Changed",
    "DataError",
    "Settings",
    "UsageError",
    "config_folder",
    "load_settings",
    "read_limits",
    "read_sheet",
    "save_limits",
    "save_sheet",
    "sheets",
    "write_limits",
    "write_sheet",
]
_LIMITS_FILE, _SHEETS_FOLDER = "settings.toml", "aircraft"


@dataclass(frozen=True, slots=True)
class Settings:
    """`limits[check][limit]` holds the changed value of a limit; what is absent keeps its default.

    `sheets` are the Aircraft sheets to choose from; `remarks` says what the user's files hold that is not used.
    """

    limits: Mapping[str, Mapping[str, float]] = field(default_factory=dict)
    sheets: tuple[AircraftSheet, ...] = field(default_factory=sheets)
    remarks: tuple[str, ...] = ()

    def sheet(self, name: str) -> AircraftSheet | None:
        """The Aircraft sheet of that name, capitals aside; None where there is none."""
        return next((sheet for sheet in self.sheets if same_name(sheet.name, name)), None)


def config_folder() -> Path:
    """Where the user's settings and own Aircraft sheets live on this platform."""
    return Path(platformdirs.user_config_dir("routecheck", appauthor=False))


def load_settings(bounds: Bounds, folder: Path | None = None) -> Settings:
    """The user's settings: `settings.toml`, and `aircraft/*.toml`, which go before shipped sheets of the same name."""
    home = folder or config_folder()
    text, why = text_of(home / _LIMITS_FILE)
    remarks = [f"The settings are not used: {why}."] if why else []
    limits, said = read_limits(text, bounds) if text is not None else ({}, ())
    own, complaints = _own_sheets(home / _SHEETS_FOLDER)
    shipped = [sheet for sheet in sheets() if not any(same_name(sheet.name, mine.name) for mine in own)]
    return Settings(limits, (*own, *shipped), (*remarks, *said, *complaints))


def _own_sheets(folder: Path) -> tuple[list[AircraftSheet], list[str]]:
    own: list[AircraftSheet] = []
    remarks: list[str] = []
    for path in sorted(folder.glob("*.toml")) if folder.is_dir() else []:
        text, why = text_of(path)
        if text is None:
            remarks.append(f"The Aircraft sheet {path.name} is not used: {why or 'it is gone'}.")
            continue
        sheet, said = read_sheet(text, path.name)
        remarks += said
        if sheet and any(same_name(sheet.name, other.name) for other in own):
            remarks.append(f"The Aircraft sheet {path.name} is not used: another of yours is called “{sheet.name}”.")
        elif sheet:
            own.append(sheet)
    return own, remarks


def save_limits(changed: Changed, bounds: Bounds, folder: Path | None = None) -> None:
    """Write the changed limits. Raises UsageError for a file that must not be touched or cannot be written."""
    path = (folder or config_folder()) / _LIMITS_FILE
    _put(path, write_limits(changed, bounds, _existing(path)))


def save_sheet(sheet: AircraftSheet, folder: Path | None = None) -> None:
    """Write one of the user's own Aircraft sheets. Raises UsageError like `save_limits`."""
    path = (folder or config_folder()) / _SHEETS_FOLDER / file_name(sheet.name)
    _put(path, write_sheet(sheet, _existing(path)))


def _existing(path: Path) -> str | None:
    text, why = text_of(path)
    if why:
        raise UsageError(f"{path.name} is left as it is: {why}")
    return text


def _put(path: Path, text: str) -> None:
    try:
        put(path, text)
    except OSError as error:
        raise UsageError(f"{path.name} cannot be written: {(error.strerror or str(error)).lower()}") from None
