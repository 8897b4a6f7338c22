"""What the user may change: limits of checks and Aircraft sheets. The checks say which limits exist.

Reading never fails on what a user wrote: `Settings.remarks` names what is not used, and it stays in the file.
"""

from __future__ import annotations

import logging
from dataclasses import field
from pathlib import Path
from typing import TYPE_CHECKING

import platformdirs

from routecheck.faults import DataError, UsageError, describe_failure, system_reason
from routecheck.files import write_atomically
from routecheck.frozen_dataclass import dataclass
from routecheck.settings.documents import read_text_file
from routecheck.settings.limits import Bound, Bounds, ChangedLimits, read_limits, write_limits
from routecheck.settings.sheets import file_name, is_same_name, read_sheet, shipped_sheets, write_sheet

if TYPE_CHECKING:
    from collections.abc import Mapping

    from routecheck.model import AircraftSheet

__all__ = [
    "Bound",
    "Bounds",
    "ChangedLimits",
    "DataError",
    "Settings",
    "UsageError",
    "config_folder",
    "load_settings",
    "read_limits",
    "read_sheet",
    "remove_sheet",
    "save_limits",
    "save_sheet",
    "settings_folders",
    "shipped_sheets",
    "write_limits",
    "write_sheet",
]
_LOG = logging.getLogger(__name__)
_LIMITS_FILE, _SHEETS_FOLDER = "settings.toml", "aircraft"


@dataclass(frozen=True, slots=True)
class Settings:
    """`limits[check][limit]` holds the changed value of a limit; what is absent keeps its default.

    `sheets` are the Aircraft sheets to choose from; `remarks` says what the user's files hold that is not used.
    """

    limits: Mapping[str, Mapping[str, float]] = field(default_factory=dict)
    sheets: tuple[AircraftSheet, ...] = field(default_factory=shipped_sheets)
    remarks: tuple[str, ...] = ()
    own_sheet_names: tuple[str, ...] = ()
    """The names of the sheets that are the user's own."""

    def sheet(self, name: str) -> AircraftSheet | None:
        """The Aircraft sheet of that name, capitals aside; None where there is none."""
        return next((sheet for sheet in self.sheets if is_same_name(sheet.name, name)), None)


def config_folder() -> Path:
    """Where the user's settings and own Aircraft sheets live on this platform."""
    return Path(platformdirs.user_config_dir("routecheck", appauthor=False))


def settings_folders() -> tuple[Path, ...]:
    """The folders into which settings and Aircraft sheets are written."""
    return config_folder(), config_folder() / _SHEETS_FOLDER


def load_settings(bounds: Bounds, folder: Path | None = None) -> Settings:
    """The user's settings: `settings.toml` and `aircraft/*.toml`, which replace shipped sheets of the same name."""
    home = folder or config_folder()
    text, why = read_text_file(home / _LIMITS_FILE)
    remarks = [f"The settings are not used: {why}."] if why else []
    limits, limit_remarks = _read_limits_within_fence(text, bounds) if text is not None else ({}, ())
    own, sheet_remarks = _read_own_sheets(home / _SHEETS_FOLDER)
    shipped = [sheet for sheet in shipped_sheets() if not any(is_same_name(sheet.name, mine.name) for mine in own)]
    return Settings(
        limits, (*own, *shipped), (*remarks, *limit_remarks, *sheet_remarks), tuple(sheet.name for sheet in own)
    )


def _read_limits_within_fence(text: str, bounds: Bounds) -> tuple[ChangedLimits, tuple[str, ...]]:
    try:
        return read_limits(text, bounds)
    except Exception as error:
        _LOG.exception("the settings could not be read")
        return {}, (f"The settings are not used: {describe_failure(error)}.",)


def _read_sheet_within_fence(text: str, file: str) -> tuple[AircraftSheet | None, tuple[str, ...]]:
    try:
        return read_sheet(text, file)
    except Exception as error:
        _LOG.exception("an Aircraft sheet could not be read")
        return None, (f"The Aircraft sheet {file} is not used: {describe_failure(error)}.",)


