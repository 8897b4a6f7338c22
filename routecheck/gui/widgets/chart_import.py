"""Imports what charts need in a thread of its own: pyqtgraph takes a quarter of a second. The window goes on.

The readers of all input formats follow in the same thread, so that nobody waits for them at the first paste.
"""

from __future__ import annotations

import gc
import logging
import sys
from contextlib import suppress
from functools import partial
from importlib import import_module
from threading import Thread
from time import sleep

from PySide6.QtCore import QObject, QTimer, Signal

from routecheck.presentation import outline

LOG = logging.getLogger(__name__)
_MODULES = (
    "pyqtgraph",
    "routecheck.gui.picture.chart",
    "routecheck.gui.picture.point_finder",
    "routecheck.gui.picture.ruler",
    "routecheck.gui.side_view.chart",
)
_FOR_A_PASTE = "routecheck.reading.inputs"
_PAUSE_S = 0.2
"""So long the charts are made and painted undisturbed."""


class ChartImport(QObject):
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
        if all(name in sys.modules for name in _MODULES):
            QTimer.singleShot(0, partial(self.done.emit, ""))
        else:
            Thread(target=self._import, name="import of charts").start()

    def _remember(self, why_not: str) -> None:
        self.is_there = not why_not

    def _import(self) -> None:
        why = ""
        # A collection in this thread would destroy widgets outside the GUI thread, which ends the program.
        collecting = gc.isenabled()
        gc.disable()
        try:
            for name in _MODULES:
                import_module(name)
            outline.load_outline()
        except Exception as error:
            LOG.exception("importing what charts need failed")
            why = str(error) or type(error).__name__
        with suppress(RuntimeError):  # the window may be closed by now
            self.done.emit(why)
        if not why:
            sleep(_PAUSE_S)
            import_module(_FOR_A_PASTE)
        if collecting:
            gc.enable()
