"""The Margin: headline, counts, findings, what was not checked and why, what is never looked at."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

from PySide6.QtCore import QItemSelectionModel, QSize, Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHBoxLayout,
    QListView,
    QTextBrowser,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from routecheck.gui.margin.finding_actions import FindingActions
from routecheck.gui.margin.findings_list import FindingModel, FindingPainter, text_left
from routecheck.gui.margin.nearest_known import NearestKnownLine
from routecheck.gui.margin.verdict_bar import VerdictBar
from routecheck.gui.pane import NOT_CHECKED_YET, Pane
from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import WrappingLabel
from routecheck.gui.widgets.scrolling_part import ScrollingPart
from routecheck.model import NOT_LOOKED_AT

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from PySide6.QtCore import QModelIndex
    from PySide6.QtGui import QAction, QResizeEvent

    from routecheck.gui.margin.finding_actions import ButtonAction
    from routecheck.gui.route_text.correction_actions import CorrectionActions
    from routecheck.gui.session import Session
    from routecheck.gui.theme import Theme
    from routecheck.model import Assessment
    from routecheck.presentation.assessment_view import AssessmentView
    from routecheck.presentation.selection import Selection


_SIDE = 14
"""What is free beside all that stands in the column."""
_LOW_LINES = 36
"""In a column of fewer lines there is no room for more than the headline and the findings."""
_ABOUT_EARLIER_INPUT = "What stands below is about the input before."


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
        self.finding_model = FindingModel(self)
        self.row_painter = FindingPainter(self.finding_model, theme)
        self.setModel(self.finding_model)
        self.setItemDelegate(self.row_painter)
        self.list_buttons: Callable[[int], Sequence[ButtonAction]] = lambda _: ()
        self.corrections: CorrectionActions | None = None
        self.clicked.connect(self._toggle_selection)
        self.activated.connect(self._toggle_selection)

    def show_selection(self, selection: Selection | None) -> None:
        """Open the selected findings and bring the first into view."""
        rows = selection.findings if selection else ()
        closed = self.finding_model.open_rows - frozenset(rows)
        if self.finding_model.open_rows != frozenset(rows):
            self.finding_model.open_rows = frozenset(rows)
            self._lay_out_rows(closed)
        if rows:
            first = self.finding_model.index(rows[0])
            self.selectionModel().setCurrentIndex(first, QItemSelectionModel.SelectionFlag.ClearAndSelect)
            self.scrollTo(first, QAbstractItemView.ScrollHint.EnsureVisible)
        else:
            self.selectionModel().clear()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Wrap the sentences anew."""
        super().resizeEvent(event)
        self._lay_out_rows()

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        self._lay_out_rows()

    def refresh_trial(self) -> None:
        """Show in the open rows what is being tried."""
        for row in self.finding_model.open_rows:
            laid = self.indexWidget(self.finding_model.index(row))
            if isinstance(laid, FindingActions):
                laid.refresh_trial()
                self.row_painter.reserved_heights[row] = laid.height_needed(self.viewport().width())
        self.doItemsLayout()

    def _lay_out_rows(self, closed: Iterable[int] = ()) -> None:
        """Give every row the height it needs, and the open ones their buttons."""
        for row in closed:
            self.setIndexWidget(self.finding_model.index(row), None)  # type: ignore[arg-type]
        for row in self.finding_model.open_rows:
            laid = self._actions(row)
            if last := self.indexWidget(self.finding_model.index(row)):
                last.hide()  # Qt deletes it only when it comes to that
            self.row_painter.reserved_heights[row] = laid.height_needed(self.viewport().width())
            self.setIndexWidget(self.finding_model.index(row), laid)
        self.doItemsLayout()

    def _actions(self, row: int) -> FindingActions:
        top = self.row_painter.sentences_bottom(self.finding_model.index(row), self.viewport().width())
        proposals = self.corrections.proposals_for(row) if self.corrections else ()
        return FindingActions(self.list_buttons(row), round(text_left()), round(top), proposals, self.corrections)

    def _toggle_selection(self, index: QModelIndex) -> None:
        if index.row() in self.finding_model.open_rows and len(self.finding_model.open_rows) == 1:
            self._session.select(None)
        else:
            self._session.select_finding(index.row())


