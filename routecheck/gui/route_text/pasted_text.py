"""The text that was pasted whole (a message, a nav log, a page), under the route that was read from it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QColor, QTextCharFormat, QTextCursor
from PySide6.QtWidgets import (
    QHBoxLayout,
    QPlainTextEdit,
    QPushButton,
    QTextEdit,
    QToolButton,
    QToolTip,
    QVBoxLayout,
    QWidget,
)

from routecheck.gui.pane import Pane
from routecheck.gui.theme import blend_colours, fixed_font, text_font
from routecheck.gui.widgets.labels import plain_tooltip
from routecheck.gui.widgets.utf16_offsets import to_qt
from routecheck.presentation.pasted_view import view_pasted

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from PySide6.QtGui import QHelpEvent

    from routecheck.gui.theme import Theme
    from routecheck.model import Pasted, Span
    from routecheck.presentation.pasted_view import PastedView

_LEAST_LINES, _LINES = 3, 7
"""It is so many lines high where there is room, and no fewer where there is none."""

_WINDOW_LINES = 45
"""In a window of fewer lines route, strip and charts need the room."""


class PastedText(Pane, QWidget):
    """Folds away under a line about it; hidden where the route was all that was pasted."""

    columns_wanted = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._pasted: Pasted | None = None
        self.view: PastedView | None = None
        self.title = QToolButton()
        self.title.setCheckable(True)
        self.title.setAutoRaise(True)
        self.title.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.title.setAccessibleName("Pasted text")
        self.title.toggled.connect(self._fold)
        self.columns_button = QPushButton("Columns…")
        self.columns_button.setFlat(True)
        self.columns_button.setObjectName("link")
        self.columns_button.setCursor(Qt.CursorShape.PointingHandCursor)
        self.columns_button.setAccessibleName("Columns of the pasted table")
        self.columns_button.clicked.connect(self.columns_wanted)
        self.text = QPlainTextEdit()
        self.text.setReadOnly(True)
        self.text.setAccessibleName("The text as it was pasted")
        self.text.viewport().installEventFilter(self)
        column = QVBoxLayout(self)
        column.setContentsMargins(2, 0, 2, 2)
        column.setSpacing(0)
        line = QHBoxLayout()
        line.addWidget(self.title)
        line.addWidget(self.columns_button)
        line.addStretch()
        column.addLayout(line)
        column.addWidget(self.text)
        self.refresh_font()
        self.show_pasted(None)

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        self.title.setFont(text_font(-1))
        self.columns_button.setFont(text_font(-1))
        self.text.setFont(fixed_font(-1))
        self.text.setMinimumHeight(self.text.fontMetrics().lineSpacing() * _LEAST_LINES + 12)
        self.text.setMaximumHeight(self.text.fontMetrics().lineSpacing() * _LINES + 12)

    def set_theme(self, theme: Theme) -> None:
        """Use other colours."""
        self._theme = theme
        self._tint()

    def show_pasted(self, pasted: Pasted | None) -> None:
        """Show another pasted text; None = there is none.

        It is unfolded where something in it was not used, and the window has the room; its title says so anyway.
        """
        if pasted is self._pasted and self.view is not None:
            return
        self._pasted = pasted
        self.view = view_pasted(pasted) if pasted else None
        self.setVisible(pasted is not None)
        self.columns_button.setVisible(bool(pasted and pasted.columns))
        self.text.setPlainText(self.view.text if self.view else "")
        self.title.setText(self.view.title if self.view else "")
        is_high = self.window().height() >= _WINDOW_LINES * self.title.fontMetrics().lineSpacing()
        self.title.setChecked(bool(self.view and self.view.is_worth_opening and is_high))
        self._fold(self.title.isChecked())
        self._tint()
        if self.view:
            self._scroll_to(self.view.plan_begins)

    def eventFilter(self, watched: object, event: QEvent) -> bool:  # noqa: N802
        """Say at the mouse what a stretch was taken for."""
        if event.type() == QEvent.Type.ToolTip and watched is self.text.viewport():
            return self._show_tooltip(event)  # type: ignore[arg-type]
        return super().eventFilter(watched, event)  # type: ignore[arg-type]

    def _show_tooltip(self, event: QHelpEvent) -> bool:
        at = self.text.cursorForPosition(event.pos()).position()
        notes = self.view.notes if self.view else ()
        said = [note for span, note in notes if self._offset(span.start) <= at <= self._offset(span.end)]
        QToolTip.showText(event.globalPos(), plain_tooltip(said[0]) if said else "", self.text)
        return True

    def _fold(self, is_open: bool) -> None:
        self.title.setArrowType(Qt.ArrowType.DownArrow if is_open else Qt.ArrowType.RightArrow)
        self.text.setVisible(is_open)

    def _scroll_to(self, offset: int) -> None:
        """Let the first line of the plan stand uppermost: what stands above it is of no use."""
        cursor = QTextCursor(self.text.document())
        cursor.setPosition(self._offset(offset))
        self.text.setTextCursor(cursor)
        self.text.verticalScrollBar().setValue(cursor.block().firstLineNumber())

    def _tint(self) -> None:
        if self.view is None:
            self.text.setExtraSelections([])
            return
        grey, wrong = QTextCharFormat(), QTextCharFormat()
        grey.setForeground(QColor(blend_colours(self._theme.muted, self._theme.pane, 0.6)))
        wrong.setUnderlineStyle(QTextCharFormat.UnderlineStyle.WaveUnderline)
        wrong.setUnderlineColor(QColor(self._theme.wrong))
        self.text.setExtraSelections(
            [*self._select(self.view.greyed, grey), *self._select(self.view.underlined, wrong)]
        )

    def _select(self, spans: Sequence[Span], look: QTextCharFormat) -> Iterator[QTextEdit.ExtraSelection]:
        for span in spans:
            selection = QTextEdit.ExtraSelection()
            selection.cursor, selection.format = QTextCursor(self.text.document()), look
            selection.cursor.setPosition(self._offset(span.start))
            selection.cursor.setPosition(self._offset(span.end), QTextCursor.MoveMode.KeepAnchor)
            yield selection

    def _offset(self, offset: int) -> int:
        return to_qt(self.view.text if self.view else "", offset)
