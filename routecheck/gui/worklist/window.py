"""The window of a worklist: its table, the groups beside it, and all that is found on the chosen route below."""

from __future__ import annotations

import time
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QFontMetrics, QGuiApplication
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QMainWindow,
    QPushButton,
    QSplitter,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from routecheck.faults import system_reason
from routecheck.formatting import count
from routecheck.gui import actions, dialogs
from routecheck.gui.actions import StandardKey, make_action
from routecheck.gui.margin.accept_dialog import AcceptDialog
from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import PlainLabel, WrappingLabel, plain_tooltip
from routecheck.gui.worklist.jobs import WorklistJobs
from routecheck.gui.worklist.model import ALL, TO_LOOK_AT, WorklistModel
from routecheck.model import CAUTION
from routecheck.presentation.verdict import WEIGHT_MARKS, WEIGHT_NAMES
from routecheck.worklist.columns import COLUMNS
from routecheck.worklist.order import count_groups

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Callable

    from PySide6.QtGui import QCloseEvent, QResizeEvent

    from routecheck.report.route_row import RowFinding
    from routecheck.worklist.worklist import Worklist

_LOOK_EVERY_MS = 300
_IDLE_SHARE = 10
"""The table is shown anew at most so seldom that showing it takes a tenth of the time."""
_AFTER_TYPING_MS = 150
_KINDS = {"CSV rows (*.csv)": "csv", "Page for a browser (*.html)": "html", "JSON Lines (*.jsonl)": "jsonl"}
_WIDTHS = (19, 26, 62, 10, 19, 14, 8, 30)
"""Of the columns, in characters."""
_LEAST_WANTED, _WIDE = (5, 6), 180
"""Columns that a window of fewer characters hides: the first finding needs their room."""