class Margin(Pane, QFrame):
    """The column beside the text."""

    go_to = ("Go to the fin&dings", "Ctrl+M")

    def __init__(self, session: Session, theme: Theme, previous: QAction, following: QAction) -> None:
        super().__init__()
        self.setObjectName("margin")
        self.headline, self.how_much, self.counts, self.outcomes = (WrappingLabel() for _ in range(4))
        self.verdict_bar = VerdictBar(theme)
        self.findings = FindingsView(session, theme)
        self.nearest = NearestKnownLine(lambda: self.findings.corrections)
        self.not_looked_at = WrappingLabel(f"Not looked at: {NOT_LOOKED_AT}.")
        self.not_looked_at.setObjectName("muted")
        self.outcomes.setObjectName("muted")
        self.reasons_toggle = QToolButton()
        self.reasons_toggle.setCheckable(True)
        self.reasons_toggle.setArrowType(Qt.ArrowType.RightArrow)
        self.reasons_toggle.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.reasons_toggle.hide()
        self.reasons_toggle.toggled.connect(self._unfold)
        self.reasons = QTextBrowser()
        self.reasons.setAccessibleName("Not checked, and why")
        self.reasons.document().setDocumentMargin(0)
        self.reasons.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.reasons.hide()
        self._reasons_shown: tuple[tuple[str, str], ...] = ()
        self._lay_out(previous, following)
        self.refresh_font()
        self.headline.setText(NOT_CHECKED_YET)
        session.assessed.connect(self.show_answer)
        session.selected.connect(self.findings.show_selection)

    def insert_above_findings(self, *boxes: QWidget) -> None:
        """Insert boxes between the lines about the whole route and the findings."""
        column = self.layout()
        assert isinstance(column, QVBoxLayout)
        column.insertLayout(column.indexOf(self.findings), _indent(ScrollingPart(boxes, column.spacing())))

    def set_theme(self, theme: Theme) -> None:
        """Use other colours."""
        self.findings.row_painter.theme = theme
        self.verdict_bar.set_theme(theme)
        self.findings.viewport().update()

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        self.setMinimumWidth(QFontMetrics(text_font()).averageCharWidth() * 36)
        self.headline.setFont(text_font(2.5, bold=True))
        self.how_much.setFont(text_font())
        self.counts.setFont(text_font())
        self.findings.refresh_font()
        self.nearest.refresh_font()
        smaller: tuple[QWidget, ...] = (self.outcomes, self.not_looked_at, self.reasons, self.reasons_toggle)
        for small in smaller:
            small.setFont(text_font(-1))
        self._share_height()

    def show_answer(self, answer: AssessmentView) -> None:
        """Show another answer."""
        self._release_heights()
        self.headline.setText(answer.headline.verdict_line)
        self.verdict_bar.show_verdict(answer.headline)
        _show_or_hide(self.how_much, answer.how_much)
        _show_or_hide(self.counts, answer.findings_line)
        self.outcomes.setText(answer.outcomes_line)
        self.nearest.show_route(answer.assessment.route)
        self.findings.finding_model.show_answer(answer)
        self.reasons_toggle.setText(answer.reasons_title)
        self.reasons_toggle.setVisible(bool(answer.reasons))
        self._reasons_shown = answer.reasons
        self._show_reasons()
        if not answer.reasons:
            self.reasons_toggle.setChecked(False)
        self._share_height()

    def take_focus(self) -> None:
        """Let the keyboard move among the findings."""
        self.findings.setFocus()

    def show_trial(self, _then: Assessment | None) -> None:
        """Show in the open rows what is being tried."""
        self.findings.refresh_trial()
        self.nearest.refresh_trial()

    def show_outdated(self) -> None:
        """Take the verdict away: what is listed is about an earlier input. Nothing moves until the next answer."""
        for label in self._lines():
            label.keep_height()
        self.headline.setText(NOT_CHECKED_YET)
        self.verdict_bar.show_verdict(None)
        self.how_much.clear()
        self.counts.setText(_ABOUT_EARLIER_INPUT)
        self.outcomes.clear()
        self.reasons_toggle.setEnabled(False)

    def show_nothing(self, why: str) -> None:
        """Say that nothing is checked, and why; show no finding of an earlier answer."""
        self._release_heights()
        self.headline.setText("Nothing checked")
        self.verdict_bar.show_verdict(None)
        _show_or_hide(self.counts, why)
        self.findings.finding_model.show_answer(None)
        self.nearest.show_route(None)
        self.outcomes.clear()
        self.reasons_toggle.setChecked(False)
        self.reasons_toggle.hide()
        self._share_height()
        _show_or_hide(self.how_much, "")

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Give the reasons the height they need at this width, up to a third of the column."""
        super().resizeEvent(event)
        self._fit_reasons()
        self._share_height()

    def _lines(self) -> tuple[WrappingLabel, ...]:
        """What is said of the whole route."""
        return self.headline, self.how_much, self.counts, self.outcomes

    def _release_heights(self) -> None:
        for label in self._lines():
            label.release_height()
        self.reasons_toggle.setEnabled(True)

    def _show_reasons(self) -> None:
        """Only where they are unfolded: typing must not wait for what nobody sees."""
        if self.reasons_toggle.isChecked():
            more = (self.outcomes.text(), self.not_looked_at.text()) if self._is_low else ()
            self.reasons.setHtml(_reasons_html(self._reasons_shown, more))
            self._fit_reasons()

    def _fit_reasons(self) -> None:
        """As high as they need at this width, up to a third of the column. Their own layout stays as it is."""
        if not self.reasons_toggle.isChecked():
            return
        needed = self.reasons.document().clone(self)
        needed.setTextWidth(max(60, self.width() - 2 * _SIDE - 2 * self.reasons.frameWidth()))
        self.reasons.setFixedHeight(int(min(needed.size().height() + 4, self.height() / 3)))
        needed.deleteLater()

    def _unfold(self, on: bool) -> None:
        self.reasons_toggle.setArrowType(Qt.ArrowType.DownArrow if on else Qt.ArrowType.RightArrow)
        self.reasons.setVisible(on)
        self._show_reasons()
        self._share_height()

    @property
    def _is_low(self) -> bool:
        """Whether there is no room for more than the headline and the findings."""
        return self.height() < _LOW_LINES * QFontMetrics(text_font()).lineSpacing()

    def _share_height(self) -> None:
        """In a low column the counts and what is not looked at stand under the reasons, and unfold with them."""
        is_folded_in = self._is_low and not self.reasons_toggle.isHidden()
        if is_folded_in != self.outcomes.isHidden():
            self.outcomes.setHidden(is_folded_in)
            self.not_looked_at.setHidden(is_folded_in)
            self._show_reasons()

    def _lay_out(self, previous: QAction, following: QAction) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 12, 0, 10)
        column.setSpacing(4)
        verdict = QHBoxLayout()
        verdict.setContentsMargins(_SIDE, 0, _SIDE, 0)
        verdict.setSpacing(8)
        verdict.addWidget(self.verdict_bar)
        verdict.addWidget(self.headline, 1)
        column.addLayout(verdict)
        over: tuple[QWidget, ...] = (self.how_much, self.counts, self.nearest)
        for above in over:
            column.addLayout(_indent(above))
        column.addSpacing(4)
        column.addWidget(self.findings, 1)
        for widget in (self.outcomes, self.reasons_toggle, self.reasons, self.not_looked_at):
            column.addLayout(_indent(widget))
        steps = QHBoxLayout()
        steps.setContentsMargins(_SIDE, 4, _SIDE, 0)
        for action in (previous, following):
            button = QToolButton()
            button.setDefaultAction(action)
            steps.addWidget(button)
        steps.addStretch()
        column.addLayout(steps)

    def sizeHint(self) -> QSize:  # noqa: N802
        """A column that holds a sentence in three lines."""
        return QSize(QFontMetrics(text_font()).averageCharWidth() * 56, 400)


def _show_or_hide(label: WrappingLabel, text: str) -> None:
    label.setText(text)
    label.setVisible(bool(text))


def _reasons_html(reasons: tuple[tuple[str, str], ...], more: Iterable[str]) -> str:
    lines = [f"<b>{escape(check)}</b>: {escape(why)}" for check, why in reasons] + [escape(line) for line in more]
    return "".join(f"<p style='margin: 0 0 5px 0'>{line}</p>" for line in lines)


def _indent(widget: QWidget) -> QHBoxLayout:
    row = QHBoxLayout()
    row.setContentsMargins(_SIDE, 0, _SIDE, 0)
    row.addWidget(widget, 0, Qt.AlignmentFlag.AlignLeft if isinstance(widget, QToolButton) else Qt.AlignmentFlag(0))
    return row
