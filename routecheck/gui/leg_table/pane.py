"""The Leg table pane: a table that folds away. Selecting a row selects the leg in the session."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import (
    QItemSelectionModel,
    QModelIndex,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QGuiApplication, QKeySequence
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

from routecheck.gui.leg_table.column_fit import LEAST_FILLER, ColumnFit
from routecheck.gui.leg_table.model import EDGE, LegModel, RowPainter, TotalModel, row_height
from routecheck.gui.pane import Pane
from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import ShrinkingLabel, plain_tooltip
from routecheck.presentation.column_ranks import describe_hidden
from routecheck.presentation.leg_table import leg_csv

if TYPE_CHECKING:
    from PySide6.QtCore import QRect
    from PySide6.QtGui import QAction, QKeyEvent, QPainter, QResizeEvent

    from routecheck.gui.session import Session
    from routecheck.gui.theme import Theme
    from routecheck.presentation.assessment_view import AssessmentView
    from routecheck.presentation.selection import Selection

_TALL_ROWS = 9
"""From this height on there is room for a sentence in two lines."""
_LOW_ROWS = 8
"""Below this height the sentence stands in the tooltip of the total alone."""
_AROUND = 8
"""What frames and gaps take of the height."""
_LEAST_ROWS = 6
"""So many rows high it is at least: the heads, the total, what the times rest on, and some legs."""
_FEWER = "Hide columns again"


class _LegView(QTableView):
    """A table that says when the keyboard moves to another row or copies. A click has Qt's own signal."""

    stepped = Signal(int)
    copied = Signal()
    resized = Signal()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Report the new size: the columns are spread anew."""
        super().resizeEvent(event)
        self.resized.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Move or copy, and report it."""
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copied.emit()
            return
        before = self.currentIndex().row()
        super().keyPressEvent(event)
        if self.currentIndex().row() not in (before, -1):
            self.stepped.emit(self.currentIndex().row())


class _Heads(QHeaderView):
    """The heads of the columns; each begins where the texts under it do."""

    def __init__(self) -> None:
        super().__init__(Qt.Orientation.Horizontal)
        self.leads: dict[int, int] = {}

    def paintSection(self, painter: QPainter, rect: QRect, section: int) -> None:  # noqa: N802
        """Paint one head."""
        super().paintSection(painter, rect.adjusted(self.leads.get(section, 0), 0, 0, 0), section)


class _TotalView(QTableView):
    """One row that stays in view below a table, under its columns and as far to the side as it."""

    def __init__(self, above: QTableView) -> None:
        super().__init__()
        self._above = above
        self.setObjectName("total")
        self.setAccessibleName("Total of the Leg table")
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.horizontalHeader().hide()
        above.horizontalScrollBar().valueChanged.connect(self.horizontalScrollBar().setValue)

    def match_width(self) -> None:
        """Be as wide inside as the table above, whose scroll bar takes some of its width."""
        self.setViewportMargins(0, 0, self._above.width() - self._above.viewport().width(), 0)


