"""What of the window comes back at the next start beside the route: its place, what is folded, theme, who accepts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.gui import actions, persistence
from routecheck.gui.theme import decode_window_state

if TYPE_CHECKING:
    from routecheck.gui.window import MainWindow

_WIDE, _HIGH = 1360, 860


def save_state(window: MainWindow) -> None:
    """Write it down."""
    folds = window.menu_actions
    more = {
        "theme": window.scheme.name,
        "by": window.acceptance.by,
        "legs": folds.fold_legs.isChecked(),
        "load": folds.fold_load.isChecked(),
        "side": folds.fold_side.isChecked() if window.side.chosen else None,
        "demo": window.data.is_demo,
    }
    geometry = bytes(window.saveGeometry().toBase64().data()).decode("ascii")
    persistence.write_values(persistence.LAYOUT, {"geometry": geometry, **window.pane_layout.states(), **more})


def restore_state(window: MainWindow) -> None:
    """Bring it back; at the first start, or where it cannot be read, the usual."""
    saved = persistence.read_values(persistence.LAYOUT) or {}
    if not window.restoreGeometry(decode_window_state(saved.get("geometry", ""))):
        window.resize(_WIDE, _HIGH)
    actions.tick_theme(window.themes, saved.get("theme", ""))
    window.menu_actions.fold_legs.setChecked(bool(saved.get("legs", True)))
    window.menu_actions.fold_load.setChecked(bool(saved.get("load", False)))
    if isinstance(unfolded := saved.get("side"), bool):
        window.menu_actions.fold_side.setChecked(unfolded)
        window.side.chosen = True
    window.acceptance.by = str(saved.get("by", ""))
    window.pane_layout.restore(saved)
