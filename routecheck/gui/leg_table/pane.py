"""The Leg table pane: what present/leg_table says, in a table that folds away. Picks in it are picks of the session."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import (
    QItemSelectionModel,
    QModelIndex,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QFontMetrics, QGuiApplication, QKeySequence
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHBoxLayout,
    QHeaderView,
    QSplitter,
    QTableView,
    QToolButton,
    QVBoxLayout,
)

from routecheck.gui.leg_table.model import EDGE, MARK_SHARE, MOST_MARKS, LegModel, RowPainter, row_height
from routecheck.gui.pane import Pane
from routecheck.gui.route_text.status_row import Wrapping
from routecheck.gui.theme import words
from routecheck.gui.widgets.finding_badges import mark_size
from routecheck.presentation.leg_table import leg_csv

if TYPE_CHECKING:
    from PySide6.QtGui import QAction, QKeyEvent, QResizeEvent

    from routecheck.gui.session import Session
    from routecheck.gui.theme import Theme
    from routecheck.presentation.assessment_view import Screen
    from routecheck.presentation.selection import Pick

_PAD = 18
_MOST_SPREAD = 30
"""By so much a column may be wider than it needs, where the pane is wide."""
_LEAST_SPREAD = -12
"""By so much it may be narrower: the gaps between columns shrink to that before anything scrolls."""
_LEAST_FILLER = 4
_TALL_ROWS = 9
"""From this height on there is room for a sentence in two lines."""
_HEAD_MORE = 6
"""What Qt leaves free about the text of a head."""


class _LegView(QTableView):
    """A table that tells when the keyboard moved it to another row, or copies; a click tells itself."""

    stepped = Signal(int)
    copied = Signal()
    resized = Signal()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Tell: the columns are spread anew."""
        super().resizeEvent(event)
        self.resized.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Move or copy, and tell."""
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copied.emit()
            return
        before = self.currentIndex().row()
        super().keyPressEvent(event)
        if self.currentIndex().row() not in (before, -1):
            self.stepped.emit(self.currentIndex().row())


class LegTablePane(Pane, QFrame):
    """The table with its head, which folds it away."""

    go_to = ("&Go to the legs", "Ctrl+G")

    def __init__(self, session: Session, theme: Theme, fold: QAction, copy: QAction) -> None:
        super().__init__()
        self.setObjectName("legs")
        self._session = session
        self.model = LegModel(self)
        self.view = _LegView()
        self.view.setModel(self.model)
        self._painter = RowPainter(self.model, theme)
        self.view.setItemDelegate(self._painter)
        self._widths: list[int] = []
        self._basis = ""
        self.basis = Wrapping()
        self.basis.setObjectName("muted")
        self.basis.setContentsMargins(2, 4, 2, 0)
        self.fold = QToolButton()
        self.fold.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self._open_height = self.sizeHint().height()
        fold.toggled.connect(self._folded)
        self._set_up_view()
        self._lay_out(fold, copy)
        session.replaced.connect(self._begin_above)
        session.assessed.connect(self.show_screen)
        session.picked.connect(self.show_pick)
        self._folded(fold.isChecked())

    def set_theme(self, theme: Theme) -> None:
        """Use other colours."""
        self._painter.theme = theme
        self.view.viewport().update()

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        self.view.setFont(words())
        self.view.horizontalHeader().setFont(words(-1))
        self.view.verticalHeader().setDefaultSectionSize(row_height())
        self.fold.setFont(words(-1))
        self.copy.setFont(words(-1))
        self.basis.setFont(words(-1))
        self._fit_columns()

    def show_screen(self, screen: Screen) -> None:
        """Show another assessment."""
        self.model.show(screen)
        self._basis = screen.legs.basis
        self._show_basis()
        self._fit_columns()

    def take_focus(self) -> None:
        """Unfold the table and let the keyboard move in it."""
        if self.view.isHidden():
            self.fold.click()
        self.view.setFocus()

    def show_nothing(self, _why: str) -> None:
        """Show no legs, for when there is no assessment."""
        self.model.show(None)
        self._basis = ""
        self._show_basis()

    def show_pick(self, pick: Pick | None) -> None:
        """Tint the picked legs and bring the first into view."""
        picked = frozenset(pick.legs) if pick else frozenset()
        if picked != self._painter.picked:
            self._painter.picked = picked
            self.view.viewport().update()
        rows = sorted(leg for leg in self._painter.picked if self.model.is_leg(leg))
        if rows and self.view.currentIndex().row() not in rows:
            first = self.model.index(rows[0], 1)
            self.view.selectionModel().setCurrentIndex(first, QItemSelectionModel.SelectionFlag.NoUpdate)
            self.view.scrollTo(first)

    def copy_csv(self) -> None:
        """Put the whole table on the clipboard as CSV."""
        if self._session.answer is not None:
            QGuiApplication.clipboard().setText(leg_csv(self._session.answer.assessment))

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Say as much of what the times rest on as there is room for."""
        super().resizeEvent(event)
        self._show_basis()

    def sizeHint(self) -> QSize:  # noqa: N802
        """Room for some legs."""
        return QSize(400, 10 * row_height())

    def _set_up_view(self) -> None:
        view = self.view
        view.setAccessibleName("Leg table")
        view.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        view.setShowGrid(False)
        view.setWordWrap(False)
        view.setTabKeyNavigation(False)
        view.setCornerButtonEnabled(False)
        view.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        view.verticalHeader().hide()
        view.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        view.verticalHeader().setMinimumSectionSize(1)
        view.horizontalHeader().setHighlightSections(False)
        view.horizontalHeader().setSectionsClickable(False)
        view.horizontalHeader().setStretchLastSection(True)
        view.horizontalHeader().setMinimumSectionSize(_LEAST_FILLER)
        view.clicked.connect(self._chosen)
        view.stepped.connect(self._stepped)
        view.copied.connect(self.copy_csv)
        view.resized.connect(self._resized)

    def _lay_out(self, fold: QAction, copy: QAction) -> None:
        self.copy = QToolButton()
        self.copy.setDefaultAction(copy)
        self.fold.clicked.connect(fold.toggle)
        self.fold.setText(fold.text().replace("&", ""))
        head = QHBoxLayout()
        head.setContentsMargins(2, 0, 2, 0)
        head.addWidget(self.fold)
        head.addStretch()
        head.addWidget(self.copy)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(head)
        column.addWidget(self.view, 1)
        column.addWidget(self.basis)

    def _folded(self, on: bool) -> None:
        high = self.fold.sizeHint().height()
        if not on and self.height() > 2 * high:
            self._open_height = self.height()
        self.fold.setArrowType(Qt.ArrowType.DownArrow if on else Qt.ArrowType.RightArrow)
        self.view.setVisible(on)
        self._show_basis()
        self.copy.setVisible(on)
        self.setMinimumHeight(high + (4 * row_height() if on else 0))
        self.setMaximumHeight(16777215 if on else high)
        if isinstance(panes := self.parentWidget(), QSplitter):
            wanted, whole = self._open_height if on else high, sum(panes.sizes())
            panes.setSizes([whole - wanted, wanted])

    def _show_basis(self) -> None:
        """The whole sentence where the pane is tall, else what of it goes into one line."""
        room = self.basis.width() - 2 * EDGE
        elided = self.basis.fontMetrics().elidedText(self._basis, Qt.TextElideMode.ElideRight, room)
        self.basis.setText(self._basis if self.height() > _TALL_ROWS * row_height() else elided)
        self.basis.setToolTip(self._basis)
        self.basis.setVisible(bool(self._basis) and self.fold.arrowType() == Qt.ArrowType.DownArrow)

    def _fit_columns(self) -> None:
        """As wide as their widest cell, found without asking every cell of a long route for its size.

        Where that is too wide for the pane the columns move closer together before they scroll.
        """
        marks = max((len(row.findings[:MOST_MARKS]) for row in self.model.table.rows), default=0)
        widths = [int(mark_size() * MARK_SHARE * 1.35 * max(1, marks)) + 10, *self._needed()]
        spread = (self.view.viewport().width() - sum(widths) - _LEAST_FILLER) // max(1, len(widths) - 1)
        apart = max(_LEAST_SPREAD, min(spread, _MOST_SPREAD))
        widths = [widths[0], *(wide + apart for wide in widths[1:]), _LEAST_FILLER]
        if widths != self._widths:
            self._widths = widths
            for i, wide in enumerate(widths):
                self.view.setColumnWidth(i, wide)

    def _needed(self) -> list[int]:
        metrics, heads, bold = QFontMetrics(words()), QFontMetrics(words(-1)), QFontMetrics(words(bold=True))
        needed = []
        for i, column in enumerate(self.model.table.columns):
            longest = sorted({row.cells[i] for row in self.model.table.rows}, key=len)[-8:]
            wide = [metrics.horizontalAdvance(text) for text in longest] + [
                heads.horizontalAdvance(column.head) + _HEAD_MORE
            ]
            wide += [bold.horizontalAdvance(self.model.table.total[i])] if self.model.table.total else []
            needed.append(max(wide) + _PAD + 2)
        return needed

    def _begin_above(self) -> None:
        """Another route is looked at from its departure on."""
        self.view.selectionModel().clearCurrentIndex()
        self.view.scrollToTop()

    def _resized(self) -> None:
        self._fit_columns()
        if self._painter.picked and self.view.currentIndex().isValid():
            self.view.scrollTo(self.view.currentIndex())

    def _stepped(self, row: int) -> None:
        if self.model.is_leg(row):
            self._session.pick_leg(row)

    def _chosen(self, index: QModelIndex) -> None:
        picked = self._session.pick_now
        if not self.model.is_leg(index.row()) or (picked and picked.legs == (index.row(),)):
            self._session.pick(None)
        else:
            self._session.pick_leg(index.row())