class WorklistWindow(QMainWindow):
    """Many routes, the ones to look at first on top."""

    route_wanted = Signal(object)
    """A route of the list is to be opened."""
    accepted_by = Signal(str)
    """Who accepted a finding."""

    def __init__(self, worklist: Worklist, now: Callable[[], dt.datetime], by: str = "") -> None:
        super().__init__()
        self.setWindowTitle(f"{worklist.path.name} – worklist – Routecheck")
        self.worklist, self._now, self._by = worklist, now, by
        self.model = WorklistModel(worklist, self)
        self.jobs = WorklistJobs(worklist, self)
        self.table, self.groups, self.filter = QTableView(), QListWidget(), QLineEdit()
        self.progress, self.details, self.message = PlainLabel(), WrappingLabel(), WrappingLabel()
        self.data, self.caution = WrappingLabel(), PlainLabel(CAUTION)
        self.stop_button = QPushButton("&Stop")
        self._look = QTimer(self, interval=_LOOK_EVERY_MS)
        self._typed = QTimer(self, interval=_AFTER_TYPING_MS, singleShot=True)
        self._set_up_parts()
        self._lay_out()
        self._make_menus()
        self._connect()
        self.jobs.check()
        self._look.start()
        self._refresh()
        self.table.setFocus()

    def open_chosen(self) -> None:
        """Open the chosen route in the window for one route."""
        if (number := self._chosen_row()) is not None:
            self.route_wanted.emit(self.worklist.input_of(number))

    def accept_first(self) -> AcceptDialog | None:
        """Ask for the reason to accept the first finding of the chosen route."""
        number = self._chosen_row()
        if number is None or not self.model.open_findings[number]:
            self.message.setText("There is no finding to accept at the chosen route.")
            return None
        finding = self.model.open_findings[number][0]
        dialog = AcceptDialog(self, "Accept this finding with a reason", finding.message, self._by)
        dialog.accepted.connect(lambda: self._accept(number, finding, dialog.reason.text(), dialog.by.text()))
        dialog.open()
        return dialog

    def save_as(self) -> None:
        """Ask for a file and write all routes to it, as `routecheck proof` does."""
        kinds = ";;".join(_KINDS)
        if chosen := dialogs.file_to_save(self, "Save the worklist as", self.worklist.path.with_suffix(".csv"), kinds):
            self.write(Path(chosen))

    def write(self, path: Path) -> None:
        """Write all routes to a file in the form that its name tells."""
        if self.jobs.is_running:
            self.message.setText("Not saved: wait until all routes are checked, or stop that.")
            return
        form = path.suffix.lower().lstrip(".")
        if form not in _KINDS.values():
            path, form = path.with_name(f"{path.name}.csv"), "csv"
        self.message.setText(f"Writing {path.name} …")
        self.jobs.ended.connect(
            lambda fault: self.message.setText(f"Not saved. {fault}" if fault else f"Saved as {path.name}."),
            Qt.ConnectionType.SingleShotConnection,
        )
        self.jobs.write(path, form)

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802
        """Give up what is running."""
        self._look.stop()
        self.jobs.stop()
        super().closeEvent(event)

    def sizeHint(self) -> QSize:  # noqa: N802
        """Room for the table without scrolling sideways."""
        wide = self.fontMetrics().averageCharWidth()
        return QSize(wide * 210, wide * 110)

    # ---- set up

    def _set_up_parts(self) -> None:
        self.table.setModel(self.model)
        self.table.setAccessibleName("Routes of the worklist")
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.setTabKeyNavigation(False)
        self.table.setWordWrap(False)
        self.table.verticalHeader().hide()
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(2, QHeaderView.ResizeMode.Stretch)
        header.setSortIndicator(0, Qt.SortOrder.AscendingOrder)
        self.table.setSortingEnabled(True)
        self.groups.setAccessibleName("Kinds of findings")
        self.groups.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.groups.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.filter.setAccessibleName("Show routes that hold a text")
        self.filter.setPlaceholderText("Show routes that hold …")
        self.filter.setClearButtonEnabled(True)
        self.message.setObjectName("muted")
        self.caution.setObjectName("caution")

    def resizeEvent(self, event: QResizeEvent) -> None:  # noqa: N802
        """Show as many columns as there is room for."""
        super().resizeEvent(event)
        self._hide_least()

    def _hide_least(self) -> None:
        is_narrow = self.width() < QFontMetrics(text_font()).averageCharWidth() * _WIDE
        for column in _LEAST_WANTED:
            self.table.setColumnHidden(column, is_narrow)

    def refresh_font(self) -> None:
        """Make room for the system's text size."""
        metrics = QFontMetrics(text_font())
        wide = metrics.averageCharWidth()
        for column, characters in enumerate(_WIDTHS):
            self.table.horizontalHeader().resizeSection(column, wide * characters)
        self.table.verticalHeader().setDefaultSectionSize(metrics.height() + 8)
        self.filter.setMinimumWidth(wide * 32)
        self._split.setSizes([wide * 36, wide * 160])
        self._hide_least()

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self.progress, 1)
        head.addWidget(self.stop_button)
        head.addWidget(self.filter)
        split = self._split = QSplitter(Qt.Orientation.Horizontal)
        split.addWidget(self.groups)
        split.addWidget(self.table)
        split.setStretchFactor(1, 1)
        column = QVBoxLayout()
        column.addLayout(head)
        column.addWidget(split, 1)
        for label in (self.details, self.message, self.data, self.caution):
            column.addWidget(label)
        middle = QWidget()
        middle.setLayout(column)
        self.setCentralWidget(middle)
        self.refresh_font()

    def _make_menus(self) -> None:
        self._open_action = make_action(self, "&Open the route in the window", "Ctrl+Return", self.open_chosen)
        self._accept_action = make_action(self, "&Accept the first finding…", "Ctrl+Shift+A", self.accept_first)
        for name, entries in (
            ("&File", [
                make_action(self, "Save &as…", StandardKey.SaveAs, self.save_as),
                make_action(self, "&Close", StandardKey.Close, self.close),
            ]),
            ("&Route", [
                self._open_action,
                self._accept_action,
                make_action(self, "&Find routes", StandardKey.Find, self.filter.setFocus),
            ]),
        ):  # fmt: skip
            actions.fill_menu(self.menuBar().addMenu(name), [*entries])

    def _connect(self) -> None:
        self._look.timeout.connect(self._refresh)
        self._typed.timeout.connect(self._show_wanted)
        self.filter.returnPressed.connect(self.table.setFocus)
        self.filter.textChanged.connect(lambda _: self._typed.start())
        self.groups.currentItemChanged.connect(lambda *_: self._show_wanted())
        self.table.activated.connect(lambda _: self.open_chosen())
        self.table.selectionModel().currentRowChanged.connect(lambda *_: self._show_details())
        self.stop_button.clicked.connect(self._stop)
        self.jobs.ended.connect(self._show_end)
        QGuiApplication.instance().fontChanged.connect(self.refresh_font)  # type: ignore[union-attr]

    # ---- what is shown

    def _refresh(self) -> None:
        """Show the rows that have come since, and how far it is."""
        start = time.perf_counter()
        if len(self.worklist.rows) > len(self.model.open_findings):
            self._keep_chosen(self.model.take_rows)
            self._show_groups()
        self._show_data()
        self._show_progress()
        took_ms = (time.perf_counter() - start) * 1000
        self._look.setInterval(max(_LOOK_EVERY_MS, int(took_ms * _IDLE_SHARE)))

    def _show_data(self) -> None:
        """Say below what all routes rest on; only where they differ there is a column for it."""
        known = {row.data for row in self.worklist.rows}
        self.data.setText(known.pop() if len(known) == 1 else "")
        self.table.setColumnHidden(len(COLUMNS) - 1, not known)

    def _show_progress(self) -> None:
        summary = self.worklist.summary
        self.stop_button.setVisible(self.jobs.is_running)
        self.progress.setText(
            summary.sentence if summary.is_finished else f"Checked {count(len(self.worklist.rows), 'route')} …"
        )

    def _show_end(self, fault: str) -> None:
        self._look.stop()
        self._refresh()
        remarks = (fault, *self.worklist.summary.no_inputs, self.worklist.acceptances.remark)
        self.message.setText(" ".join(filter(None, remarks)))
        if not self.worklist.summary.is_finished:
            self._say_how_many()

    def _stop(self) -> None:
        self.jobs.stop()
        self._look.stop()
        self._refresh()
        self._say_how_many()

    def _say_how_many(self) -> None:
        rows = len(self.worklist.rows)
        self.progress.setText(f"Stopped: {count(rows, 'route')} checked, the others not.")

    def _show_groups(self) -> None:
        """Show how many routes are of each kind; the chosen kind stays chosen."""
        to_look_at = sum(map(self.model.is_to_look_at, range(len(self.model.open_findings))))
        rows = [(ALL, len(self.model.open_findings)), (TO_LOOK_AT, to_look_at)]
        rows += [(group.name, group.routes) for group in count_groups(self.model.open_findings)]
        chosen = self._chosen_group()
        self.groups.blockSignals(True)
        self.groups.clear()
        for name, routes in rows:
            item = QListWidgetItem(f"{routes:,}  {name}")
            item.setToolTip(plain_tooltip(name))
            item.setData(Qt.ItemDataRole.UserRole, name)
            self.groups.addItem(item)
        names = [name for name, _ in rows]
        self.groups.setCurrentRow(names.index(chosen) if chosen in names else 0)
        self.groups.blockSignals(False)

    def _chosen_group(self) -> str:
        item = self.groups.currentItem()
        return item.data(Qt.ItemDataRole.UserRole) if item else ALL

    def _show_wanted(self) -> None:
        self._keep_chosen(lambda: self.model.show_only(self._chosen_group(), self.filter.text().strip()))

    def _keep_chosen(self, change: Callable[[], None]) -> None:
        """Change which rows are shown; the chosen route stays chosen while it is among them."""
        number = self._chosen_row()
        change()
        place = None if number is None else self.model.place_of(number)
        if self.model.rowCount():
            self.table.selectRow(place or 0)
        self._show_details()

    def _chosen_row(self) -> int | None:
        index = self.table.currentIndex()
        return self.model.number_at(index.row()) if index.isValid() else None

    def _show_details(self) -> None:
        """Show the text of the chosen route and all that is open on it."""
        number = self._chosen_row()
        self._open_action.setEnabled(number is not None)
        self._accept_action.setEnabled(number is not None and bool(self.model.open_findings[number]))
        if number is None:
            self.details.setText("")
            return
        row, found = self.worklist.rows[number].route, self.model.open_findings[number]
        lines = [self.worklist.inputs[number].route, *map(_describe_finding, found)]
        self.details.setText("\n".join([*lines, row.how_much if found else row.headline]))

    def _accept(self, number: int, finding: RowFinding, reason: str, by: str) -> None:
        at = f"{self._now():%Y-%m-%dT%H:%M:%SZ}"
        row = self.worklist.rows[number]
        try:
            self.worklist.acceptances.add(row, finding, reason=reason.strip(), by=by.strip(), at=at)
        except OSError as trouble:
            where = self.worklist.acceptances.path.name
            self.message.setText(f"Not accepted: {where} cannot be written: {system_reason(trouble)}.")
            return
        self._by = by.strip()
        self.accepted_by.emit(self._by)
        self._keep_chosen(self.model.take_acceptances)
        self._show_groups()
        self.message.setText(f"Accepted, and kept in {self.worklist.acceptances.path.name}.")


def _describe_finding(finding: RowFinding) -> str:
    intended = f" Likely intended: {finding.likely_intended}." if finding.likely_intended else ""
    return f"{WEIGHT_MARKS[finding.weight]} {WEIGHT_NAMES[finding.weight]}: {finding.message}{intended}"


assert len(_WIDTHS) == len(COLUMNS)
