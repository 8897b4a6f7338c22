"""The Route text: the pane where a route is typed and findings underline its words."""

from __future__ import annotations

import math
from contextlib import contextmanager
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QPainter,
    QPainterPath,
    QPen,
    QTextBlockFormat,
    QTextCharFormat,
    QTextCursor,
    QTextOption,
)
from PySide6.QtWidgets import QSizePolicy, QTextEdit, QToolTip

from routecheck.frozen_dataclass import dataclass
from routecheck.gui.input_bounds import LONGEST_PASTE, LONGEST_TEXT, describe_too_long
from routecheck.gui.open_files import is_more_than_a_route
from routecheck.gui.pane import Pane
from routecheck.gui.route_text.name_completer import NameCompleter
from routecheck.gui.theme import blend_colours, fixed_font
from routecheck.gui.widgets.finding_badges import badge_size, paint_badge
from routecheck.gui.widgets.labels import plain_tooltip
from routecheck.gui.widgets.utf16_offsets import from_qt, to_qt
from routecheck.model import Span, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from PySide6.QtCore import QMimeData
    from PySide6.QtGui import QHelpEvent, QKeyEvent, QMouseEvent, QPaintEvent, QResizeEvent

    from routecheck.gui.session import Session
    from routecheck.gui.theme import Theme
    from routecheck.model import Finding

_LINE_SHARE = 160.0
_MARGIN = 8.0
_BADGE_SHARE = 0.8
_LEAST_LINES, _MOST_LINES = 2, 6
_UNDER_LAST = 6
"""The space that line spacing adds beneath the last line."""
_MOVES = (Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_Home, Qt.Key.Key_End)


@dataclass(frozen=True, slots=True)
class Underline:
    """An underlined stretch of the text. `first` = the badge of the finding stands here."""

    cursor: QTextCursor
    index: int
    weight: Weight
    message: str
    first: bool


