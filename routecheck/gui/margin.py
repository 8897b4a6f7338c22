"""The Margin: headline, counts, findings, what was not checked and why, what is never looked at. It only renders."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QItemSelectionModel, QSize, Qt
from PySide6.QtGui import QGuiApplication, QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHBoxLayout,
    QLabel,
    QListView,
    QTextBrowser,
    QToolButton,
    QVBoxLayout,
)

from routecheck.gui.findings_list import FindingModel, FindingPainter
from routecheck.gui.theme import words
from routecheck.model import NOT_LOOKED_AT

if TYPE_CHECKING:
    from PySide6.QtCore import QModelIndex
    from PySide6.QtGui import QAction, QResizeEvent

    from routecheck.gui.session import Answer, Session
    from routecheck.gui.theme import Theme
    from routecheck.present.picks import Pick


class FindingsView(QListView):
    """The findings, one under the other; rows wrap, Enter and a click open one."""

    def __init__(self, session: Session, theme: Theme) -> None:
        super().__init__()
        self._session = session
        self.setAccessibleName("Findings")
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.rows = FindingModel(self)
        self.painter_of_rows = FindingPainter(self.rows, theme)
        self.setModel(self.rows)
        self.setItemDelegate(self.painter_of_rows)
        self.clicked.connect(self._chosen)
        self.activated.connect(self._chosen)
        QShortcut(QKeySequence.StandardKey.Copy, self, self._copy, context=Qt.ShortcutContext.WidgetShortcut)

    def show_pick(self, pick: Pick | None) -> None:
        """Open the picked findings and bring the first into view."""
        rows = pick.findings if pick else ()
        self.rows.open_rows(rows)
        self.doItemsLayout()
        if rows:
            first = self.rows.index(rows[0])
            self.selectionModel().setCurrentIndex(first, QItemSelectionModel.SelectionFlag.ClearAndSelect)
            self.scrollTo(first, QAbstractItemView.ScrollHint.EnsureVisible)
        else:
            self.selectionModel().clear()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Wrap the sentences anew."""
        super().resizeEvent(event)
        self.doItemsLayout()

    def _chosen(self, index: QModelIndex) -> None:
        if index.row() in self.rows.opened and len(self.rows.opened) == 1:
            self._session.pick(None)
        else:
            self._session.pick_finding(index.row())

    def _copy(self) -> None:
        if self.currentIndex().isValid():
            QGuiApplication.clipboard().setText(str(self.currentIndex().data()))


class Margin(QFrame):
    """The column beside the text."""

    def __init__(self, session: Session, theme: Theme, previous: QAction, following: QAction) -> None:
        super().__init__()
        self.setObjectName("margin")
        self.setMinimumWidth(240)
        self.headline, self.weights, self.counts = (_wrapping() for _ in range(3))
        self.findings = FindingsView(session, theme)
        self.not_looked_at = _wrapping(f"Not looked at: {NOT_LOOKED_AT}.")
        self.not_looked_at.setObjectName("muted")
        self.counts.setObjectName("muted")
        self.unchecked = QToolButton(checkable=True, arrowType=Qt.ArrowType.RightArrow)
        self.unchecked.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.unchecked.toggled.connect(self._unfold)
        self.reasons = QTextBrowser()
        self.reasons.setAccessibleName("Not checked, and why")
        self.reasons.setMaximumHeight(220)
        self.reasons.hide()
        self._lay_out(previous, following)
        self.refresh_font()
        session.assessed.connect(self.show_answer)
        session.picked.connect(self.findings.show_pick)

    def set_theme(self, theme: Theme) -> None:
        """Use other colours."""
        self.findings.painter_of_rows.theme = theme
        self.findings.viewport().update()

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        self.headline.setFont(words(2.5, bold=True))
        self.weights.setFont(words())
        for small in (self.counts, self.not_looked_at, self.reasons, self.unchecked):
            small.setFont(words(-1))

    def show_answer(self, answer: Answer) -> None:
        """Show another assessment."""
        said = answer.said
        self.headline.setText(said.headline)
        self.weights.setText(said.weights)
        self.counts.setText(said.counts)
        self.findings.rows.show(answer.assessment.findings)
        self.unchecked.setText(said.unchecked)
        self.unchecked.setEnabled(bool(said.reasons))
        self.reasons.setPlainText("\n".join(said.reasons))
        if not said.reasons:
            self.unchecked.setChecked(False)

    def _unfold(self, on: bool) -> None:  # noqa: FBT001
        self.unchecked.setArrowType(Qt.ArrowType.DownArrow if on else Qt.ArrowType.RightArrow)
        self.reasons.setVisible(on)

    def _lay_out(self, previous: QAction, following: QAction) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 12, 0, 10)
        column.setSpacing(4)
        for widget in (self.headline, self.weights):
            column.addLayout(_indented(widget))
        column.addSpacing(4)
        column.addWidget(self.findings, 1)
        for widget in (self.counts, self.unchecked, self.reasons, self.not_looked_at):
            column.addLayout(_indented(widget))
        steps = QHBoxLayout()
        steps.setContentsMargins(14, 4, 14, 0)
        for action in (previous, following):
            button = QToolButton()
            button.setDefaultAction(action)
            steps.addWidget(button)
        steps.addStretch()
        column.addLayout(steps)

    def sizeHint(self) -> QSize:  # noqa: N802
        """A column that holds a sentence in three lines."""
        return QSize(self.fontMetrics().averageCharWidth() * 52, 400)


def _wrapping(text: str = "") -> QLabel:
    label = QLabel(text)
    label.setWordWrap(True)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return label


def _indented(widget: QLabel | QToolButton | QTextBrowser) -> QHBoxLayout:
    row = QHBoxLayout()
    row.setContentsMargins(14, 0, 14, 0)
    row.addWidget(widget)
    return row
