"""The dialogs that the menus open: the list of shortcuts, About, and the choice of a file."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QFileDialog, QFrame, QMessageBox, QScrollArea, QVBoxLayout

from routecheck import __version__
from routecheck.gui.actions import list_menu
from routecheck.gui.widgets.labels import MarkupLabel
from routecheck.model import CAUTION_IN_FULL, NOT_LOOKED_AT

_SHEET_COLUMNS = 3

if TYPE_CHECKING:
    from pathlib import Path

    from PySide6.QtWidgets import QMainWindow, QWidget


def show_shortcuts(window: QMainWindow) -> QDialog:
    """Every action with its keys, made from the menus."""
    columns = "".join(
        f"<td style='padding-right: 28px'>{''.join(map(_write_menu, menus))}</td>" for menus in _in_columns(window)
    )
    mouse = "In the Picture: wheel zooms, dragging moves, a click picks."
    sheet = MarkupLabel(f"<table><tr>{columns}</tr></table><p>{mouse}</p>")
    sheet.setWordWrap(False)
    scrolled = QScrollArea()
    scrolled.setFrameShape(QFrame.Shape.NoFrame)
    scrolled.setWidget(sheet)
    size = sheet.sizeHint() + QSize(24, 24)
    scrolled.setMinimumSize(size.boundedTo(window.size() - QSize(60, 120)))
    return _show_widget(window, "Shortcuts", scrolled)


def _in_columns(window: QMainWindow) -> list[list[list[tuple[str, str]]]]:
    """The menus as lists of lines, each in the column that is the shortest so far."""
    columns: list[list[list[tuple[str, str]]]] = [[] for _ in range(_SHEET_COLUMNS)]
    for menu in window.menuBar().actions():
        min(columns, key=lambda column: sum(map(len, column))).append(list_menu(menu))
    return columns


def _write_menu(lines: list[tuple[str, str]]) -> str:
    (title, _), *rows = lines
    cells = "".join(
        f"<tr><td style='padding: 1px 18px 1px 0'>{escape(text)}</td><td><b>{escape(keys)}</b></td></tr>"
        for text, keys in rows
    )
    return f"<h4>{escape(title)}</h4><table>{cells}</table>"


def show_about(window: QMainWindow) -> QDialog:
    """What this is, and the cautions."""
    return _show_dialog(window, "About Routecheck", (
        f"<h3>Routecheck {escape(__version__)}</h3>"
        "<p>The independent second reader of a flight-plan route: it re-computes what was typed and says what is wrong "
        "or doubtful, and why. It never plans, files or flies a route.</p>"
        f"<p><b>{escape(CAUTION_IN_FULL)}</b></p>"
        f"<p>Not looked at: {escape(NOT_LOOKED_AT)}.</p>"
        "<p>Outline map: Natural Earth, public domain. Magnetic model: WMM2025. "
        "Window: Qt by way of PySide6, under the LGPL; charts: pyqtgraph, MIT licence.</p>"
    ))  # fmt: skip


def _show_dialog(window: QMainWindow, title: str, html: str) -> QDialog:
    text = MarkupLabel(html)
    text.setMinimumWidth(text.fontMetrics().averageCharWidth() * 64)
    return _show_widget(window, title, text)


def _show_widget(window: QMainWindow, title: str, widget: QWidget) -> QDialog:
    dialog = QDialog(window)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.setWindowTitle(title)
    buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
    buttons.rejected.connect(dialog.reject)
    column = QVBoxLayout(dialog)
    column.setContentsMargins(20, 16, 20, 14)
    column.addWidget(widget)
    column.addWidget(buttons)
    dialog.open()
    return dialog


def confirm_discard(parent: QWidget, title: str, question: str) -> bool:
    """Ask whether something may be discarded. The question is shown as plain text."""
    answers = QMessageBox.StandardButton
    box = QMessageBox(QMessageBox.Icon.Question, title, "", answers.Discard | answers.Cancel, parent)
    box.setTextFormat(Qt.TextFormat.PlainText)
    box.setText(question)
    box.setDefaultButton(answers.Cancel)
    return box.exec() == answers.Discard


def file_to_open(parent: QWidget, title: str, kinds: str) -> str:
    """Ask for a file; "" where none was chosen. `kinds` are filters as Qt wants them."""
    return QFileDialog.getOpenFileName(parent, title, "", kinds)[0]


def files_to_open(parent: QWidget, title: str) -> list[str]:
    """Ask for files; none where none was chosen."""
    return QFileDialog.getOpenFileNames(parent, title)[0]


def file_to_save(parent: QWidget, title: str, suggested: Path, kinds: str) -> str:
    """Ask where to write a file; "" where nothing was chosen."""
    return QFileDialog.getSaveFileName(parent, title, str(suggested), kinds)[0]
