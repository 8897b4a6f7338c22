"""The drill in hand and the class list as files of the window's data folder: compressed, out of sight, no secret."""

from __future__ import annotations

import logging
from typing import TYPE_CHECKING

from routecheck import files
from routecheck.drill.class_list import ClassList, unpack_class
from routecheck.drill.progress import unpack_drill
from routecheck.gui import persistence

if TYPE_CHECKING:
    from routecheck.drill.progress import DrillInHand

LOG = logging.getLogger(__name__)
IN_HAND, CLASS = "drill-in-hand.bin", "drill-class.bin"


def read_drill() -> DrillInHand | None:
    """The drill in hand; None where there is none, or nothing of it is left to answer."""
    content = _read(IN_HAND)
    drill = unpack_drill(content) if content else None
    return drill if drill and drill.case else None


def keep_drill(drill: DrillInHand) -> None:
    """Keep the drill in hand."""
    _write(IN_HAND, drill.pack())


def forget_drill() -> None:
    """Delete what was kept of the drill in hand, the trainee's name too."""
    (persistence.data_folder() / IN_HAND).unlink(missing_ok=True)


def read_class() -> ClassList:
    """The class list; an empty one where there is none."""
    content = _read(CLASS)
    return (unpack_class(content) if content else None) or ClassList()


def keep_class(kept: ClassList) -> None:
    """Keep the class list; one without drills leaves no file."""
    if kept.drills:
        _write(CLASS, kept.pack())
    else:
        (persistence.data_folder() / CLASS).unlink(missing_ok=True)


def _read(name: str) -> bytes:
    try:
        return files.read_bytes(persistence.data_folder() / name)
    except OSError:
        return b""


def _write(name: str, content: bytes) -> None:
    try:
        persistence.data_folder().mkdir(parents=True, exist_ok=True)
        files.write_atomically(persistence.data_folder() / name, content)
    except OSError as error:
        LOG.warning("%s cannot be kept: %s", name, error)
