"""Where the panes of the window stand, and how the room is shared among them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from routecheck.gui.chart_stage import make_splitter
from routecheck.gui.route_text.editor import RouteText
from routecheck.gui.theme import decode_window_state, encode_state
from routecheck.gui.widgets.scrolling_part import ScrollingPart

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from PySide6.QtGui import QResizeEvent

    from routecheck.gui.chart_stage import ChartStage

_GAP, _BETWEEN = 12, 8
_TEXT_SHARE = 0.25
"""The route text takes no more of the height than this: the Picture is to be seen beside a long one."""
_MARGIN_SHARE = 0.36
"""The Margin takes no more of the width than this, unless it needs it or somebody moves the handle."""


class PaneLayout(QWidget):
    """The strip and the text above, the charts and the Leg table under them, the Margin beside, the foot below."""

    def __init__(
        self,
        *,
        strip: QWidget,
        text: Sequence[QWidget],
        stage: ChartStage,
        load: QWidget,
        margin: QWidget,
        foot: QWidget,
    ) -> None:
        super().__init__()
        self._stage, self._margin = stage, margin
        self._is_shared_by_hand = False
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(_GAP, 8, _GAP, 6)
        column.setSpacing(_BETWEEN)
        self._upper = ScrollingPart((strip, _stack_on_sheet(text)), _BETWEEN)
        column.addWidget(self._upper)
        column.addWidget(stage, 1)
        column.addWidget(load)
        self._columns = make_splitter(Qt.Orientation.Horizontal, left, margin, handle=1)
        self._columns.splitterMoved.connect(self._note_hand)
        self._text = next(part for part in text if isinstance(part, RouteText))
        self._follow_cursor(self._text)
        rows = QVBoxLayout(self)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        rows.addWidget(self._columns, 1)
        rows.addWidget(foot)

    def states(self) -> dict[str, Any]:
        """How the room is shared now, to be saved."""
        own = {"split": encode_state(self._columns), "split_by_hand": self._is_shared_by_hand}
        return {**own, **self._stage.states()}

    def restore(self, saved: Mapping[str, Any]) -> None:
        """Share the room as a hand did before."""
        if saved.get("split_by_hand"):
            self._is_shared_by_hand = self._columns.restoreState(decode_window_state(saved.get("split", "")))
        self._stage.restore(saved)

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Give the Margin and the text what they want, but no more than their share of the new width and height."""
        super().resizeEvent(event)
        self._text.limit_height(_TEXT_SHARE * self.height())
        if not self._is_shared_by_hand:
            most = max(int(_MARGIN_SHARE * self.width()), self._margin.minimumWidth())
            beside = min(self._margin.sizeHint().width(), most)
            self._columns.setSizes([self.width() - beside, beside])

    def _follow_cursor(self, editor: RouteText) -> None:
        editor.cursorPositionChanged.connect(lambda: self._upper.reveal(editor, editor.cursorRect()))

    def _note_hand(self) -> None:
        self._is_shared_by_hand = True


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
