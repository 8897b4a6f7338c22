"""The files opened or saved last, newest first, in a menu of their own."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QMenu

from routecheck.gui import persistence
from routecheck.gui.actions import make_action
from routecheck.gui.widgets.labels import plain_tooltip

if TYPE_CHECKING:
    from PySide6.QtWidgets import QMainWindow

MOST = 9


class RecentFiles(QMenu):
    """Keeps the list from one start to the next. A file that is gone is said when it is asked for."""

    chosen = Signal(str)

    def __init__(self, host: QMainWindow) -> None:
        super().__init__("Open re&cent", host)
        self.paths: list[str] = []
        self._actions = [
            make_action(host, "", f"Ctrl+Alt+{number}", lambda at=number - 1: self._choose(at))  # type: ignore[misc]
            for number in range(1, MOST + 1)
        ]
        self.addActions(self._actions)
        self._show(_read_paths())

    def add(self, path: Path) -> None:
        """Put a file at the head of the list."""
        name = str(path.absolute())
        paths = [name, *(one for one in self.paths if one != name)][:MOST]
        if paths != self.paths:
            self._show(paths)
            persistence.write_values(persistence.RECENT_FILES, {"paths": paths})

    def _show(self, paths: list[str]) -> None:
        self.paths = paths
        for number, action in enumerate(self._actions, start=1):
            is_there = number <= len(paths)
            action.setVisible(is_there)
            action.setEnabled(is_there)
            path = paths[number - 1] if is_there else ""
            name = Path(path).name.replace("&", "&&")
            action.setText(f"&{number} {name}")
            action.setToolTip(plain_tooltip(path))
        self.setToolTipsVisible(True)
        self.menuAction().setVisible(bool(paths))

    def _choose(self, at: int) -> None:
        if at < len(self.paths):
            self.chosen.emit(self.paths[at])


def _read_paths() -> list[str]:
    saved = (persistence.read_values(persistence.RECENT_FILES) or {}).get("paths", [])
    return [path for path in saved if isinstance(path, str)][:MOST] if isinstance(saved, list) else []