class RouteText(Pane, QTextEdit):
    """A roomy typewriter pane; plain text only, undo and redo as in any editor."""

    typed = Signal(str)
    word_selected = Signal(object)
    """The Span at the cursor, in offsets of the model."""
    file_dropped = Signal(str)
    refused = Signal(str)
    """A sentence: why a text was not pasted."""
    plan_pasted = Signal(str)
    """A text that may have more than a route in it: a message, a table, a page; or is too long for a route."""
    go_to = ("Go to the route &text", "Ctrl+L")

    def __init__(self, session: Session, theme: Theme) -> None:
        super().__init__()
        self.setObjectName("routeText")
        self.setAccessibleName("Route text")
        self.setAcceptRichText(False)
        self.setTabChangesFocus(True)
        self.setWordWrapMode(QTextOption.WrapMode.WrapAtWordBoundaryOrAnywhere)
        self.setPlaceholderText("Type or paste a route")
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.document().setDocumentMargin(_MARGIN)
        self._theme = theme
        self.underlines: list[Underline] = []
        self.accepted: frozenset[int] = frozenset()
        self._text = ""
        self._selected: tuple[Span, ...] = ()
        self._changed: tuple[Span, ...] = ()
        self._is_setting_text = False
        self._most_height = math.inf
        self.is_wholly_replaced = False
        """Whether what is being pasted or typed takes the place of a whole text."""
        self.completer = NameCompleter(self, session)
        self.refresh_font()
        self.textChanged.connect(self._report_typing)
        self.document().documentLayout().documentSizeChanged.connect(self._fit_height)

    def take_focus(self) -> None:
        """Let the keyboard type here."""
        self.setFocus()

    def limit_height(self, most: float) -> None:
        """Scroll a text that is higher than this, in pixels."""
        self._most_height = most
        self._fit_height()

    def show_nothing(self, _why: str) -> None:
        """Mark no word."""
        self.mark_findings()

    def refresh_font(self) -> None:
        """Take the system's text size (again). The text is only set anew where it is another: its marks would slip."""
        if self.font() == fixed_font(4):
            return
        marks = [(u, u.cursor.selectionStart(), u.cursor.selectionEnd()) for u in self.underlines]
        self.setFont(fixed_font(4))
        self.viewport().setFont(fixed_font(4))  # Qt writes there what stands in an empty field, and keeps the old size
        self.completer.refresh_font()
        self.set_route(self.toPlainText())
        for underline, start, end in marks:
            underline.cursor.setPosition(start)
            underline.cursor.setPosition(end, QTextCursor.MoveMode.KeepAnchor)
        self._tint()

    def set_theme(self, theme: Theme) -> None:
        """Use other colours."""
        self._theme = theme
        self.viewport().update()

    def set_route(self, text: str) -> None:
        """Show another text; undo does not reach back beyond it."""
        self._is_setting_text = True
        self.setPlainText(text)
        self._space_lines()
        self.document().clearUndoRedoStacks()
        self._text = self.toPlainText()
        self._is_setting_text = False
        self._fit_height()

    def mark_findings(self, findings: tuple[Finding, ...] = (), accepted: frozenset[int] = frozenset()) -> None:
        """Underline the words of findings: wavy for Doubtful, solid for Wrong, dotted for a Note."""
        self.accepted = accepted
        self.underlines = [
            Underline(self._cursor(span), i, finding.weight, finding.message, first=span == finding.spans[0])
            for i, finding in enumerate(findings)
            for span in finding.spans
        ]
        self.viewport().update()

    def show_selected(self, spans: tuple[Span, ...]) -> None:
        """Tint the selected words and bring the first into view."""
        self._selected = spans
        self._tint()
        if spans and not self.hasFocus():
            self._reveal(self._cursor(spans[0]))

    def show_changed(self, spans: tuple[Span, ...]) -> None:
        """Tint the words that were changed here."""
        self._changed = spans
        self._tint()

    def replace_stretch(self, span: Span, new: str) -> None:
        """Write something else in place of a stretch, in one step for undo."""
        cursor = self._cursor(span)
        cursor.beginEditBlock()
        cursor.insertText(new)
        cursor.endEditBlock()

    def clear_text(self) -> None:
        """Take the whole text away, in one step for undo. Reports it also where there was none."""
        if self._text:
            self.replace_stretch(Span(0, len(self._text)), "")
        else:
            self.typed.emit("")

    @contextmanager
    def _noting_replacement(self) -> Iterator[None]:
        """Note whether all of a text is selected, so that what comes now takes its place."""
        selected = self.textCursor().selectedText().split()
        self.is_wholly_replaced = bool(selected) and selected == self._text.split()
        try:
            yield
        finally:
            self.is_wholly_replaced = False

    def _tint(self) -> None:
        chosen = []
        for spans, colour in (
            (self._changed, blend_colours(self._theme.changed, self._theme.pane, 0.4)),
            (self._selected, self._theme.selected),
        ):
            tint = QTextCharFormat()
            tint.setBackground(QColor(colour))
            for span in spans:
                selection = QTextEdit.ExtraSelection()
                selection.cursor, selection.format = self._cursor(span), tint
                chosen.append(selection)
        self.setExtraSelections(chosen)

    def paintEvent(self, event: QPaintEvent) -> None:  # noqa: N802
        """Paint the text, then the underlines and marks over it."""
        super().paintEvent(event)
        painter = QPainter(self.viewport())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(self.font())
        taken: dict[tuple[int, int], int] = {}
        seen = self._underlines_in_view()
        for line in reversed(seen):
            self._paint_underline(painter, line)
        for line in seen:
            if line.first:
                self._paint_badge(painter, line, taken)
        painter.end()

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Adapt the height to the new width."""
        super().resizeEvent(event)
        self._fit_height()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802
        """Select the word that was clicked."""
        super().mouseReleaseEvent(event)
        self._report_word()

    def keyPressEvent(self, event: QKeyEvent) -> None:  # noqa: N802
        """Select the word that the cursor is moved to; typing selects nothing."""
        with self._noting_replacement():
            super().keyPressEvent(event)
        if event.key() in _MOVES:
            self._report_word()

    def event(self, event: QEvent) -> bool:
        """Show the sentences of the findings at the mouse."""
        if event.type() == QEvent.Type.ToolTip:
            return self._show_tooltip(event)  # type: ignore[arg-type]
        return super().event(event)

    def sizeHint(self) -> QSize:  # noqa: N802
        """As tall as the text, up to some lines."""
        return QSize(400, self._height())

    def canInsertFromMimeData(self, source: QMimeData) -> bool:  # noqa: N802
        """Take text and files."""
        return source.hasUrls() or super().canInsertFromMimeData(source)

    def insertFromMimeData(self, source: QMimeData) -> None:  # noqa: N802
        """Open a dropped or pasted file; insert text as plain text."""
        paths = [url.toLocalFile() for url in source.urls() if url.isLocalFile()]
        if paths:
            self.file_dropped.emit(paths[0])
        else:
            self._paste(source.text())

    def _paste(self, text: str) -> None:
        """Insert a text, hand on one that is more than a route, or say that it is too long: never a part of it."""
        length = len(text) + len(self._text) - len(self.textCursor().selectedText())
        if len(text) > LONGEST_PASTE:
            self.refused.emit(f"Nothing was pasted. {describe_too_long(text)}.")
        elif len(text) > LONGEST_TEXT or is_more_than_a_route(text):
            self.plan_pasted.emit(text)
        elif length <= LONGEST_TEXT:
            with self._noting_replacement():
                self.insertPlainText(text)
        else:
            self.refused.emit(f"Nothing was pasted. {describe_too_long(text)}.")

    def _report_typing(self) -> None:
        text = self.toPlainText()
        if not self._is_setting_text and text != self._text:
            self._text = text
            self.typed.emit(text)

    def _report_word(self) -> None:
        cursor = self.textCursor()
        if cursor.hasSelection():
            return
        at = from_qt(self._text, cursor.position())
        behind_word = at > 0 and not self._text[at : at + 1].strip()
        self.word_selected.emit(Span(at - 1, at) if behind_word else Span(at, at + 1))

    def _space_lines(self) -> None:
        spaced = QTextBlockFormat()
        spaced.setLineHeight(_LINE_SHARE, QTextBlockFormat.LineHeightTypes.ProportionalHeight.value)
        cursor = QTextCursor(self.document())
        cursor.select(QTextCursor.SelectionType.Document)
        cursor.mergeBlockFormat(spaced)
        whole = self.document().rootFrame().frameFormat()
        whole.setTopMargin(_badge_room())
        self.document().rootFrame().setFrameFormat(whole)

    def _cursor(self, span: Span) -> QTextCursor:
        cursor = QTextCursor(self.document())
        last = max(0, self.document().characterCount() - 1)
        cursor.setPosition(min(last, to_qt(self._text, span.start)))
        cursor.setPosition(min(last, to_qt(self._text, span.end)), QTextCursor.MoveMode.KeepAnchor)
        return cursor

    def _reveal(self, cursor: QTextCursor) -> None:
        spot = self._rect(cursor.selectionStart())
        bar = self.verticalScrollBar()
        if not self.viewport().rect().contains(spot.center().toPoint()):
            bar.setValue(bar.value() + int(spot.top()) - self.viewport().height() // 3)

    def _rect(self, position: int) -> QRectF:
        cursor = QTextCursor(self.document())
        cursor.setPosition(position)
        return QRectF(self.cursorRect(cursor))

    def _line_pieces(self, cursor: QTextCursor) -> list[tuple[float, float, float]]:
        """Left end, right end and bottom of a stretch, one for each line of text."""
        start, end = cursor.selectionStart(), cursor.selectionEnd()
        first, last = self._rect(start), self._rect(end)
        if abs(first.bottom() - last.bottom()) < 1:
            return [(first.left(), last.left(), first.bottom())]
        right = float(self.viewport().width()) - self.document().documentMargin()
        left = self.document().documentMargin()
        return [(first.left(), right, first.bottom()), (left, last.left(), last.bottom())]

    def _underlines_in_view(self) -> list[Underline]:
        corner = self.viewport().rect().bottomRight()
        first, last = self.cursorForPosition(QPoint(0, 0)).position(), self.cursorForPosition(corner).position()
        return [u for u in self.underlines if u.cursor.selectionEnd() >= first and u.cursor.selectionStart() <= last]

    def _paint_underline(self, painter: QPainter, line: Underline) -> None:
        for left, right, bottom in self._line_pieces(line.cursor):
            y = bottom + 1.5
            colour = self._theme.weight(line.weight)
            if line.weight is Weight.DOUBTFUL:
                painter.setPen(QPen(colour, 1.6))
                painter.drawPath(_wavy_path(left, right, y))
                continue
            pen = QPen(colour, 2.2 if line.weight is Weight.WRONG else 1.4)
            if line.weight is Weight.NOTE:
                pen.setStyle(Qt.PenStyle.DotLine)
            painter.setPen(pen)
            painter.drawLine(QPointF(left, y), QPointF(right, y))

    def _paint_badge(self, painter: QPainter, line: Underline, taken: dict[tuple[int, int], int]) -> None:
        spot = self._rect(line.cursor.selectionStart())
        key = (round(spot.left()), round(spot.top()))
        beside = taken.get(key, 0)
        taken[key] = beside + 1
        size = badge_size() * _BADGE_SHARE
        top = spot.bottom() - self.fontMetrics().height()
        centre = QPointF(spot.left() + size / 2 + beside * (size + 4), top - size / 2 + 1)
        accepted = line.index in self.accepted
        paint_badge(painter, centre, line.weight, str(line.index + 1), self._theme, _BADGE_SHARE, accepted=accepted)

    def _show_tooltip(self, event: QHelpEvent) -> bool:
        at = self.cursorForPosition(self.viewport().mapFromGlobal(event.globalPos())).position()
        here = [u for u in self.underlines if u.cursor.selectionStart() <= at <= u.cursor.selectionEnd()]
        sentences = dict.fromkeys(f"{u.index + 1}  {u.message}" for u in here)
        QToolTip.showText(event.globalPos(), plain_tooltip("\n".join(sentences)), self)
        return True

    def _height(self) -> int:
        """As tall as the text, between one line and as many as it may have."""
        line = self.fontMetrics().height() * _LINE_SHARE / 100
        margins = _MARGIN + _badge_room()
        wanted = self.document().size().height()
        most = min(max((self._most_height - margins) // line, _LEAST_LINES), _MOST_LINES)
        return math.ceil(min(max(wanted, line + margins), most * line + margins)) - _UNDER_LAST

    def _fit_height(self) -> None:
        height = self._height()
        overflows = self.document().size().height() > height + _UNDER_LAST
        policy = Qt.ScrollBarPolicy.ScrollBarAsNeeded if overflows else Qt.ScrollBarPolicy.ScrollBarAlwaysOff
        if self.verticalScrollBarPolicy() != policy:
            self.setVerticalScrollBarPolicy(policy)
        if self.height() != height:
            self.setFixedHeight(height)


def _badge_room() -> float:
    """The room that badges need above the first line."""
    return badge_size() * _BADGE_SHARE + 2.0


def _wavy_path(left: float, right: float, y: float) -> QPainterPath:
    path = QPainterPath(QPointF(left, y))
    steps = max(2, int((right - left) / 3))
    for i in range(1, steps + 1):
        path.lineTo(left + (right - left) * i / steps, y + (1.5 if i % 2 else -1.5))
    return path
