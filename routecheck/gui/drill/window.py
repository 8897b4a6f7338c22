"""The drill: one route at a time, the clock running; then the truth, what the tool finds, and why people err so."""

from __future__ import annotations

import time
from itertools import pairwise
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtWidgets import (
    QDialog,
    QFrame,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from routecheck.drill.class_overview import minutes_and_seconds
from routecheck.drill.marking import WHOLE
from routecheck.drill.progress import Draft
from routecheck.drill.truth import tell_truth
from routecheck.gui.drill.marks_view import MarksView
from routecheck.gui.drill.question import Question
from routecheck.gui.drill.tool_view import Draw, ToolView
from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import PlainLabel, WrappingLabel
from routecheck.model import CAUTION

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtGui import QCloseEvent, QKeyEvent

    from routecheck.drill.cases import DrillCase
    from routecheck.drill.marking import Mark, TraineeAnswer
    from routecheck.drill.progress import DrillInHand
    from routecheck.model import Assessment, RouteInput

_TICK_MS = 500
_KEEP_MS = 400


class DrillWindow(QDialog):
    """A trainee's drill. `assess` gives the answer of the tool about a route, `draw` its picture."""

    changed = Signal()
    """Something was answered, revealed or typed: what is in hand is to be kept."""
    ended = Signal()
    """The last route was answered."""
    renamed = Signal()
    """The trainee has another name: where the drill is in a class list, it is there too."""
    forget_wanted = Signal()

    def __init__(
        self,
        parent: QWidget | None,
        drill: DrillInHand,
        assess: Callable[[RouteInput], Assessment],
        draw: Draw,
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowFlag(Qt.WindowType.WindowMaximizeButtonHint)
        self.setWindowTitle(f"Drill: {drill.about}" if drill.about else "Drill")
        self.drill, self._assess = drill, assess
        self._since = time.monotonic()
        self.head, self.ends = PlainLabel(), PlainLabel()
        self.name = _NameField(drill.trainee)
        self.name.setPlaceholderText("your name; it stays on this computer")
        self.question, self.tool = Question(), ToolView(assess, draw)
        self.score, self.truth = WrappingLabel(), WrappingLabel()
        self.marks_view = MarksView()
        self.next_button, self.forget_button = QPushButton("&Next route"), QPushButton("Forget this &drill…")
        self._clock = QTimer(self, interval=_TICK_MS)
        self._keep_soon = QTimer(self, interval=_KEEP_MS, singleShot=True)
        self._lay_out()
        self._connect()
        self._clock.start()
        self._ask()

    def done(self, result: int) -> None:
        """Escape closes it as the button of the window does."""
        self._keep()
        super().done(result)

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802
        """Keep what was said: it can be gone on with later."""
        self._keep()
        super().closeEvent(event)

    def stop_keeping(self) -> None:
        """Keep nothing from now on: the drill is forgotten."""
        self._clock.stop()
        self._keep_soon.stop()
        self.changed.disconnect()

    def _lay_out(self) -> None:
        self.ends.setFont(text_font(3, bold=True))
        self.score.setFont(text_font(1, bold=True))
        self.head.setFont(text_font(bold=True))
        self.truth.setObjectName("truth")
        for button in (self.next_button, self.forget_button):
            button.setAutoDefault(False)
        self.next_button.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        self.question.answer_button.setDefault(True)
        self.split = QSplitter(Qt.Orientation.Horizontal)
        self.split.setChildrenCollapsible(False)
        self.route_view = _scrolled(self.ends, self.score, self.truth, self.question)
        left, column = QWidget(), QVBoxLayout()
        left.setLayout(column)
        column.setContentsMargins(0, 0, 0, 0)
        for part in (self.route_view, self.question.fields, self.next_button):
            column.addWidget(part)
        self.split.addWidget(left)
        self.split.addWidget(_scrolled(self.tool))
        self.split.setSizes([5500, 4500])  # shares: Qt fits them into the room
        top, bottom, whole = QHBoxLayout(), QHBoxLayout(), QVBoxLayout(self)
        top.addWidget(self.head, 1)
        top.addWidget(PlainLabel("Name"))
        top.addWidget(self.name, 1)
        caution = PlainLabel(f"For training. {CAUTION}")
        caution.setFont(text_font(bold=True))
        bottom.addWidget(caution, 1)
        bottom.addWidget(self.forget_button)
        whole.addLayout(top)
        whole.addWidget(self.marks_view, 1)
        whole.addWidget(self.split, 2)
        whole.addLayout(bottom)
        wanted = QSize(self.fontMetrics().averageCharWidth() * 150, self.fontMetrics().height() * 44)
        self.resize(wanted.boundedTo(self.screen().availableSize()))

    def _connect(self) -> None:
        self._clock.timeout.connect(self._show_head)
        self._keep_soon.timeout.connect(self.changed)
        self.question.answered.connect(self._take_answer)
        self.question.changed.connect(self._take_draft)
        self.next_button.clicked.connect(self._ask)
        self.tool.revealed.connect(self._take_reveal)
        self.forget_button.clicked.connect(self.forget_wanted)
        self.name.textEdited.connect(self._take_name)
        self.name.editingFinished.connect(self.renamed)
        self.marks_view.chosen.connect(self._show_again)

    def _ask(self) -> None:
        """Show the next route, or what came of all of them."""
        self.truth.setText("")
        self.truth.hide()
        self.score.hide()
        self.next_button.hide()
        case = self.drill.case
        self.question.setVisible(case is not None)
        self.question.fields.setVisible(case is not None)
        self.marks_view.setVisible(case is None)
        self.forget_button.setVisible(case is not None)
        self._show_head()
        if case is None:
            self.ends.hide()
            self.tool.clear()
            self.marks_view.show_marks(self.drill.marks)
            return
        self._since = time.monotonic()
        self._show_ends(case)
        self.question.ask(case, self.drill.draft)
        self._order_fields()
        self.question.entry.setFocus()
        self.tool.show_case(case, self.drill.revealed)

    def _order_fields(self) -> None:
        """The order of the tabulator: what is wrong, the answer, what the tool shows, the rest."""
        asked, tool = self.question, self.tool
        order = asked.entry, asked.kind, asked.correction, asked.answer_button, self.next_button
        rest = tool.picture_button, tool.figures_button, self.name, self.forget_button
        for first, second in pairwise((*order, *rest)):
            QWidget.setTabOrder(first, second)

    def _show_ends(self, case: DrillCase) -> None:
        self.ends.setText(f"{case.name}  {case.ends}")
        self.ends.show()

    def _take_answer(self, given: TraineeAnswer) -> None:
        case = self.drill.case
        assert case is not None
        self._count_time()
        mark = self.drill.answer(given)
        self.question.open_for_answer(False)
        self.question.fields.hide()
        self.tool.show_all()
        self._show_truth(mark)
        self.next_button.setText("&Next route" if self.drill.case else "&Next: the marks")
        self.next_button.show()
        self.next_button.setDefault(True)
        self.next_button.setFocus()
        if self.drill.case is None:
            self.ended.emit()
        self.changed.emit()

    def _show_truth(self, mark: Mark) -> None:
        self.score.setText(_describe_mark(mark))
        self.truth.setText("\n\n".join(tell_truth(mark.case, self._assess).paragraphs))
        self.score.show()
        self.truth.show()
        self.route_view.verticalScrollBar().setValue(0)

    def _show_again(self, number: int) -> None:
        """At the end: the truth of a route once more, with all that the tool shows."""
        mark = self.drill.marks[number]
        self._show_ends(mark.case)
        self._show_truth(mark)
        self.question.ask(mark.case, Draft())
        self.question.open_for_answer(False)
        self.question.show()
        self.tool.show_case(mark.case, ())
        self.tool.show_all()

    def _take_draft(self) -> None:
        if not self._is_asking():
            return
        self.drill.draft = self.question.draft()
        self._keep_soon.start()

    def _take_reveal(self, name: str) -> None:
        self.drill.revealed.append(name)
        self.changed.emit()

    def _take_name(self, name: str) -> None:
        self.drill.name_trainee(name)
        self._keep_soon.start()

    def _keep(self) -> None:
        self._count_time()
        self._keep_soon.stop()
        self.changed.emit()

    def _show_head(self) -> None:
        self._count_time()
        number = len(self.drill.answers) + self._is_asking()
        self.head.setText(
            f"Route {number} of {len(self.drill.cases)} · {minutes_and_seconds(self.drill.whole_seconds)}"
        )

    def _is_asking(self) -> bool:
        return self.drill.case is not None and self.next_button.isHidden()

    def _count_time(self) -> None:
        """Time runs while a route is asked, not while its truth is read."""
        now = time.monotonic()
        if self._is_asking():
            self.drill.seconds += now - self._since
        self._since = now


class _NameField(QLineEdit):
    """Enter ends the name; it answers nothing."""

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Go on to the next field with Enter."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.focusNextChild()
        else:
            super().keyPressEvent(event)


def _scrolled(*parts: QWidget) -> QScrollArea:
    inside = QWidget()
    column = QVBoxLayout(inside)
    for part in parts:
        column.addWidget(part)
    column.addStretch()
    scroll = QScrollArea()
    scroll.setFrameShape(QFrame.Shape.NoFrame)
    scroll.setWidget(inside)
    scroll.setWidgetResizable(True)
    return scroll


def _describe_mark(mark: Mark) -> str:
    line = f"{mark.total} of {WHOLE}: place {mark.place}, kind {mark.kind}, correction {mark.correction}"
    return f"{line}, reveals −{mark.reveals}" if mark.reveals else line
