"""The Leg table pane: what present/leg_table says, in a table that folds away. Picks in it are picks of the session."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import (
    QAbstractTableModel,
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    QPointF,
    QRect,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QColor, QFont, QFontMetrics, QGuiApplication, QKeySequence
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHBoxLayout,
    QHeaderView,
    QSplitter,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
    QToolButton,
    QVBoxLayout,
)

from routecheck.gui.marks import mark_size, paint_mark
from routecheck.gui.status_row import Wrapping
from routecheck.gui.theme import blend, words
from routecheck.model import Weight
from routecheck.present.leg_table import LegRow, LegTable, leg_csv

if TYPE_CHECKING:
    from PySide6.QtGui import QAction, QKeyEvent, QPainter, QResizeEvent

    from routecheck.gui.session import Session
    from routecheck.gui.theme import Theme
    from routecheck.model import Finding
    from routecheck.present.picks import Pick
    from routecheck.present.screen import Screen

    AnyIndex = QModelIndex | QPersistentModelIndex

_MARK_SHARE = 0.8
_MOST_MARKS = 3
_PAD, _EDGE = 18, 5
_MOST_SPREAD = 30
"""By so much a column may be wider than it needs, where the pane is wide."""
_LEAST_SPREAD = -8
"""By so much it may be narrower: the gaps between columns shrink to that before anything scrolls."""
_LEAST_FILLER = 4
_HEAD_MORE = 6
"""What Qt leaves free about the text of a head."""
_Role = Qt.ItemDataRole
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


class LegModel(QAbstractTableModel):
    """The rows and columns of a LegTable, behind a first column for the marks of findings."""

    def __init__(self, parent: QFrame) -> None:
        super().__init__(parent)
        self.table = LegTable((), ())
        self.lines: tuple[LegRow, ...] = ()
        self.accepted: frozenset[int] = frozenset()
        self._findings: tuple[Finding, ...] = ()

    def show(self, screen: Screen | None) -> None:
        """Take another table; None = an empty one."""
        self.beginResetModel()
        self.table = screen.legs if screen else LegTable((), ())
        total = LegRow(self.table.total, (), None, self.table.basis, is_gap=False)
        self.lines = (*self.table.rows, total) if self.table.total else self.table.rows
        self.accepted = screen.accepted if screen else frozenset()
        self._findings = screen.assessment.findings if screen else ()
        self.endResetModel()

    def weight_of(self, finding: int) -> Weight:
        """The weight of a finding, by its index."""
        return self._findings[finding].weight

    def rowCount(self, parent: AnyIndex | None = None) -> int:  # noqa: N802
        """How many legs there are, and one for the total where there is one."""
        return 0 if parent is not None and parent.isValid() else len(self.lines)

    def is_leg(self, row: int) -> bool:
        """Whether a row is a leg, not the total."""
        return 0 <= row < len(self.table.rows)

    def unnamed(self, index: AnyIndex) -> bool:
        """Whether a cell holds the name of a point that the text does not name."""
        ends = [i for i, column in enumerate(self.table.columns, 1) if column.key in ("from", "to")]
        return index.column() in ends and not self.lines[index.row()].in_text[ends.index(index.column())]

    def columnCount(self, parent: AnyIndex | None = None) -> int:  # noqa: N802
        """One for marks, those of the table, and an empty one that takes what room is left."""
        return 0 if parent is not None and parent.isValid() else len(self.table.columns) + 2

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = _Role.DisplayRole) -> object:  # noqa: N802
        """The heads of the columns."""
        if orientation != Qt.Orientation.Horizontal or not 0 < section <= len(self.table.columns):
            return "" if role == _Role.DisplayRole else None
        column = self.table.columns[section - 1]
        if role == _Role.DisplayRole:
            return column.head
        if role == _Role.ToolTipRole:
            return column.tip or None
        return _align(figures=column.figures) if role == _Role.TextAlignmentRole else None

    def data(self, index: AnyIndex, role: int = _Role.DisplayRole) -> object:
        """Cells as text; what a screen reader says of the marks."""
        row = self.lines[index.row()]
        if role == _Role.ToolTipRole:
            return row.tip or None
        if index.column() == 0:
            return _spoken(row) if role == _Role.AccessibleTextRole else None
        if index.column() > len(self.table.columns):
            return None
        if role == _Role.DisplayRole:
            return row.cells[index.column() - 1]
        if role == _Role.AccessibleTextRole and self.unnamed(index):
            return f"{row.cells[index.column() - 1]}, not named in the text"
        if role == _Role.TextAlignmentRole:
            return _align(figures=self.table.columns[index.column() - 1].figures)
        return None


class _RowPainter(QStyledItemDelegate):
    """Paints cells on a ground that says what is picked and what is flagged, and the marks of findings."""

    def __init__(self, model: LegModel, theme: Theme) -> None:
        super().__init__(model)
        self._model = model
        self.theme = theme
        self.picked: frozenset[int] = frozenset()

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: AnyIndex) -> None:
        """Paint one cell."""
        row = self._model.lines[index.row()]
        rect: QRect = option.rect
        if ground := self._ground(index.row(), row):
            painter.fillRect(rect, ground)
        if not self._model.is_leg(index.row()):
            painter.setPen(QColor(self.theme.line))
            painter.drawLine(rect.topLeft(), rect.topRight())
        if index.column() == 0:
            self._paint_marks(painter, rect, row)
            return
        if index.column() > len(self._model.table.columns):
            return
        column = self._model.table.columns[index.column() - 1]
        self._set_pen(painter, index, muted=row.is_gap and column.key == "distance_nm")
        text = rect.adjusted(_EDGE, 0, -_EDGE, 0)
        shown = painter.fontMetrics().elidedText(str(index.data()), Qt.TextElideMode.ElideRight, text.width())
        painter.drawText(text, _align(figures=column.figures), shown)

    def _set_pen(self, painter: QPainter, index: AnyIndex, *, muted: bool) -> None:
        """Names that the text does not give are slanted and grey, the total is bold."""
        unnamed = self._model.unnamed(index)
        font = QFont(words(bold=not self._model.is_leg(index.row())))
        font.setItalic(unnamed)
        painter.setFont(font)
        painter.setPen(QColor(self.theme.muted if muted or unnamed else self.theme.ink))

    def sizeHint(self, _option: QStyleOptionViewItem, _index: AnyIndex) -> QSize:  # noqa: N802
        """Rows of one height."""
        return QSize(40, _row_height())

    def _ground(self, number: int, row: LegRow) -> QColor | None:
        if number in self.picked:
            return QColor(self.theme.picked)
        if row.weight in (Weight.WRONG, Weight.DOUBTFUL) and row.weight is not None:
            return QColor(blend(self.theme.weight(row.weight).name(), self.theme.paper, 0.1))
        return None

    def _paint_marks(self, painter: QPainter, rect: QRect, row: LegRow) -> None:
        size = mark_size() * _MARK_SHARE
        painter.setFont(words())
        for place, index in enumerate(row.findings[:_MOST_MARKS]):
            centre = QPointF(rect.left() + 6 + size * (0.5 + place * 1.35), rect.center().y() + 0.5)
            weight = self._model.weight_of(index)
            accepted = index in self._model.accepted
            paint_mark(painter, centre, weight, str(index + 1), self.theme, _MARK_SHARE, accepted=accepted)


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


class LegTablePane(QFrame):
    """The table with its head, which folds it away."""

    def __init__(self, session: Session, theme: Theme, fold: QAction, copy: QAction) -> None:
        super().__init__()
        self.setObjectName("legs")
        self._session = session
        self.model = LegModel(self)
        self.view = _LegView()
        self.view.setModel(self.model)
        self._painter = _RowPainter(self.model, theme)
        self.view.setItemDelegate(self._painter)
        self.basis = Wrapping()
        self.basis.setObjectName("muted")
        self.basis.setContentsMargins(2, 4, 2, 0)
        self.fold = QToolButton()
        self.fold.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self._open_height = self.sizeHint().height()
        fold.toggled.connect(self._folded)
        self._set_up_view()
        self._lay_out(fold, copy)
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
        self.view.verticalHeader().setDefaultSectionSize(_row_height())
        self.fold.setFont(words(-1))
        self.copy.setFont(words(-1))
        self.basis.setFont(words(-1))
        self._fit_columns()

    def show_screen(self, screen: Screen) -> None:
        """Show another assessment."""
        self.model.show(screen)
        self.basis.setText(screen.legs.basis)
        self._show_basis()
        self._fit_columns()

    def show_nothing(self) -> None:
        """Show no legs, for when there is no assessment."""
        self.model.show(None)
        self.basis.setText("")
        self._show_basis()

    def show_pick(self, pick: Pick | None) -> None:
        """Tint the picked legs and bring the first into view."""
        self._painter.picked = frozenset(pick.legs) if pick else frozenset()
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

    def sizeHint(self) -> QSize:  # noqa: N802
        """Room for some legs."""
        return QSize(400, 10 * _row_height())

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
        view.resized.connect(self._fit_columns)

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
        self.setMinimumHeight(high + (4 * _row_height() if on else 0))
        self.setMaximumHeight(16777215 if on else high)
        if isinstance(panes := self.parentWidget(), QSplitter):
            wanted, whole = self._open_height if on else high, sum(panes.sizes())
            panes.setSizes([whole - wanted, wanted])

    def _show_basis(self) -> None:
        self.basis.setVisible(bool(self.basis.text()) and self.fold.arrowType() == Qt.ArrowType.DownArrow)

    def _fit_columns(self) -> None:
        """As wide as their widest cell, found without asking every cell of a long route for its size.

        Where that is too wide for the pane the columns move closer together before they scroll.
        """
        marks = max((len(row.findings[:_MOST_MARKS]) for row in self.model.table.rows), default=0)
        widths = [int(mark_size() * _MARK_SHARE * 1.35 * max(1, marks)) + 10, *self._needed()]
        spread = (self.view.viewport().width() - sum(widths) - _LEAST_FILLER) // len(widths)
        for i, wide in enumerate(widths):
            self.view.setColumnWidth(i, wide + (max(_LEAST_SPREAD, min(spread, _MOST_SPREAD)) if i else 0))
        self.view.setColumnWidth(len(widths), _LEAST_FILLER)

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

    def _stepped(self, row: int) -> None:
        if self.model.is_leg(row):
            self._session.pick_leg(row)

    def _chosen(self, index: QModelIndex) -> None:
        picked = self._session.pick_now
        if not self.model.is_leg(index.row()) or (picked and picked.legs == (index.row(),)):
            self._session.pick(None)
        else:
            self._session.pick_leg(index.row())


def _row_height() -> int:
    return QFontMetrics(words()).height() + 5


def _align(*, figures: bool) -> Qt.AlignmentFlag:
    return _RIGHT if figures else _LEFT


def _spoken(row: LegRow) -> str:
    numbers = ", ".join(str(index + 1) for index in row.findings)
    return f"{row.weight.value} findings, number {numbers}" if row.weight else "no findings"
