"""How actions and menus of the window are made. Every action has a shortcut; menus.py says which there are."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QActionGroup, QKeySequence

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QMainWindow, QMenu

StandardKey = QKeySequence.StandardKey
THEMES = {
    "Theme follows the system": Qt.ColorScheme.Unknown,
    "Light theme": Qt.ColorScheme.Light,
    "Dark theme": Qt.ColorScheme.Dark,
}
_THEME_KEYS = ("Ctrl+Alt+S", "Ctrl+Alt+L", "Ctrl+Alt+D")


def make_action(
    window: QMainWindow, text: str, keys: str | StandardKey, does: Callable[[], object] | None = None
) -> QAction:
    """Make an action of the window that its keys reach from everywhere in it."""
    new_action = QAction(text, window)
    new_action.setShortcut(QKeySequence(keys))
    if does is not None:
        new_action.triggered.connect(lambda: does())
    window.addAction(new_action)
    return new_action


def make_theme_actions(window: QMainWindow, choose: Callable[[Qt.ColorScheme], object]) -> list[QAction]:
    """Make the three choices of theme, one of them ticked."""
    group = QActionGroup(window)
    themes = []
    for (text, scheme), keys in zip(THEMES.items(), _THEME_KEYS, strict=True):
        one = make_action(window, text, keys, lambda scheme=scheme: choose(scheme))  # type: ignore[misc]
        one.setCheckable(True)
        one.setChecked(scheme == Qt.ColorScheme.Unknown)
        group.addAction(one)
        themes.append(one)
    return themes


def tick_theme(themes: list[QAction], saved: str) -> None:
    """Choose a theme again by the name that was saved; do nothing where no theme has it."""
    for one, scheme in zip(themes, THEMES.values(), strict=True):
        if scheme.name == saved and not one.isChecked():
            one.trigger()


def fill_menu(menu: QMenu, actions: list[QAction | None]) -> None:
    """Put actions into a menu; None is a line between them."""
    for one in actions:
        if one is None:
            menu.addSeparator()
        else:
            menu.addAction(one)


def list_shortcuts(window: QMainWindow) -> list[tuple[str, str]]:
    """List every action with its keys in the order of the menus."""
    return [line for menu in window.menuBar().actions() for line in list_menu(menu)[1:]]


def list_menu(menu: QAction) -> list[tuple[str, str]]:
    """The name of a menu, then its actions with their keys, those of menus inside it among them."""
    lines = [(_plain_text(menu), "")]
    for one in menu.menu().actions():  # type: ignore[attr-defined]
        if one.menu():
            lines += list_menu(one)[1:]
        elif one.text() and one.isVisible():
            lines.append((_plain_text(one), one.shortcut().toString(QKeySequence.SequenceFormat.NativeText)))
    return lines


def _plain_text(action: QAction) -> str:
    return action.text().replace("&&", "\0").replace("&", "").replace("\0", "&").rstrip("…")
