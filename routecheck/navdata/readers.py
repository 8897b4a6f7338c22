"""The readers of navigation data, one for each form, and the choice of the one for a file. No form is known here."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from routecheck.navdata.archives import members, text_member
from routecheck.navdata.arinc424.reader import Arinc424Reader
from routecheck.navdata.data_reader import MOST_LISTED, NothingUsableError
from routecheck.navdata.faa_points.reader import FaaPointsReader
from routecheck.settings import DataError

if TYPE_CHECKING:
    import os
    from collections.abc import Callable

    from routecheck.model import DataSource
    from routecheck.navdata.archives import Member
    from routecheck.navdata.data_reader import DataReader
    from routecheck.navdata.tables import Tables

    Progress = Callable[[float], None]

READERS: tuple[DataReader, ...] = (Arinc424Reader(), FaaPointsReader())
"""In the order in which they are asked whether a text is theirs. A new form is one more entry here."""


def reader_named(name: str) -> DataReader:
    """The reader that a block of procedures names. Raises KeyError where there is none of that name."""
    return {reader.name: reader for reader in READERS}[name]


def read_file(path: str | os.PathLike[str], *, progress: Progress | None = None, name: str = "") -> list[Tables]:
    """Read one file, packed or not: one Tables for each text in it that is navigation data (a .zip may hold several).

    The data source bears the file's name, or the `name` given. Raises DataError where nothing in the file can be used,
    UsageError where there is no such file.
    """
    path = Path(path)
    name = name or path.name
    read: list[Tables] = []
    refused: list[tuple[str, str]] = []
    for member in members(path):
        try:
            source = f"{name}: {member.name}" if member.name else name
            tables = _read_member(member, source, progress or (lambda _share: None))
            tables.source = replace(tables.source, file=name)
            read.append(tables)
        except NothingUsableError as error:
            refused.append((member.name, str(error)))
    if not read:
        raise DataError(str(path), None, _refusal(refused))
    for member_name, why in refused:
        note = f"{member_name} in the same file was left out: {why}"
        read[0].source = _with_note(read[0].source, note)
    return read


def read_text(text: str, name: str) -> Tables:
    """Read navigation data that is not in a file. Raises DataError like `read_file`."""
    try:
        return _read_member(text_member(text), name, lambda _share: None)
    except NothingUsableError as error:
        raise DataError(name, None, str(error)) from None


def _read_member(member: Member, source: str, progress: Progress) -> Tables:
    reader = next((reader for reader in READERS if reader.sniff(member.head)), None)
    if reader is None:
        raise NothingUsableError(_why_no_reader(member.head))
    return reader.read(member, source, progress)


def _why_no_reader(head: bytes) -> str:
    forms = " or ".join(reader.form for reader in READERS)
    if not head.strip():
        return "there is nothing in it"
    if head.lstrip().startswith(b"<"):
        return f"this is a web page or XML, not navigation data in {forms}"
    return f"not navigation data: there are no {forms} in it"


def _refusal(refused: list[tuple[str, str]]) -> str:
    if not refused:
        return "there is nothing in it"
    if len(refused) == 1:
        return refused[0][1]
    return f"none of its {len(refused)} files can be used; {refused[0][0]}: {refused[0][1]}"


def _with_note(source: DataSource, note: str) -> DataSource:
    return replace(source, rejected=((0, note), *source.rejected[: MOST_LISTED - 1]))