def _read_own_sheets(folder: Path) -> tuple[list[AircraftSheet], list[str]]:
    own: list[AircraftSheet] = []
    files, why = _list_files(folder)
    remarks = [f"Your own Aircraft sheets are not used: {folder} cannot be read ({why})."] if why else []
    for path in files:
        text, why = read_text_file(path)
        if text is None:
            remarks.append(f"The Aircraft sheet {path.name} is not used: {why or 'it is gone'}.")
            continue
        sheet, more = _read_sheet_within_fence(text, path.name)
        remarks += more
        if sheet and any(is_same_name(sheet.name, other.name) for other in own):
            remarks.append(f"The Aircraft sheet {path.name} is not used: another of yours is called “{sheet.name}”.")
        elif sheet:
            own.append(sheet)
    return own, remarks


def _list_files(folder: Path) -> tuple[list[Path], str]:
    """The files of Aircraft sheets in a folder, and "" or why it cannot be read. `glob` would keep that quiet."""
    try:
        return sorted(path for path in folder.iterdir() if path.suffix == ".toml"), ""
    except (FileNotFoundError, NotADirectoryError):
        return [], ""
    except OSError as error:
        return [], system_reason(error)


def save_limits(changed: ChangedLimits, bounds: Bounds, folder: Path | None = None) -> None:
    """Write the changed limits. Raises UsageError for a file that must not be touched or cannot be written."""
    path = (folder or config_folder()) / _LIMITS_FILE
    _write(path, write_limits(changed, bounds, _existing_text(path)))


def save_sheet(sheet: AircraftSheet, folder: Path | None = None, *, instead_of: str = "") -> None:
    """Write one of the user's own Aircraft sheets, in place of the one called `instead_of` or of its own name.

    Raises UsageError like `save_limits`, and for the name of another sheet of the user's.
    """
    home = (folder or config_folder()) / _SHEETS_FOLDER
    mine = _files_by_name(home)
    there = next((name for name in mine if is_same_name(name, sheet.name)), "")
    if instead_of and there and not is_same_name(there, instead_of):
        raise UsageError(f"another sheet of yours is called “{there}”")
    path = mine.get(there) or next((p for name, p in mine.items() if is_same_name(name, instead_of)), None)
    path = path or _unused_path(home, file_name(sheet.name))
    _write(path, write_sheet(sheet, _existing_text(path)))


def remove_sheet(name: str, folder: Path | None = None) -> None:
    """Delete one of the user's own Aircraft sheets. Raises UsageError where there is none or it cannot be deleted."""
    mine = _files_by_name((folder or config_folder()) / _SHEETS_FOLDER)
    path = next((path for called, path in mine.items() if is_same_name(called, name)), None)
    if path is None:
        raise UsageError(f"no sheet of yours is called “{name}”")
    try:
        path.unlink()
    except OSError as error:
        raise UsageError(f"{path.name} cannot be deleted: {system_reason(error)}") from None


def _files_by_name(folder: Path) -> dict[str, Path]:
    """The files of the user's own sheets, by the names that stand in them; of two the one that is used."""
    found: dict[str, Path] = {}
    for path in _list_files(folder)[0]:
        text, _ = read_text_file(path)
        sheet = _read_sheet_within_fence(text, path.name)[0] if text is not None else None
        if sheet and not any(is_same_name(sheet.name, name) for name in found):
            found[sheet.name] = path
    return found


def _unused_path(folder: Path, name: str) -> Path:
    """A file of that name, with a number where another sheet, or what is no sheet, has it already."""
    stem, number, path = name.removesuffix(".toml"), 1, folder / name
    while path.exists():
        number += 1
        path = folder / f"{stem}-{number}.toml"
    return path


def _existing_text(path: Path) -> str | None:
    text, why = read_text_file(path)
    if why:
        raise UsageError(f"{path.name} is left as it is: {why}")
    return text


def _write(path: Path, text: str) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        write_atomically(path, text.encode())
    except OSError as error:
        raise UsageError(f"{path.name} cannot be written: {system_reason(error)}") from None
