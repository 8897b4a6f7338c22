"""What of the window comes back at the next start beside the route: its place, what is folded, theme, who accepts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass
from routecheck.gui import actions, persistence
from routecheck.gui.theme import decode_window_state

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PySide6.QtGui import QAction
    from PySide6.QtWidgets import QMainWindow

    from routecheck.gui.margin.acceptance_actions import AcceptanceActions
    from routecheck.gui.menus import Actions
    from routecheck.gui.pane_layout import PaneLayout
    from routecheck.gui.side_view.pane import SidePane

_WIDE, _HIGH = 1360, 860


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowState:
    """Saves and restores what these parts look like."""

    host: QMainWindow
    layout: PaneLayout
    folds: Actions
    themes: Sequence[QAction]
    side: SidePane
    acceptance: AcceptanceActions

    def save(self, *, theme: str, is_demo: bool) -> None:
        """Write it down."""
        geometry = bytes(self.host.saveGeometry().toBase64().data()).decode("ascii")
        more = {
            "theme": theme,
            "by": self.acceptance.by,
            "legs": self.folds.fold_legs.isChecked(),
            "straightened": self.folds.straighten.isChecked(),
            "load": self.folds.fold_load.isChecked(),
            "side": self.folds.fold_side.isChecked() if self.side.chosen else None,
            "demo": is_demo,
        }
        persistence.write_values(persistence.LAYOUT, {"geometry": geometry, **self.layout.states(), **more})

    def restore(self) -> None:
        """Bring it back; at the first start, or where it cannot be read, the usual."""
        saved = persistence.read_values(persistence.LAYOUT) or {}
        if not self.host.restoreGeometry(decode_window_state(saved.get("geometry", ""))):
            self.host.resize(_WIDE, _HIGH)
        actions.tick_theme(list(self.themes), saved.get("theme", ""))
        self.folds.fold_legs.setChecked(bool(saved.get("legs", True)))
        self.folds.straighten.setChecked(bool(saved.get("straightened", False)))
        self.folds.fold_load.setChecked(bool(saved.get("load", False)))
        if isinstance(unfolded := saved.get("side"), bool):
            self.folds.fold_side.setChecked(unfolded)
            self.side.chosen = True
        self.acceptance.by = str(saved.get("by", ""))
        self.layout.restore(saved)
