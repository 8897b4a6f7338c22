"""The window of data sources: which are in use, for which days, what was rejected; add and remove buttons."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

from routecheck.gui.widgets.list_dialog import ListDialog
from routecheck.navdata import store
from routecheck.presentation.data_sources import SEVERAL_SOURCES, describe_source
from routecheck.settings import DataError

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Callable

    from PySide6.QtWidgets import QWidget

    from routecheck.model import DataSource
    from routecheck.presentation.data_sources import SourceRow

_NONE = "No navigation data is loaded: only the airports of the world list are known."
_INTRODUCTION = (
    "Files of ARINC 424 records or FAA designated points, plain or packed (.gz, .xz, .zip). A copy of each is kept, so "
    "the files themselves are no longer needed."
)


class DataSourcesWindow(ListDialog):
    """The list of data sources, and the details of the chosen one."""

    def __init__(self, parent: QWidget, today: Callable[[], dt.date]) -> None:
        super().__init__(
            parent,
            title="Data sources",
            introduction=_INTRODUCTION,
            about_name="About the data source",
            stop="Stop loading",
        )
        self._today = today
        self._rows: list[SourceRow] = []
        self.list.currentRowChanged.connect(self._show_details)
        self.remove_button.clicked.connect(lambda: self.remove_wanted.emit(self._rows[self.list.currentRow()].added_as))

    def show_sources(self, sources: tuple[DataSource, ...]) -> None:
        """Show which data sources are in use."""
        try:
            files = [file.name for file in store.stored_files()]
        except DataError as trouble:
            files = []
            self.about.setPlainText(str(trouble))
        chosen = self.list.currentItem().text() if self.list.currentItem() else ""
        self._rows = [describe_source(source, self._today(), files) for source in sources]
        self.list.clear()
        self.list.addItems([row.name for row in self._rows])
        names = [row.name for row in self._rows]
        self.list.setCurrentRow(names.index(chosen) if chosen in names else 0)
        if not self._rows:
            self._show_details(-1)

    def show_progress(self, share: float) -> None:
        """Say how far the loading is; 1 = done. A new load takes away what went wrong with the one before."""
        is_loading = share < 1.0
        if is_loading and not self.progress.isVisible():
            self.show_message("")
        self.progress.setText(f"Loading … {share * 100:.0f} %")
        self.stop_button.setVisible(is_loading)
        self.progress.setVisible(is_loading)

    def _show_details(self, row: int) -> None:
        known = 0 <= row < len(self._rows)
        self.remove_button.setEnabled(known and bool(self._rows[row].added_as))
        self.about.setHtml(_source_html(self._rows[row], several=len(self._rows) > 1) if known else f"<p>{_NONE}</p>")


def _source_html(row: SourceRow, *, several: bool) -> str:
    dates = escape(row.dates)
    parts = [
        f"<h4>{escape(row.name)}</h4>",
        f"<p>{dates}.</p>" if row.is_current else f"<p><b>{dates}.</b></p>",
        f"<p>It holds {escape(row.counts)}.</p>" if row.counts else "",
        f"<p>{escape(row.announced_line)}.</p>" if row.announced_line else "",
        f"<p>{escape(row.rejected_line)}{':' if row.rejected else '.'}</p>",
        "<ul>" + "".join(f"<li>{escape(line)}</li>" for line in row.rejected) + "</ul>" if row.rejected else "",
        f"<p>{escape(SEVERAL_SOURCES)}</p>" if several else "",
        "" if row.added_as else "<p>Not added for good: it comes with the program or is for this session only.</p>",
    ]
    return "".join(parts)
