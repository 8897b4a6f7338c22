"""The small window of data sources: what is in use, for which days, what was rejected; adding and removing files."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QLabel, QListWidget, QSplitter, QTextBrowser, QVBoxLayout

from routecheck.navdata import store
from routecheck.presentation.data_sources import TOGETHER, source_row
from routecheck.settings import DataError

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Callable

    from PySide6.QtWidgets import QWidget

    from routecheck.model import DataSource
    from routecheck.presentation.data_sources import SourceRow

_NONE = "No navigation data is loaded: only the airports of the world list are known."
_INTRODUCTION = (
    "Files of ARINC 424 records, plain or packed (.gz, .xz, .zip). A copy of each is kept, so the files themselves are "
    "no longer needed."
)
_Role = QDialogButtonBox.ButtonRole


class DataWindow(QDialog):
    """The list of data sources, and about the chosen one all there is to say."""

    wants_add = Signal()
    wants_remove = Signal(str)
    wants_stop = Signal()

    def __init__(self, parent: QWidget, today: Callable[[], dt.date]) -> None:
        super().__init__(parent)
        self.setWindowTitle("Data sources")
        self._today = today
        self._rows: list[SourceRow] = []
        self.list, self.about = QListWidget(), QTextBrowser()
        self.list.setAccessibleName("Data sources")
        self.about.setAccessibleName("About the data source")
        self.list.currentRowChanged.connect(self._tell)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        self.add, self.remove, self.stop = (
            buttons.addButton(text, _Role.ActionRole) for text in ("Add…", "Remove", "Stop loading")
        )
        self.stop.hide()
        self.stop.clicked.connect(self.wants_stop)
        self.add.clicked.connect(self.wants_add)
        self.progress, self.trouble = QLabel(), QLabel()
        for label in (self.progress, self.trouble):
            label.setWordWrap(True)
            label.hide()
        self.remove.clicked.connect(lambda: self.wants_remove.emit(self._rows[self.list.currentRow()].file))
        buttons.rejected.connect(self.reject)
        introduction = QLabel(_INTRODUCTION)
        introduction.setWordWrap(True)
        introduction.setObjectName("muted")
        split = QSplitter(Qt.Orientation.Horizontal)
        split.addWidget(self.list)
        split.addWidget(self.about)
        split.setSizes([230, 430])
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 20, 14)
        column.addWidget(introduction)
        column.addWidget(split, 1)
        column.addWidget(self.progress)
        column.addWidget(self.trouble)
        column.addWidget(buttons)

    def show_sources(self, sources: tuple[DataSource, ...]) -> None:
        """Show which data sources are in use."""
        try:
            files = [file.name for file in store.stored_files()]
        except DataError as trouble:
            files = []
            self.about.setPlainText(str(trouble))
        chosen = self.list.currentItem().text() if self.list.currentItem() else ""
        self._rows = [source_row(source, self._today(), files) for source in sources]
        self.list.clear()
        self.list.addItems([row.name for row in self._rows])
        names = [row.name for row in self._rows]
        self.list.setCurrentRow(names.index(chosen) if chosen in names else 0)
        if not self._rows:
            self._tell(-1)

    def say(self, text: str) -> None:
        """Say what went wrong; "" when it is over."""
        self.trouble.setText(text)
        self.trouble.setVisible(bool(text))

    def show_progress(self, share: float) -> None:
        """Say how far the loading is; 1 = done. A new load takes away what went wrong with the one before."""
        is_loading = share < 1.0
        if is_loading and not self.progress.isVisible():
            self.say("")
        self.progress.setText(f"Loading … {share * 100:.0f} %")
        self.stop.setVisible(is_loading)
        self.progress.setVisible(is_loading)

    def sizeHint(self) -> QSize:  # noqa: N802
        """Room for a cycle's dates on one line."""
        wide = self.fontMetrics().averageCharWidth()
        return QSize(wide * 110, wide * 64)

    def _tell(self, row: int) -> None:
        known = 0 <= row < len(self._rows)
        self.remove.setEnabled(known and bool(self._rows[row].file))
        self.about.setHtml(_told(self._rows[row], several=len(self._rows) > 1) if known else f"<p>{_NONE}</p>")


def _told(row: SourceRow, *, several: bool) -> str:
    dates = escape(row.dates)
    parts = [
        f"<h4>{escape(row.name)}</h4>",
        f"<p>{dates}.</p>" if row.holds else f"<p><b>{dates}.</b></p>",
        f"<p>{escape(row.counts)}.</p>" if row.counts else "",
        f"<p>{escape(row.rejected_line)}{':' if row.rejected else '.'}</p>",
        "<ul>" + "".join(f"<li>{escape(line)}</li>" for line in row.rejected) + "</ul>" if row.rejected else "",
        f"<p>{escape(TOGETHER)}</p>" if several else "",
        "" if row.file else "<p>Not added for good: it comes with the program or is for this session only.</p>",
    ]
    return "".join(parts)
