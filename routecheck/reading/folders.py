"""The route inputs in a folder, by the names of its files."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.reading.inputs import INPUT_FORMATS

if TYPE_CHECKING:
    from pathlib import Path

SUFFIXES = tuple(suffix for one in INPUT_FORMATS for suffix in one.suffixes)


def list_folder(folder: Path) -> tuple[list[Path], list[Path]]:
    """The files in a folder and those below it that are route inputs by their names; and the others."""
    there = sorted(path for path in folder.rglob("*") if path.is_file() and not path.name.startswith("."))
    inputs = [path for path in there if path.name.lower().endswith(SUFFIXES)]
    return inputs, [path for path in there if not path.name.lower().endswith(SUFFIXES)]
