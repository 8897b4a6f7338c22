"""The list of findings in the Margin: a model over the assessment and the painter of its rows."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from routecheck.gui.theme import text_font
from routecheck.gui.widgets.finding_badges import badge_size, paint_badge
from routecheck.presentation.finding_details import finding_details

if TYPE_CHECKING:
    from collections.abc import Mapping

    from PySide6.QtCore import QObject
    from PySide6.QtGui import QPainter

    from routecheck.gui.theme import Theme
    from routecheck.model import Finding
    from routecheck.presentation.assessment_view import AssessmentView

    AnyIndex = QModelIndex | QPersistentModelIndex

FINDING_ROLE, ACCEPTANCE_ROLE = Qt.ItemDataRole.UserRole, Qt.ItemDataRole.UserRole + 1
_SIDE = 12.0
_MARK_AT = 13.0
_GAP = 9.0
_ROW_GAP = 4.0
_WRAP = Qt.TextFlag.TextWordWrap
_OPEN_MARGIN = 10
_UNIT = re.compile(r"(?<=\d) (?=NM|%|ft\b|kt\b|°)")


class FindingModel(QAbstractListModel):
    """The findings in route order. `open_rows` are those that show their details; the view lays them out."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._findings: tuple[Finding, ...] = ()
        self._acceptance_sentences: Mapping[int, str] = {}
        self._cures: tuple[str, ...] = ()
        self.accepted: frozenset[int] = frozenset()
        self.open_rows: frozenset[int] = frozenset()

    def show_answer(self, answer: AssessmentView | None) -> None:
        """Show the findings of an answer, all folded; None = no findings. Nothing is reset where nothing differs."""
        findings = answer.assessment.findings if answer else ()
        sentences = answer.acceptance_sentences if answer else {}
        accepted = answer.accepted if answer else frozenset()
        cures = answer.cures if answer else ()
        now = self._findings, self._acceptance_sentences, self.accepted, self._cures
        is_same = (findings, sentences, accepted, cures) == now
        if is_same and not self.open_rows:
            return
        self.beginResetModel()
        self._findings, self._acceptance_sentences, self.accepted, self._cures = findings, sentences, accepted, cures
        self.open_rows = frozenset()
        self.endResetModel()

    def rowCount(self, parent: AnyIndex | None = None) -> int:  # noqa: N802
        """How many findings there are."""
        return 0 if parent is not None and parent.isValid() else len(self._findings)

    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The sentence of a finding, closed with what would clear it; the finding; the sentence about its acceptance;
        what a screen reader says."""
        finding = self._findings[index.row()]
        acceptance = self._acceptance_sentences.get(index.row(), "")
        if role == FINDING_ROLE:
            return finding
        if role == ACCEPTANCE_ROLE:
            return acceptance
        sentence = f"{finding.message} {self._cures[index.row()]}".rstrip()
        if role == Qt.ItemDataRole.DisplayRole:
            return finding.message if index.row() in self.open_rows else sentence
        if role == Qt.ItemDataRole.AccessibleTextRole:
            number = f"{finding.weight.value.capitalize()}, number {index.row() + 1}"
            return " ".join(filter(None, (f"{number}: {sentence}", acceptance)))
        return None


class FindingPainter(QStyledItemDelegate):
    """Paints a finding: badge, sentence, the sentence about its acceptance, and when open its details in two columns.

    `reserved_heights`, by the row, is left free under the sentence of open rows for the widget that lies over them.
    """

    def __init__(self, model: FindingModel, theme: Theme) -> None:
        super().__init__(model)
        self._model = model
        self.theme = theme
        self.reserved_heights: dict[int, int] = {}

    def sizeHint(self, option: QStyleOptionViewItem, index: AnyIndex) -> QSize:  # noqa: N802
        """As tall as the sentences, with the details when open."""
        width = option.widget.viewport().width()  # type: ignore[attr-defined]
        height = self.sentences_bottom(index, width) + _GAP
        if index.row() in self._model.open_rows:
            height += (
                self.reserved_heights.get(index.row(), 0)
                + _ROW_GAP
                + sum(h + _ROW_GAP for _, _, h in self._detail_rows(index.data(FINDING_ROLE), width))
            )
        return QSize(width, int(height) + 1)

    def sentences_bottom(self, index: AnyIndex, width: int) -> float:
        """How far under the top of its row the sentences end."""
        is_open = index.row() in self._model.open_rows
        acceptance = str(index.data(ACCEPTANCE_ROLE))
        height = _GAP + _text_height(bind_units(str(index.data())), text_font(bold=is_open), _text_width(width))
        return height + (_ROW_GAP + _text_height(acceptance, _small_font(), _text_width(width)) if acceptance else 0)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: AnyIndex) -> None:
        """Paint one row."""
        painter.save()
        rect = QRectF(option.rect)
        is_open = index.row() in self._model.open_rows
        self._paint_ground(painter, rect, option, is_open=is_open)
        finding: Finding = index.data(FINDING_ROLE)
        font = text_font(bold=is_open)
        middle = rect.top() + _GAP + QFontMetricsF(font).height() / 2
        centre = QPointF(rect.left() + _MARK_AT + badge_size() / 2, middle)
        accepted = index.row() in self._model.accepted
        painter.setFont(text_font())
        paint_badge(painter, centre, finding.weight, str(index.row() + 1), self.theme, accepted=accepted)
        width = int(rect.width())
        self._paint_sentence(painter, rect, index, font, muted=accepted and not is_open)
        if is_open:
            top = (
                rect.top() + self.sentences_bottom(index, width) + self.reserved_heights.get(index.row(), 0) + _ROW_GAP
            )
            self._paint_details(painter, finding, rect, top)
        painter.restore()

    def _paint_ground(self, painter: QPainter, rect: QRectF, option: QStyleOptionViewItem, *, is_open: bool) -> None:
        focused = bool(option.state & QStyle.StateFlag.State_HasFocus)
        if not is_open and not focused:
            return
        painter.setRenderHint(painter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(self.theme.route if focused else self.theme.line), 1))
        painter.setBrush(QColor(self.theme.pane) if is_open else Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(rect.adjusted(5.5, 1.5, -5.5, -1.5), 5, 5)

    def _paint_sentence(self, painter: QPainter, rect: QRectF, index: AnyIndex, font: QFont, *, muted: bool) -> None:
        """The sentence, and under it the one about its acceptance."""
        width = _text_width(int(rect.width()))
        sentence, acceptance = bind_units(str(index.data())), str(index.data(ACCEPTANCE_ROLE))
        height = _text_height(sentence, font, width)
        box = QRectF(rect.left() + text_left(), rect.top() + _GAP, width, height)
        painter.setFont(font)
        painter.setPen(QColor(self.theme.muted if muted else self.theme.ink))
        painter.drawText(box, _WRAP, sentence)
        if acceptance:
            painter.setFont(_small_font())
            painter.setPen(QColor(self.theme.ink))
            below = QRectF(box.left(), box.bottom() + _ROW_GAP, width, _text_height(acceptance, _small_font(), width))
            painter.drawText(below, _WRAP, acceptance)

    def _paint_details(self, painter: QPainter, finding: Finding, rect: QRectF, top: float) -> None:
        name_width, value_width = _detail_widths(int(rect.width()))
        left = rect.left() + text_left()
        painter.setFont(_small_font())
        for name, text, height in self._detail_rows(finding, int(rect.width())):
            painter.setPen(QColor(self.theme.muted))
            painter.drawText(QRectF(left, top, name_width, height), _WRAP, name)
            painter.setPen(QColor(self.theme.ink))
            painter.drawText(QRectF(left + name_width + 10, top, value_width, height), _WRAP, text)
            top += height + _ROW_GAP

    def _detail_rows(self, finding: Finding, width: int) -> list[tuple[str, str, float]]:
        name_width, value_width = _detail_widths(width)
        return [
            (
                name,
                text,
                max(_text_height(name, _small_font(), name_width), _text_height(text, _small_font(), value_width)),
            )
            for name, text in finding_details(finding)
        ]


def bind_units(text: str) -> str:
    """The text with no-break spaces between numbers and units."""
    return _UNIT.sub("\u00a0", text)


def _small_font() -> QFont:
    return text_font(-1)


def text_left() -> float:
    """The distance of the sentences from the left edge."""
    return _MARK_AT + badge_size() + 9


def _text_width(width: int) -> float:
    return max(60.0, width - text_left() - _SIDE - _OPEN_MARGIN / 2)


def _detail_widths(width: int) -> tuple[float, float]:
    whole = _text_width(width)
    return whole * 0.36 - 10, whole * 0.64


def _text_height(text: str, font: QFont, width: float) -> float:
    return _cached_height(text, font.key(), width)


@lru_cache(maxsize=16384)
def _cached_height(text: str, font_key: str, width: float) -> float:
    """Cached, because a list of hundreds of findings is laid out at every change."""
    font = QFont()
    font.fromString(font_key)
    return QFontMetricsF(font).boundingRect(QRectF(0, 0, width, 1e6), _WRAP, text).height()
