"""The drill: one route at a time, the clock running; then the truth, what the tool finds, and why people err so."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import QDialog, QHBoxLayout, QLineEdit, QPushButton, QScrollArea, QVBoxLayout, QWidget

from routecheck.drill.marking import REVEAL, WHOLE
from routecheck.drill.truth import tell_truth
from routecheck.formatting import count
from routecheck.gui.drill.question import Question
from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import PlainLabel, WrappingLabel
from routecheck.model import CAUTION

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtGui import QCloseEvent

    from routecheck.drill.marking import Mark, TraineeAnswer
    from routecheck.drill.progress import DrillInHand
    from routecheck.model import Assessment, RouteInput

_TICK_MS = 500


class DrillWindow(QDialog):
    """A trainee's drill. `assess` gives the answer of the tool about a route."""

    changed = Signal()
    """Something was answered, or the name was typed: what is in hand is to be kept."""
    forget_wanted = Signal()

    def __init__(
        self,
        parent: QWidget | None,
        drill: DrillInHand,
        assess: Callable[[RouteInput], Assessment],
        draw: Callable[[Assessment], bytes],
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Drill")
        self.drill, self._assess, self._draw = drill, assess, draw
        self._reveals, self._since = 0, time.monotonic()
        self.head, self.ends = PlainLabel(), PlainLabel()
        self.name = QLineEdit(drill.trainee)
        self.name.setPlaceholderText("your name; it stays on this computer")
        self.question, self.truth = Question(), WrappingLabel()
        self.picture, self.figures = PlainLabel(), WrappingLabel()
        self.picture_button = QPushButton(f"Show the &Picture (−{REVEAL})")
        self.figures_button = QPushButton(f"Show the &figures (−{REVEAL})")
        self.next_button, self.forget_button = QPushButton("&Next route"), QPushButton("Forget this &drill")
        self._clock = QTimer(self, interval=_TICK_MS)
        self._lay_out()
        self._connect()
        self._clock.start()
        self._ask()

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802
        """Keep what was said: it can be gone on with later."""
        self._count_time()
        self.changed.emit()
        super().closeEvent(event)

    def _lay_out(self) -> None:
        self.ends.setFont(text_font(3, bold=True))
        self.truth.setObjectName("truth")
        inside = QWidget()
        column = QVBoxLayout(inside)
        reveals = QHBoxLayout()
        for button in (self.picture_button, self.figures_button):
            reveals.addWidget(button)
        reveals.addStretch()
        for part in (self.ends, self.question, self.truth, self.next_button):
            column.addWidget(part)
        column.addLayout(reveals)
        column.addWidget(self.picture)
        column.addWidget(self.figures)
        column.addStretch()
        scroll = QScrollArea()
        scroll.setWidget(inside)
        scroll.setWidgetResizable(True)
        top = QHBoxLayout()
        top.addWidget(self.head, 1)
        top.addWidget(self.name)
        bottom = QHBoxLayout()
        caution = PlainLabel(f"For training. {CAUTION}")
        caution.setFont(text_font(bold=True))
        bottom.addWidget(caution, 1)
        bottom.addWidget(self.forget_button)
        whole = QVBoxLayout(self)
        whole.addLayout(top)
        whole.addWidget(scroll, 1)
        whole.addLayout(bottom)
        self.resize(self.fontMetrics().averageCharWidth() * 120, self.fontMetrics().height() * 42)

    def _connect(self) -> None:
        self._clock.timeout.connect(self._show_head)
        self.question.answered.connect(self._take_answer)
        self.next_button.clicked.connect(self._ask)
        self.picture_button.clicked.connect(self._reveal_picture)
        self.figures_button.clicked.connect(self._reveal_figures)
        self.forget_button.clicked.connect(self.forget_wanted)
        self.name.textEdited.connect(self._take_name)

    def _ask(self) -> None:
        """Show the next route, or what came of all of them."""
        self._reveals = 0
        self.truth.setText("")
        self.picture.clear()
        self.figures.setText("")
        self.next_button.hide()
        case = self.drill.case
        for part in (self.question, self.picture_button, self.figures_button):
            part.setVisible(case is not None)
            part.setEnabled(True)
        self._show_head()
        if case is None:
            self._show_end()
            return
        self.ends.setText(f"{case.departure}–{case.destination}")
        self.question.ask(case)

    def _take_answer(self, given: TraineeAnswer) -> None:
        case = self.drill.case
        assert case is not None
        mark = self.drill.answer(given._replace(reveals=self._reveals))
        self.question.setEnabled(False)
        self.picture_button.setEnabled(False)
        self.figures_button.setEnabled(False)
        self.truth.setText("\n".join([_describe_mark(mark), *tell_truth(case, self._assess).lines]))
        self.next_button.show()
        self.next_button.setFocus()
        self.changed.emit()

    def _reveal_picture(self) -> None:
        self._reveals += 1
        self.picture_button.setEnabled(False)
        pixmap = QPixmap()
        pixmap.loadFromData(self._draw(self._assess_case()))
        self.picture.setPixmap(pixmap.scaledToWidth(min(pixmap.width(), self.width() - 60), _SMOOTH))

    def _reveal_figures(self) -> None:
        from routecheck.presentation.headline import totals_line
        from routecheck.presentation.leg_table import leg_csv

        self._reveals += 1
        self.figures_button.setEnabled(False)
        answer = self._assess_case()
        rows = [line.replace(",", "  ") for line in leg_csv(answer).splitlines()]
        self.figures.setText("\n".join([totals_line(answer), *rows]))

    def _assess_case(self) -> Assessment:
        case = self.drill.case
        assert case is not None
        return self._assess(case.as_entered())

    def _take_name(self, name: str) -> None:
        self.drill.trainee = name.strip()
        self.drill.answers = [one._replace(trainee=self.drill.trainee) for one in self.drill.answers]
        self.changed.emit()

    def _show_head(self) -> None:
        self._count_time()
        number = min(len(self.drill.answers) + self.question.isEnabled(), len(self.drill.cases))
        minutes, seconds = divmod(int(self.drill.seconds), 60)
        self.head.setText(f"Route {number} of {len(self.drill.cases)} · {minutes}:{seconds:02d}")

    def _count_time(self) -> None:
        now = time.monotonic()
        if self.drill.case is not None:
            self.drill.seconds += now - self._since
        self._since = now

    def _show_end(self) -> None:
        marks = self.drill.marks
        average = sum(mark.total for mark in marks) / len(marks)
        alarms = count(sum(mark.is_false_alarm for mark in marks), "false alarm")
        self.ends.setText("The end of the drill")
        lines = [f"{average:.0f} of {WHOLE} on average, {alarms}."]
        lines += [f"{mark.case.name}: {mark.total}, {mark.case.kind}" for mark in marks]
        self.truth.setText("\n".join(lines))


_SMOOTH = Qt.TransformationMode.SmoothTransformation


def _describe_mark(mark: Mark) -> str:
    line = f"{mark.total} of {WHOLE}: place {mark.place}, kind {mark.kind}, correction {mark.correction}"
    return f"{line}, reveals −{mark.reveals}" if mark.reveals else line
