"""Picture, Side view and Leg table: one above the other where there is room, else one at a time behind tabs."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QSplitter, QTabBar, QVBoxLayout, QWidget

from routecheck.gui.theme import decode_window_state, encode_state, text_font

if TYPE_CHECKING:
    from collections.abc import Mapping

    from PySide6.QtGui import QResizeEvent

    from routecheck.gui.leg_table.pane import LegTablePane
    from routecheck.gui.picture.pane import PicturePane
    from routecheck.gui.side_view.pane import SidePane

_HANDLE = 6
_BELOW_LINE = 4
_LEAST_HEIGHT, _LEAST_PICTURE = 110, 70
"""So little is enough where one pane is shown at a time: else text above it would be cut."""
_SPARE = 24
"""The tabs go only where there is more room than they came for: else they would come and go."""
_LEGS_SHARE, _SIDE_SHARE = (0.3, 0.48), 0.2
"""The most of the height that the Leg table takes to show its legs, at `_LOW` and `_HIGH`; that of the Side view, which
legs may have too in a high window while it is folded."""
_LOW, _HIGH = 700, 1600
_PICTURE_HEIGHT = 200
"""The Side view leaves this to the Picture."""


class _Tabs(QTabBar):
    """Tabs with room for letters that reach below the line."""

    def tabSizeHint(self, index: int) -> QSize:  # noqa: N802
        """A little higher than Qt's, which cuts the letters of a tab that is not chosen."""
        return super().tabSizeHint(index) + QSize(0, _BELOW_LINE)


class ChartStage(QWidget):
    """Shares its height by what the panes hold, until somebody moves a handle."""

    def __init__(self, picture: PicturePane, side: SidePane, legs: LegTablePane) -> None:
        super().__init__()
        self._picture, self._side, self._legs = picture, side, legs
        self._panes: tuple[QWidget, ...] = picture, side, legs
        self._picture_beside = picture.minimumHeight()
        self.tabs = _Tabs()
        self.tabs.setAccessibleName("Which pane is shown")
        for name in ("Picture", "Side view", "Leg table"):
            self.tabs.addTab(name)
        self.tabs.hide()
        self._charts = make_splitter(Qt.Orientation.Vertical, picture, side, handle=_HANDLE)
        self._charts_and_legs = make_splitter(Qt.Orientation.Vertical, self._charts, legs, handle=_HANDLE)
        self._is_shared_by_hand = False
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.tabs)
        column.addWidget(self._charts_and_legs, 1)
        self.setMinimumHeight(_LEAST_HEIGHT)
        self.tabs.currentChanged.connect(self._show_tab)
        for splitter in (self._charts, self._charts_and_legs):
            splitter.splitterMoved.connect(self._note_hand)

    @property
    def is_tabbed(self) -> bool:
        """Whether the panes are shown one at a time."""
        return not self.tabs.isHidden()

    def sizeHint(self) -> QSize:  # noqa: N802
        """No more than it must have: it takes what others leave."""
        return QSize(super().sizeHint().width(), _LEAST_HEIGHT)

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        self.tabs.setFont(text_font(-1))
        self._fit()

    def reveal(self, pane: QWidget) -> None:
        """Bring a pane to the front, where only one is shown."""
        if self.is_tabbed and pane in self._panes:
            self.tabs.setCurrentIndex(self._panes.index(pane))

    def share_room(self) -> None:
        """Give the Leg table the height that its legs need and the Side view its share, unless a hand did."""
        whole = self._charts_and_legs.height()
        if self.is_tabbed or self._is_shared_by_hand or whole <= 0:
            return
        low, high = _LEGS_SHARE
        high += 0.0 if self._side.is_unfolded else _SIDE_SHARE
        share = low + (high - low) * min(max((whole - _LOW) / (_HIGH - _LOW), 0.0), 1.0)
        most = max(int(share * whole), self._legs.minimumHeight())
        legs = min(self._legs.wanted_height(), most)
        self._charts_and_legs.setSizes([whole - legs, legs])
        if self._side.is_unfolded:
            charts = whole - legs - _HANDLE
            wanted = max(self._side.sizeHint().height(), int(_SIDE_SHARE * whole))
            side = max(self._side.minimumHeight(), min(wanted, charts - _PICTURE_HEIGHT))
            self._charts.setSizes([charts - side, side])

    def states(self) -> dict[str, Any]:
        """How the height is shared now, to be saved."""
        shared = {"panes": encode_state(self._charts_and_legs), "views": encode_state(self._charts)}
        return {**shared, "panes_by_hand": self._is_shared_by_hand and not self.is_tabbed}

    def restore(self, saved: Mapping[str, Any]) -> None:
        """Share the height as a hand did before."""
        if not saved.get("panes_by_hand"):
            return
        self._is_shared_by_hand = self._charts_and_legs.restoreState(decode_window_state(saved.get("panes", "")))
        if self._side.is_unfolded:  # folded, it must not take the room that it had unfolded
            self._charts.restoreState(decode_window_state(saved.get("views", "")))

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Show the panes together or one at a time, and share the new height."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        under = self._side.minimumHeight() + self._legs.minimumHeight()
        needed = self._picture_beside + under + 2 * _HANDLE
        is_tabbed = self.height() < needed + (_SPARE if self.is_tabbed else 0)
        if is_tabbed != self.is_tabbed:
            self.tabs.setVisible(is_tabbed)
            self._picture.setMinimumHeight(_LEAST_PICTURE if is_tabbed else self._picture_beside)
            self._show_tab(self.tabs.currentIndex())
        self.share_room()

    def _show_tab(self, index: int) -> None:
        if self.is_tabbed and self._panes[index] is self._side:
            self._side.unfold()
        if self.is_tabbed and self._panes[index] is self._legs:
            self._legs.unfold()
        for i, pane in enumerate(self._panes):
            pane.setVisible(not self.is_tabbed or i == index)
        self._charts.setVisible(not self.is_tabbed or self._panes[index] is not self._legs)

    def _note_hand(self) -> None:
        self._is_shared_by_hand = True


def make_splitter(way: Qt.Orientation, first: QWidget, second: QWidget, *, handle: int) -> QSplitter:
    """Put two panes on either side of a handle; the first takes the room that is left."""
    split = QSplitter(way)
    split.setChildrenCollapsible(False)
    split.setHandleWidth(handle)
    split.addWidget(first)
    split.addWidget(second)
    split.setStretchFactor(0, 1)
    split.setStretchFactor(1, 0)
    return split
