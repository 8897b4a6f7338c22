"""How wide the columns of the Leg table are, and which are hidden where there is no room for all of them."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QFontMetrics

from routecheck.gui.leg_table.model import BADGE_SHARE, MOST_BADGES
from routecheck.gui.theme import text_font
from routecheck.gui.widgets.finding_badges import badge_size
from routecheck.presentation.column_ranks import columns_to_hide

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PySide6.QtWidgets import QTableView

    from routecheck.gui.leg_table.model import LegModel

_PAD = 18
_MOST_SPREAD = 30
"""By so much a column may be wider than it needs, where the pane is wide."""
_LEAST_SPREAD = -12
"""By so much it may be narrower: the gaps between columns shrink to that before any column is hidden."""
_LEAD = 8
"""So far a text stands off the figures before it where the columns are so many that they scroll."""
LEAST_FILLER = 4
_HEAD_MORE = 6
"""What Qt leaves free about the text of a head."""


class Leading(Protocol):
    """Paints cells or heads."""

    leads: dict[int, int]
    """By how many pixels further to the right a column begins."""


class ColumnFit(QObject):
    """Gives the columns of several tables the same widths, so that all that is needed most fits into the first."""

    changed = Signal()
    """Other columns are hidden."""

    def __init__(self, model: LegModel, tables: Sequence[QTableView], painters: Sequence[Leading]) -> None:
        super().__init__(model)
        self._model, self._tables, self._painters = model, tables, painters
        self._widths: list[int] = []
        self.hidden: frozenset[int] = frozenset()
        """The columns of the LegTable that are hidden, by index."""
        self.shows_all = False

    def show_all(self, is_wanted: bool) -> None:
        """Show every column, so that the table scrolls sideways, or those that there is room for."""
        self.shows_all = is_wanted
        self.fit()

    def fit(self) -> None:
        """As wide as their widest cell, found without asking every cell of a long route for its size.

        Where that is too wide the columns move closer together; then the least needed of them are hidden.
        """
        needed = self.needed_widths()
        badges = max((len(row.findings[:MOST_BADGES]) for row in self._model.table.rows), default=0)
        first = int(badge_size() * BADGE_SHARE * 1.35 * max(1, badges)) + 10
        room = self._tables[0].viewport().width() - first - LEAST_FILLER
        least = [wide + _LEAST_SPREAD for wide in needed]
        hidden = frozenset[int]() if self.shows_all else columns_to_hide(self._model.table.columns, least, room)
        shown = [i for i in range(len(needed)) if i not in hidden]
        spread = (room - sum(needed[i] for i in shown)) // max(1, len(shown))
        apart = max(_LEAST_SPREAD, min(spread, _MOST_SPREAD))
        scrolls = spread < _LEAST_SPREAD
        leads = self._lead_texts(shown, _LEAD if scrolls else (apart - _LEAST_SPREAD) // 2)
        wides = [wide + apart + (leads.get(i, 0) if scrolls else 0) for i, wide in enumerate(needed, 1)]
        self._apply([first, *wides, LEAST_FILLER], hidden)

    def _lead_texts(self, shown: list[int], lead: int) -> dict[int, int]:
        """Let text that follows figures begin in the midst of the room between them: else both meet."""
        figures = [column.figures for column in self._model.table.columns]
        leads = {after + 1: lead for i, after in pairwise(shown) if figures[i] and not figures[after]}
        for painter in self._painters:
            painter.leads = leads
        return leads

    def _apply(self, widths: list[int], hidden: frozenset[int]) -> None:
        for table in self._tables:
            for i in range(len(self._model.table.columns)):
                table.setColumnHidden(i + 1, i in hidden)
            if widths != self._widths:
                for i, wide in enumerate(widths):
                    table.setColumnWidth(i, wide)
        self._widths = widths
        if hidden != self.hidden:
            self.hidden = hidden
            self.changed.emit()

    def needed_widths(self) -> list[int]:
        """How wide each column must be for its widest cell, in pixels, without room between the columns."""
        metrics, heads, bold = (
            QFontMetrics(text_font()),
            QFontMetrics(text_font(-1)),
            QFontMetrics(text_font(bold=True)),
        )
        needed = []
        for i, column in enumerate(self._model.table.columns):
            longest = sorted({row.cells[i] for row in self._model.table.rows}, key=len)[-8:]
            wide = [metrics.horizontalAdvance(text) for text in longest] + [
                heads.horizontalAdvance(column.head) + _HEAD_MORE
            ]
            wide += [bold.horizontalAdvance(self._model.table.total[i])] if self._model.table.total else []
            needed.append(max(wide) + _PAD + 2)
        return needed
