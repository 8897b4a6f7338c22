"""Imports pyqtgraph in a thread of its own: it takes a quarter of a second, in which the window goes on."""

from __future__ import annotations

import logging
import sys
from contextlib import suppress
from functools import partial
from threading import Thread

from PySide6.QtCore import QObject, QTimer, Signal

LOG = logging.getLogger(__name__)


class PyqtgraphImport(QObject):
    """One import, begun when it is asked for the first time. Widgets are made by whoever listens, in the GUI thread."""

    done = Signal(str)
    """Why it cannot be imported; "" = it is."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._begun = False
        self.is_there = False
        """Whether charts can be made without waiting for it."""
        self.done.connect(self._remember)

    def begin(self) -> None:
        """Begin, where that has not been done."""
        if self._begun:
            return
        self._begun = True
        if "pyqtgraph.widgets.VerticalLabel" in sys.modules:
            QTimer.singleShot(0, partial(self.done.emit, ""))
        else:
            Thread(target=self._import, name="import of pyqtgraph").start()

    def _remember(self, why_not: str) -> None:
        self.is_there = not why_not

    def _import(self) -> None:
        why = ""
        try:
            import pyqtgraph  # noqa: F401
        except Exception as error:
            LOG.exception("importing pyqtgraph failed")
            why = str(error) or type(error).__name__
        with suppress(RuntimeError):  # the window may be closed by now
            self.done.emit(why)
