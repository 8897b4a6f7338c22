"""The list of findings in the Margin: a model over the assessment and the painter of its rows."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from routecheck.gui.theme import words
from routecheck.gui.widgets.finding_badges import mark_size, paint_mark
from routecheck.presentation.evidence import evidence

if TYPE_CHECKING:
    from collections.abc import Mapping

    from PySide6.QtCore import QObject
    from PySide6.QtGui import QPainter

    from routecheck.gui.theme import Theme
    from routecheck.model import Finding
    from routecheck.presentation.assessment_view import Screen

    AnyIndex = QModelIndex | QPersistentModelIndex

FINDING, SAID = Qt.ItemDataRole.UserRole, Qt.ItemDataRole.UserRole + 1
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
        self._said_of: Mapping[int, str] = {}
        self.accepted: frozenset[int] = frozenset()
        self.opened: frozenset[int] = frozenset()

    def show(self, screen: Screen | None) -> None:
        """Take other findings, all folded; None = none. Where all stays as it is nothing is shown anew."""
        findings = screen.assessment.findings if screen else ()
        said_of = screen.said_of if screen else {}
        accepted = screen.accepted if screen else frozenset()
        if not self.opened and (findings, said_of, accepted) == (self._findings, self._said_of, self.accepted):
            return
        self.beginResetModel()
        self._findings, self._said_of, self.accepted = findings, said_of, accepted
        self.opened = frozenset()
        self.endResetModel()

    def rowCount(self, parent: AnyIndex | None = None) -> int:  # noqa: N802
        """How many findings there are."""
        return 0 if parent is not None and parent.isValid() else len(self._findings)

    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        """The sentence, the finding itself, what is said of its acceptance, or what a screen reader says."""
        finding, said = self._findings[index.row()], self._said_of.get(index.row(), "")
        if role == FINDING:
            return finding
        if role == SAID:
            return said
        if role == Qt.ItemDataRole.DisplayRole:
            return finding.message
        if role == Qt.ItemDataRole.AccessibleTextRole:
            number = f"{finding.weight.value.capitalize()}, number {index.row() + 1}"
            return " ".join(filter(None, (f"{number}: {finding.message}", said)))
        return None


class FindingPainter(QStyledItemDelegate):
    """Paints a finding: mark, sentence, what is said of its acceptance, and when open its evidence in two columns.

    `rooms` is the height left free in open rows, under the sentence, for what lies over them: by the row.
    """

    def __init__(self, model: FindingModel, theme: Theme) -> None:
        super().__init__(model)
        self._model = model
        self.theme = theme
        self.rooms: dict[int, int] = {}

    def sizeHint(self, option: QStyleOptionViewItem, index: AnyIndex) -> QSize:  # noqa: N802
        """As tall as the sentence, with its evidence when open."""
        width = option.widget.viewport().width()  # type: ignore[attr-defined]
        height = self.under_sentence(index, width) + _GAP
        if index.row() in self._model.opened:
            height += (
                self.rooms.get(index.row(), 0)
                + _ROW_GAP
                + sum(h + _ROW_GAP for _, _, h in self._rows(index.data(FINDING), width))
            )
        return QSize(width, int(height) + 1)

    def under_sentence(self, index: AnyIndex, width: int) -> float:
        """How far under the top of its row the sentence and what is said of its acceptance end."""
        is_open = index.row() in self._model.opened
        said = str(index.data(SAID))
        height = _GAP + _height(together(str(index.data())), words(bold=is_open), _text_width(width))
        return height + (_ROW_GAP + _height(said, _small(), _text_width(width)) if said else 0)

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
        accepted = index.row() in self._model.accepted
        painter.setFont(words())
        paint_mark(painter, centre, finding.weight, str(index.row() + 1), self.theme, accepted=accepted)
        width = int(rect.width())
        self._paint_sentence(painter, rect, index, font, muted=accepted and not is_open)
        if is_open:
            top = rect.top() + self.under_sentence(index, width) + self.rooms.get(index.row(), 0) + _ROW_GAP
            self._paint_rows(painter, finding, rect, top)
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
        """The sentence, and under it what is said of its acceptance."""
        width = _text_width(int(rect.width()))
        sentence, said = together(str(index.data())), str(index.data(SAID))
        height = _height(sentence, font, width)
        box = QRectF(rect.left() + text_at(), rect.top() + _GAP, width, height)
        painter.setFont(font)
        painter.setPen(QColor(self.theme.muted if muted else self.theme.ink))
        painter.drawText(box, _WRAP, sentence)
        if said:
            painter.setFont(_small())
            painter.setPen(QColor(self.theme.ink))
            below = QRectF(box.left(), box.bottom() + _ROW_GAP, width, _height(said, _small(), width))
            painter.drawText(below, _WRAP, said)

    def _paint_rows(self, painter: QPainter, finding: Finding, rect: QRectF, top: float) -> None:
        name_width, value_width = _columns(int(rect.width()))
        left = rect.left() + text_at()
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


def together(text: str) -> str:
    """The text with no line break between a number and its unit."""
    return _UNIT.sub("\u00a0", text)


def _small() -> QFont:
    return words(-1)


def text_at() -> float:
    """How far from the left the sentences stand."""
    return _MARK_AT + mark_size() + 9


def _text_width(width: int) -> float:
    return max(60.0, width - text_at() - _SIDE - _OPEN_MARGIN / 2)


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
