"""Loads navigation data beside the window: one load after the other, each on a thread of its own.

A thread that waits for a file without an end cannot be ended. So a load that is stopped is abandoned: its thread learns
at its next step that it is no longer wanted, and what it brings in spite of that is dropped.
"""

from __future__ import annotations

import gc
import logging
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal, Slot

from routecheck.gui import persistence
from routecheck.gui.side_job import SideJob
from routecheck.settings import DataError, UsageError

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.navdata.database import NavDatabase

    Loader = Callable[[Callable[[float], None]], NavDatabase]
    """Loads navigation data. It reports the share done to the function it is given, which may raise to stop it."""

LOG = logging.getLogger(__name__)
STOPPED = "Loading was stopped. The data in use is as before."
STOPPED_WITHOUT_DATA = "Loading was stopped. No navigation data is in use, so that nothing can be checked."
COLLECT_SELDOM = (20_000, 20, 20)
"""When Python's garbage collector goes through young, older and old objects: many go with the next answer.

While data is loaded it waits: going through all of that would hold the window up.
"""
_LAST_WAIT_S = 0.3
"""How long closing the window waits for a stopped load to tidy up."""


class StoppedError(Exception):
    """The load is no longer wanted."""


class _Load(SideJob):
    """One load and its thread."""

    def __init__(self, loader: Loader, report: Callable[[_Load, float], None], end: Callable[[_Load], None]) -> None:
        super().__init__("navigation data", end)
        self.loader = loader
        self.database: NavDatabase | None = None
        self.fault = ""
        self._report = report

    def work(self) -> None:
        """Load."""
        gc.unfreeze()
        gc.set_threshold(0)
        try:
            self.database = self.loader(self._step)
        except StoppedError:
            LOG.info("loading navigation data was stopped")
        except (DataError, UsageError, OSError) as trouble:
            self.fault = f"Navigation data not loaded. {trouble}"
        except Exception:
            LOG.exception("loading navigation data failed")
            self.fault = f"Navigation data not loaded: our mistake, told in {persistence.log_file()}."
        finally:
            # What was loaded stays: the garbage collector would go through all of it while somebody types.
            gc.freeze()
            gc.set_threshold(*COLLECT_SELDOM)

    def _step(self, share: float) -> None:
        if not self.tell(lambda: self._report(self, share)):
            raise StoppedError


class DataLoader(QObject):
    """The loads of the window. The newest data wins because no load begins before the one before it has ended."""

    loaded = Signal(object, object)
    """A Loader, and the NavDatabase that it has loaded."""
    failed = Signal(str)
    """Why a load gave no data, as a sentence."""
    progressed = Signal(float)
    """The share of the load that is done; 1 = nothing is being loaded."""
    _reported = Signal(object, float)
    _ended = Signal(object)

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._running: _Load | None = None
        self._waiting: list[Loader] = []
        self._has_loaded = False
        self._reported.connect(self._show_share)
        self._ended.connect(self._take_result)

    @property
    def is_loading(self) -> bool:
        """Whether a load is running."""
        return self._running is not None

    def load(self, loader: Loader) -> None:
        """Load navigation data once the loads before it have ended."""
        self._waiting.append(loader)
        if self._running is None:
            self._begin_next()

    def stop(self) -> None:
        """Give up the load that is running and those that wait."""
        if self._running is None:
            return
        self._abandon()
        self.failed.emit(STOPPED if self._has_loaded else STOPPED_WITHOUT_DATA)
        self.progressed.emit(1.0)

    def close(self) -> None:
        """Give up all loads. One that writes gets a moment to tidy up."""
        if self._running is not None:
            self._abandon().wait(_LAST_WAIT_S)

    def _abandon(self) -> _Load:
        load, self._running = self._running, None
        assert load is not None
        self._waiting.clear()
        load.abandon()
        return load

    def _begin_next(self) -> None:
        self._running = _Load(self._waiting.pop(0), self._reported.emit, self._ended.emit)
        self.progressed.emit(0.0)
        self._running.start()

    @Slot(object, float)
    def _show_share(self, load: _Load, share: float) -> None:
        if load is self._running:
            self.progressed.emit(min(share, 0.999))

    @Slot(object)
    def _take_result(self, load: _Load) -> None:
        if load is not self._running:
            return
        self._running = None
        if load.fault:
            self.failed.emit(load.fault)
        else:
            self._has_loaded = True
            self.loaded.emit(load.loader, load.database)
        if self._waiting:
            self._begin_next()
        else:
            self.progressed.emit(1.0)
