"""Opens worklists beside the window for one route, and routes of a worklist in that window."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from routecheck.gui import open_files
from routecheck.known.folder import choose_known
from routecheck.navdata.choice import DataChoice

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QWidget

    from routecheck.gui.data_sources.loaded_data import LoadedData
    from routecheck.gui.margin.acceptance_actions import AcceptanceActions
    from routecheck.gui.route_files import RouteFiles
    from routecheck.gui.worklist.window import WorklistWindow
    from routecheck.model import RouteInput
    from routecheck.settings import Settings

_ROWS = "CSV rows (*.csv);;All files (*)"


class Worklists(QObject):
    """The worklist of the window for one route: at most one at a time."""

    def __init__(
        self,
        host: QWidget,
        *,
        files: RouteFiles,
        data: LoadedData,
        acceptance: AcceptanceActions,
        settings: Callable[[], Settings],
        today: Callable[[], dt.date],
    ) -> None:
        super().__init__(host)
        self._host, self._files, self._data, self._acceptance = host, files, data, acceptance
        self._settings, self._today = settings, today
        self.window: WorklistWindow | None = None

    def ask(self) -> None:
        """Ask for a file of rows and open it as a worklist."""
        from routecheck.gui import dialogs

        if path := dialogs.file_to_open(self._host, "Open a worklist", _ROWS):
            self.open(Path(path))

    def open(self, path: Path) -> WorklistWindow:
        """Open a worklist, in place of one that is open."""
        from routecheck.gui.worklist.window import WorklistWindow
        from routecheck.worklist.worklist import Worklist

        self.close()
        worklist = Worklist(path, self._choose_data(), self._settings(), self._today(), choose_known())
        self.window = WorklistWindow(worklist, lambda: dt.datetime.now(dt.UTC), self._acceptance.by)
        self.window.route_wanted.connect(self._open_route)
        self.window.accepted_by.connect(self._note_initials)
        self.window.show()
        return self.window

    def show(self) -> None:
        """Come back to the worklist; ask for one where none is open."""
        if self.window is None or not self.window.isVisible():
            self.ask()
            return
        self.window.show()
        self.window.raise_()
        self.window.activateWindow()

    def close(self) -> None:
        """Close the worklist."""
        if self.window is not None:
            self.window.close()
            self.window.deleteLater()
            self.window = None

    def _open_route(self, route_input: RouteInput) -> None:
        self._files.show(route_input)
        self._host.show()
        self._host.raise_()
        self._host.activateWindow()

    def _note_initials(self, by: str) -> None:
        self._acceptance.by = by

    def _choose_data(self) -> DataChoice:
        """The data that the window uses, so that a route opened from the list says the same there."""
        loader = self._data.loader
        if isinstance(loader, open_files.DataFiles):
            return DataChoice(loader.paths)
        return DataChoice(demo=isinstance(loader, open_files.DemoRegion))
