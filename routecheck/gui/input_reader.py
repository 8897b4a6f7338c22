"""Reads files and pasted texts beside the window, so that no text and no disk holds it up. The newest counts alone."""

from __future__ import annotations

import logging
from typing import TYPE_CHECKING, Generic, TypeVar

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from routecheck.gui import persistence
from routecheck.gui.open_files import describe_trouble
from routecheck.gui.side_job import SideJob
from routecheck.settings import DataError, UsageError

if TYPE_CHECKING:
    from collections.abc import Callable

LOG = logging.getLogger(__name__)
T = TypeVar("T")
_PATIENCE_MS = 500
"""How long something is read before the window says that it is."""


class _Reading(SideJob, Generic[T]):
    """One input that is being read, who takes what was read, and who is told why it was not."""

    def __init__(
        self,
        read: Callable[[], T],
        take: Callable[[T], object],
        refuse: Callable[[str], object],
        end: Callable[[_Reading[T]], None],
    ) -> None:
        super().__init__("reading", end)
        self._read, self._take, self._refuse = read, take, refuse
        self._found: list[T] = []
        self._fault = ""

    def work(self) -> None:
        """Read."""
        try:
            self._found.append(self._read())
        except (DataError, UsageError, OSError) as trouble:
            self._fault = describe_trouble(trouble)
        except Exception:
            LOG.exception("an input could not be read")
            self._fault = f"Our mistake, told in {persistence.log_file()}."

    def hand_over(self) -> None:
        """Give what was read, or say why nothing was; on the window's thread."""
        if self._found:
            self._take(self._found[0])
        else:
            self._refuse(self._fault)


class InputReader(QObject):
    """Reads one input at a time for the window."""

    waiting = Signal(str)
    """A sentence: what is asked for is still being read."""
    _ended = Signal(object)

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._newest: SideJob | None = None
        self._patience = QTimer(self, singleShot=True, interval=_PATIENCE_MS)
        self._patience.timeout.connect(lambda: self.waiting.emit("It is still being read …"))
        self._ended.connect(self._hand_over)

    @property
    def is_reading(self) -> bool:
        """Whether something is being read."""
        return self._newest is not None

    def read(self, read: Callable[[], T], take: Callable[[T], object], refuse: Callable[[str], object]) -> None:
        """Let `read` run beside the window and `take` what it gives; where it cannot, `refuse` with a sentence why.

        What was being read before is dropped.
        """
        self.drop()
        self._newest = _Reading(read, take, refuse, self._ended.emit)
        self._newest.start()
        self._patience.start()

    def drop(self) -> None:
        """Take nothing more of what is being read."""
        self._patience.stop()
        if self._newest is not None:
            self._newest.abandon()
            self._newest = None

    @Slot(object)
    def _hand_over(self, reading: _Reading[object]) -> None:
        if reading is self._newest:
            self.drop()
            reading.hand_over()
