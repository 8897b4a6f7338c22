"""The drill in hand and the class list as files of the window's data folder: compressed, out of sight, no secret."""

from __future__ import annotations

import logging
from typing import TYPE_CHECKING, TypeVar

from routecheck import files
from routecheck.drill.class_list import ClassList, unpack_class
from routecheck.drill.progress import unpack_drill
from routecheck.gui import persistence

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.drill.progress import DrillInHand

LOG = logging.getLogger(__name__)
_Kept = TypeVar("_Kept")
IN_HAND, CLASS = "drill-in-hand.bin", "drill-class.bin"


def read_drill() -> DrillInHand | None:
    """The drill in hand; None where there is none, or nothing of it is left to answer."""
    drill = _unpack(IN_HAND, unpack_drill)
    return drill if drill and drill.case else None


def keep_drill(drill: DrillInHand) -> None:
    """Keep the drill in hand."""
    _write(IN_HAND, drill.pack())


def forget_drill() -> None:
    """Delete what was kept of the drill in hand, the trainee's name too."""
    (persistence.data_folder() / IN_HAND).unlink(missing_ok=True)


def read_class() -> ClassList:
    """The class list; an empty one where there is none."""
    return _unpack(CLASS, unpack_class) or ClassList()


def keep_class(kept: ClassList) -> None:
    """Keep the class list; one without drills leaves no file."""
    if kept.drills:
        _write(CLASS, kept.pack())
    else:
        (persistence.data_folder() / CLASS).unlink(missing_ok=True)


def _unpack(name: str, unpack: Callable[[bytes], _Kept | None]) -> _Kept | None:
    """What a file holds; a damaged one is put aside, so that nothing is written over it."""
    path = persistence.data_folder() / name
    try:
        content = files.read_bytes(path)
    except OSError:
        return None
    found = unpack(content)
    if found is None:
        aside = path.with_suffix(".unreadable")
        LOG.warning("%s cannot be read; it is kept as %s", path.name, aside.name)
        path.replace(aside)
    return found


def _write(name: str, content: bytes) -> None:
    try:
        persistence.data_folder().mkdir(parents=True, exist_ok=True)
        files.write_atomically(persistence.data_folder() / name, content)
    except OSError as error:
        LOG.warning("%s cannot be kept: %s", name, error)
