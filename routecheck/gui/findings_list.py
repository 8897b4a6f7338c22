"""The list of findings in the Margin: a model over the assessment and the painter of its rows."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from routecheck.gui.marks import mark_size, paint_mark
from routecheck.gui.theme import words
from routecheck.present.evidence import evidence

if TYPE_CHECKING:
    from PySide6.QtCore import QObject
    from PySide6.QtGui import QPainter

    from routecheck.gui.theme import Theme
    from routecheck.model import Finding

    AnyIndex = QModelIndex | QPersistentModelIndex

FINDING = Qt.ItemDataRole.UserRole
_SIDE = 12.0
_MARK_AT = 13.0
_GAP = 9.0
_ROW_GAP = 4.0
_WRAP = Qt.TextFlag.TextWordWrap
_OPEN_MARGIN = 10
_UNIT = re.compile(r"(?<=\d) (?=NM|%|ft\b|kt\b|°)")


class FindingModel(QAbstractListModel):
    """The findings in route order; `opened` holds the rows whose evidence is unfolded (the view lays out)."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._findings: tuple[Finding, ...] = ()
        self.opened: frozenset[int] = frozenset()

    def show(self, findings: tuple[Finding, ...]) -> None:
        """Take other findings, all folded."""
        self.beginResetModel()
        self._findings, self.opened = findings, frozenset()
        self.endResetModel()

    def rowCount(self, parent: AnyIndex | None = None) -> int:  # noqa: N802
        """How many findings there are."""
        return 0 if parent is not None and parent.isValid() else len(self._findings)

    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The sentence, the finding itself, or what a screen reader says."""
        finding = self._findings[index.row()]
        if role == FINDING:
            return finding
        if role == Qt.ItemDataRole.DisplayRole:
            return finding.message
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{finding.weight.value.capitalize()}, number {index.row() + 1}: {finding.message}"
        return None


class FindingPainter(QStyledItemDelegate):
    """Paints a finding: mark, sentence, and its evidence in two columns when open."""

    def __init__(self, model: FindingModel, theme: Theme) -> None:
        super().__init__(model)
        self._model = model
        self.theme = theme

    def sizeHint(self, option: QStyleOptionViewItem, index: AnyIndex) -> QSize:  # noqa: N802
        """As tall as the sentence, with its evidence when open."""
        width = option.widget.viewport().width()  # type: ignore[attr-defined]
        is_open = index.row() in self._model.opened
        height = self._sentence_height(index, width, is_open=is_open) + 2 * _GAP
        if is_open:
            height += sum(h + _ROW_GAP for _, _, h in self._rows(index.data(FINDING), width)) + _GAP
        return QSize(width, int(height) + 1)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: AnyIndex) -> None:
        """Paint one row."""
        painter.save()
        rect = QRectF(option.rect)
        is_open = index.row() in self._model.opened
        self._paint_ground(painter, rect, option, is_open=is_open)
        finding: Finding = index.data(FINDING)
        font = words(bold=is_open)
        middle = rect.top() + _GAP + QFontMetricsF(font).height() / 2
        centre = QPointF(rect.left() + _MARK_AT + mark_size() / 2, middle)
        paint_mark(painter, centre, finding.weight, str(index.row() + 1), self.theme)
        height = self._sentence_height(index, int(rect.width()), is_open=is_open)
        box = QRectF(rect.left() + _text_at(), rect.top() + _GAP, _text_width(int(rect.width())), height)
        painter.setFont(font)
        painter.setPen(QColor(self.theme.ink))
        painter.drawText(box, _WRAP, together(finding.message))
        if is_open:
            self._paint_rows(painter, finding, rect, box.bottom() + _GAP)
        painter.restore()

    def _paint_ground(self, painter: QPainter, rect: QRectF, option: QStyleOptionViewItem, *, is_open: bool) -> None:
        focused = bool(option.state & QStyle.StateFlag.State_HasFocus)
        if not is_open and not focused:
            return
        painter.setRenderHint(painter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(self.theme.route if focused else self.theme.line), 1))
        painter.setBrush(QColor(self.theme.pane) if is_open else Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(rect.adjusted(5.5, 1.5, -5.5, -1.5), 5, 5)

    def _paint_rows(self, painter: QPainter, finding: Finding, rect: QRectF, top: float) -> None:
        name_width, value_width = _columns(int(rect.width()))
        left = rect.left() + _text_at()
        painter.setFont(_small())
        for name, text, height in self._rows(finding, int(rect.width())):
            painter.setPen(QColor(self.theme.muted))
            painter.drawText(QRectF(left, top, name_width, height), _WRAP, name)
            painter.setPen(QColor(self.theme.ink))
            painter.drawText(QRectF(left + name_width + 10, top, value_width, height), _WRAP, text)
            top += height + _ROW_GAP

    def _rows(self, finding: Finding, width: int) -> list[tuple[str, str, float]]:
        name_width, value_width = _columns(width)
        return [
            (name, text, max(_height(name, _small(), name_width), _height(text, _small(), value_width)))
            for name, text in evidence(finding)
        ]

    def _sentence_height(self, index: AnyIndex, width: int, *, is_open: bool) -> float:
        return _height(together(str(index.data())), words(bold=is_open), _text_width(width))


def together(text: str) -> str:
    """The text with no line break between a number and its unit."""
    return _UNIT.sub("\u00a0", text)


def _small() -> QFont:
    return words(-1)


def _text_at() -> float:
    return _MARK_AT + mark_size() + 9


def _text_width(width: int) -> float:
    return max(60.0, width - _text_at() - _SIDE - _OPEN_MARGIN / 2)


def _columns(width: int) -> tuple[float, float]:
    whole = _text_width(width)
    return whole * 0.36 - 10, whole * 0.64


def _height(text: str, font: QFont, width: float) -> float:
    return _height_of(text, font.key(), width)


@lru_cache(maxsize=16384)
def _height_of(text: str, font_key: str, width: float) -> float:
    """Kept, because a list of hundreds of findings is laid out at every change."""
    font = QFont()
    font.fromString(font_key)
    return QFontMetricsF(font).boundingRect(QRectF(0, 0, width, 1e6), _WRAP, text).height()
