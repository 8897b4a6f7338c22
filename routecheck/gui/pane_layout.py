"""Where the panes of the window stand, and how the room is shared among them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QSplitter, QVBoxLayout, QWidget

from routecheck.gui.theme import decode_window_state

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

_GAP = 12


class PaneLayout(QWidget):
    """The strip and the text above, the charts and the Leg table under them, the Margin beside, the foot below."""

    def __init__(
        self,
        *,
        strip: QWidget,
        text: Sequence[QWidget],
        charts: tuple[QWidget, QWidget],
        legs: QWidget,
        margin: QWidget,
        foot: QWidget,
    ) -> None:
        super().__init__()
        self._legs, self._margin = legs, margin
        self._charts = _make_splitter(Qt.Orientation.Vertical, *charts, handle=6)
        self._charts_and_legs = _make_splitter(Qt.Orientation.Vertical, self._charts, legs, handle=6)
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(_GAP, 8, _GAP, 6)
        column.setSpacing(8)
        column.addWidget(strip)
        column.addWidget(_stack_on_sheet(text))
        column.addWidget(self._charts_and_legs, 1)
        self._columns = _make_splitter(Qt.Orientation.Horizontal, left, margin, handle=1)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        rows.addWidget(self._columns, 1)
        rows.addWidget(foot)

    def states(self) -> dict[str, str]:
        """How the room is shared now, to be saved."""
        splitters = {"split": self._columns, "panes": self._charts_and_legs, "views": self._charts}
        return {key: encode_window_state(splitter) for key, splitter in splitters.items()}

    def restore(self, saved: Mapping[str, Any], width: int, *, side_is_open: bool) -> None:
        """Share the room as it was saved, else by what the panes want."""
        if not self._columns.restoreState(decode_window_state(saved.get("split", ""))):
            beside = self._margin.sizeHint().width()
            self._columns.setSizes([width - beside, beside])
        if not self._charts_and_legs.restoreState(decode_window_state(saved.get("panes", ""))):
            wanted = self._legs.sizeHint().height()
            self._charts_and_legs.setSizes([3 * wanted, wanted])
        if side_is_open:  # folded, it must not take the room that it had unfolded
            self._charts.restoreState(decode_window_state(saved.get("views", "")))


def encode_window_state(part: QSplitter) -> str:
    """The state of a splitter in base 64, as it is saved."""
    return bytes(part.saveState().toBase64().data()).decode("ascii")


def _stack_on_sheet(parts: Sequence[QWidget]) -> QFrame:
    """The text and what is said of it, on one sheet of paper."""
    sheet = QFrame()
    sheet.setObjectName("sheet")
    inside = QVBoxLayout(sheet)
    inside.setContentsMargins(6, 2, 6, 6)
    inside.setSpacing(0)
    for part in parts:
        inside.addWidget(part)
    return sheet


def _make_splitter(way: Qt.Orientation, first: QWidget, second: QWidget, *, handle: int) -> QSplitter:
    """Put two panes on either side of a handle; the first takes the room that is left."""
    split = QSplitter(way)
    split.setChildrenCollapsible(False)
    split.setHandleWidth(handle)
    split.addWidget(first)
    split.addWidget(second)
    split.setStretchFactor(0, 1)
    split.setStretchFactor(1, 0)
    return split