class LegTablePane(Pane, QFrame):
    """The table with its head, which folds it away, and its total, which is always in view."""

    go_to = ("&Go to the legs", "Ctrl+G")

    def __init__(self, session: Session, theme: Theme, fold: QAction, copy: QAction) -> None:
        super().__init__()
        self.setObjectName("legs")
        self._session = session
        self.model = LegModel(self)
        self.view, self._heads = _LegView(), _Heads()
        self.view.setHorizontalHeader(self._heads)
        self.view.setModel(self.model)
        self._painter = RowPainter(self.model, theme)
        self.view.setItemDelegate(self._painter)
        self.total_model, self.total_view = TotalModel(self), _TotalView(self.view)
        self.total_view.setModel(self.total_model)
        self._total_painter = RowPainter(self.total_model, theme)
        self.total_view.setItemDelegate(self._total_painter)
        painters = self._heads, self._painter, self._total_painter
        self.columns = ColumnFit(self.model, (self.view, self.total_view), painters)
        self.columns_button = QToolButton()
        self.columns.changed.connect(self._name_hidden)
        self._basis = ""
        self.basis = ShrinkingLabel()
        self.basis.setObjectName("muted")
        self.basis.setContentsMargins(2, 4, 2, 0)
        self.fold_button = QToolButton()
        self.fold_button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self._open_height = self.sizeHint().height()
        fold.toggled.connect(self._show_folded)
        self._set_up_view()
        self._lay_out(fold, copy)
        session.input_replaced.connect(self._scroll_to_top)
        session.assessed.connect(self.show_answer)
        session.selected.connect(self.show_selection)
        self._show_folded(fold.isChecked())

    def set_theme(self, theme: Theme) -> None:
        """Use other colours."""
        self._painter.theme = self._total_painter.theme = theme
        self.view.viewport().update()
        self.total_view.viewport().update()

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        for view in (self.view, self.total_view):
            view.setFont(text_font())
            view.verticalHeader().setDefaultSectionSize(row_height())
        self.total_view.setFixedHeight(row_height())
        self.view.horizontalHeader().setFont(text_font(-1))
        self.fold_button.setFont(text_font(-1))
        self.copy_button.setFont(text_font(-1))
        self.columns_button.setFont(text_font(-1))
        self.basis.setFont(text_font(-1))
        self._bound_height()
        self._fit_columns()

    def show_answer(self, answer: AssessmentView) -> None:
        """Show another answer."""
        self.model.show_answer(answer)
        self.total_model.show_answer(answer)
        self._show_total()
        self._basis = answer.legs.basis
        self._show_basis()
        self._fit_columns()

    def take_focus(self) -> None:
        """Unfold the table and let the keyboard move in it."""
        self.unfold()
        self.view.setFocus()

    def unfold(self) -> None:
        """Show the table, if it is folded."""
        if self.fold_button.arrowType() != Qt.ArrowType.DownArrow:
            self.fold_button.click()

    def wanted_height(self) -> int:
        """The height at which every leg is in view; folded, that of the head."""
        if self.fold_button.arrowType() != Qt.ArrowType.DownArrow:
            return self.minimumHeight()
        rows = self.model.rowCount() + bool(self.total_model.rows)
        basis = self.basis.heightForWidth(self.width()) if self._basis else 0
        heads = self.fold_button.sizeHint().height() + self.view.horizontalHeader().sizeHint().height()
        return heads + rows * row_height() + basis + _AROUND

    def show_nothing(self, _why: str) -> None:
        """Show no legs, for when there is no assessment."""
        self.model.show_answer(None)
        self.total_model.show_answer(None)
        self._show_total()
        self._basis = ""
        self._show_basis()

    def show_selection(self, selection: Selection | None) -> None:
        """Tint the selected legs and bring the first into view."""
        selected = frozenset(selection.legs) if selection else frozenset()
        if selected != self._painter.selected:
            self._painter.selected = selected
            self.view.viewport().update()
        rows = sorted(leg for leg in self._painter.selected if self.model.is_leg(leg))
        if rows and self.view.currentIndex().row() not in rows:
            first = self.model.index(rows[0], 1)
            self.view.selectionModel().setCurrentIndex(first, QItemSelectionModel.SelectionFlag.NoUpdate)
            self.view.scrollTo(first)

    def show_all_columns(self, is_wanted: bool) -> None:
        """Show every column, also those that there is no room for, or hide these again."""
        self.columns.show_all(is_wanted)
        self._name_hidden()

    def copy_csv(self) -> None:
        """Put the whole table on the clipboard as CSV."""
        if self._session.answer is not None:
            QGuiApplication.clipboard().setText(leg_csv(self._session.answer.assessment))

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Show as much of the sentence about the times as there is room for."""
        super().resizeEvent(event)
        self._show_basis()

    def sizeHint(self) -> QSize:  # noqa: N802
        """Room for some legs."""
        return QSize(400, 10 * row_height())

    def _set_up_view(self) -> None:
        for table in (self.view, self.total_view):
            table.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
            table.setShowGrid(False)
            table.setWordWrap(False)
            table.setTabKeyNavigation(False)
            table.setCornerButtonEnabled(False)
            table.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
            table.verticalHeader().hide()
            table.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
            table.verticalHeader().setMinimumSectionSize(1)
            table.horizontalHeader().setHighlightSections(False)
            table.horizontalHeader().setSectionsClickable(False)
            table.horizontalHeader().setStretchLastSection(True)
            table.horizontalHeader().setMinimumSectionSize(LEAST_FILLER)
        view = self.view
        view.setAccessibleName("Leg table")
        view.clicked.connect(self._toggle_selection)
        view.stepped.connect(self._select_row)
        view.copied.connect(self.copy_csv)
        view.resized.connect(self._follow_size)

    def _lay_out(self, fold: QAction, copy: QAction) -> None:
        self.copy_button = QToolButton()
        self.copy_button.setDefaultAction(copy)
        self.fold_button.clicked.connect(fold.toggle)
        self.fold_button.setText(fold.text().replace("&", ""))
        head = QHBoxLayout()
        head.setContentsMargins(2, 0, 2, 0)
        head.addWidget(self.fold_button)
        head.addStretch()
        head.addWidget(self.columns_button)
        head.addSpacing(_AROUND)
        head.addWidget(self.copy_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(head)
        column.addWidget(self.view, 1)
        column.addWidget(self.total_view)
        column.addWidget(self.basis)

    def _show_folded(self, on: bool) -> None:
        high = self.fold_button.sizeHint().height()
        if not on and self.height() > 2 * high:
            self._open_height = self.height()
        self.fold_button.setArrowType(Qt.ArrowType.DownArrow if on else Qt.ArrowType.RightArrow)
        self.view.setVisible(on)
        self._show_total()
        self._show_basis()
        self.copy_button.setVisible(on)
        self._name_hidden()
        self.setMinimumHeight(high + (_LEAST_ROWS * row_height() if on else 0))
        self.setMaximumHeight(16777215 if on else high)
        if isinstance(panes := self.parentWidget(), QSplitter):
            wanted, whole = self._open_height if on else high, sum(panes.sizes())
            panes.setSizes([whole - wanted, wanted])

    def _bound_height(self) -> None:
        high, is_open = self.fold_button.sizeHint().height(), not self.view.isHidden()
        self.setMinimumHeight(high + (_LEAST_ROWS * row_height() if is_open else 0))
        self.setMaximumHeight(16777215 if is_open else high)

    def _show_total(self) -> None:
        self.total_view.setVisible(bool(self.total_model.rows) and not self.view.isHidden())

    def _show_basis(self) -> None:
        """The whole sentence where the pane is tall, else what of it goes into one line, or none: legs go first."""
        room = self.basis.width() - 2 * EDGE
        elided = self.basis.fontMetrics().elidedText(self._basis, Qt.TextElideMode.ElideRight, room)
        self.basis.setText(self._basis if self.height() > _TALL_ROWS * row_height() else elided)
        self.basis.setToolTip(plain_tooltip(self._basis))
        is_low = self.height() < _LOW_ROWS * row_height()
        self.basis.setVisible(bool(self._basis) and not is_low and not self.view.isHidden())

    @property
    def selected_legs(self) -> frozenset[int]:
        """The legs that are shown as selected, by index."""
        return frozenset(self._painter.selected)

    def _fit_columns(self) -> None:
        self.columns.fit()
        self.total_view.match_width()

    def _name_hidden(self) -> None:
        """Say how many columns are hidden; the same button shows them, and hides them again."""
        said, which = describe_hidden(self.model.table.columns, self.columns.hidden)
        self.columns_button.setText(said or _FEWER)
        self.columns_button.setToolTip(plain_tooltip(which))
        self.columns_button.setVisible(self.view.isVisibleTo(self) and bool(said or self.columns.shows_all))

    def _scroll_to_top(self) -> None:
        """Show another route from its departure on."""
        self.view.selectionModel().clearCurrentIndex()
        self.view.scrollToTop()

    def _follow_size(self) -> None:
        self._fit_columns()
        if self._painter.selected and self.view.currentIndex().isValid():
            self.view.scrollTo(self.view.currentIndex())

    def _select_row(self, row: int) -> None:
        if self.model.is_leg(row):
            self._session.select_leg(row)

    def _toggle_selection(self, index: QModelIndex) -> None:
        selected = self._session.selection
        if not self.model.is_leg(index.row()) or (selected and selected.legs == (index.row(),)):
            self._session.select(None)
        else:
            self._session.select_leg(index.row())
