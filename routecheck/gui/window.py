"""The window: panes, menus and foot line put together, and what the actions do. Meaning lives in present/."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import (
    QApplication,
    QFileDialog,
    QFrame,
    QHBoxLayout,
    QLabel,
    QMainWindow,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from routecheck.gui import actions, dialogs, keeping, opening
from routecheck.gui.actions import Key, action
from routecheck.gui.margin import Margin
from routecheck.gui.picture_view import PictureView
from routecheck.gui.route_text import RouteText
from routecheck.gui.status_row import StatusRow
from routecheck.gui.strip import Strip
from routecheck.gui.theme import dress, forget_fonts, state_bytes, theme_now, words
from routecheck.model import CAUTION
from routecheck.present.picture import empty_picture
from routecheck.settings import DataError, UsageError

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Callable

    from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent

    from routecheck.gui.session import Session
    from routecheck.present.picks import Pick
    from routecheck.present.screen import Screen

_GAP = 12


class Window(QMainWindow):
    """A proof-reader's desk: the text as typed, the Margin beside it, the Picture beneath, the figures under that."""

    def __init__(self, session: Session, today: Callable[[], dt.date]) -> None:
        super().__init__()
        self.setWindowTitle("Routecheck")
        self.setAcceptDrops(True)
        self.session = session
        self._data = opening.DataFiles()
        self._scheme = Qt.ColorScheme.Unknown
        self._theme = theme_now()
        self._keeper = keeping.Keeper(self)
        self.strip = Strip(today)
        self.text = RouteText(self._theme)
        self.status = StatusRow()
        self.picture = PictureView(session, self._theme)
        self._make_menus()
        self.margin = Margin(session, self._theme, self._previous, self._next)
        self._lay_out()
        self._connect()
        self._show_entry()
        self._restore_layout()

    def open_route(self, path: str) -> None:
        """Show the first route of a file; say in words what is wrong with one that cannot be read."""
        try:
            entry, more = opening.read_route(path)
        except (DataError, UsageError, OSError) as trouble:
            self.status.say(f"Not opened. {trouble}")
            return
        self._bring(entry)
        self.status.say(more)

    def open_demo(self) -> None:
        """Show the route of the invented region."""
        self._bring(opening.demo_route())

    def show_first_finding(self) -> None:
        """Open the first finding with the next answer: at the first start there is something to read and to click."""
        self.session.assessed.connect(lambda _: self.session.pick_finding(0), Qt.ConnectionType.SingleShotConnection)

    def open_before(self) -> None:
        """Bring back the route that was there before this one."""
        before = keeping.read_entry(keeping.ROUTE_BEFORE)
        if before is None:
            self.status.say("There is no route before this one.")
        else:
            self._bring(before)

    def open_library(self, paths: list[str]) -> None:
        """Load files of navigation data beside those of this session."""
        together = tuple(dict.fromkeys([*self._data.paths, *paths]))
        self.session.load(opening.DataFiles(together))

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802
        """Keep route and layout, end the worker."""
        self._keeper.finish()
        states = {"geometry": self.saveGeometry(), "split": self._split.saveState()}
        layout = {k: bytes(v.toBase64().data()).decode("ascii") for k, v in states.items()}
        keeping.write(keeping.LAYOUT, {**layout, "theme": self._scheme.name})
        self.session.close()
        super().closeEvent(event)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:  # noqa: N802
        """Take files."""
        if event.mimeData().hasUrls():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:  # noqa: N802
        """Open a dropped file."""
        paths = [url.toLocalFile() for url in event.mimeData().urls() if url.isLocalFile()]
        if paths:
            self.open_route(paths[0])

    def _bring(self, entry: object) -> None:
        keeping.write_entry(self.session.entry, keeping.ROUTE_BEFORE)
        self.session.replace(entry)  # type: ignore[arg-type]
        self.text.setFocus()

    def _show_entry(self) -> None:
        self.text.set_route(self.session.entry.route)
        self.strip.show_entry(self.session.entry)

    def _typed(self) -> None:
        entry = dataclasses.replace(self.session.entry, route=self.text.toPlainText(), unread="")
        self.session.change(self.strip.applied(entry))
        self.status.say(self.strip.trouble())

    def _show_screen(self, screen: Screen) -> None:
        self.text.mark(screen.assessment.findings)
        self.status.show_recognised(screen.recognised, offer_data=screen.offer_data)
        self.foot.setText(screen.totals)

    def _show_loss(self, why: str) -> None:
        self.text.mark(())
        self.margin.show_loss(why)
        self.picture.show_picture(empty_picture())
        self.status.show_recognised("", offer_data=True)
        self.foot.setText("Nothing checked")

    def _took_data(self, loader: object) -> None:
        if isinstance(loader, opening.DataFiles):
            self._data = loader

    def _show_pick(self, pick: Pick | None) -> None:
        self.text.show_picked(pick.spans if pick else ())

    def _connect(self) -> None:
        session = self.session
        session.replaced.connect(self._show_entry)
        session.assessed.connect(self._show_screen)
        session.picked.connect(self._show_pick)
        session.changed.connect(self._keeper.keep)
        session.lost.connect(self._show_loss)
        session.troubled.connect(self.status.say)
        session.loaded.connect(self._took_data)
        session.loading.connect(self.status.show_progress)
        self.text.typed.connect(self._typed)
        self.text.word_picked.connect(session.pick_span)
        self.text.file_dropped.connect(self.open_route)
        self.strip.edited.connect(self._typed)
        self.status.wants_data.connect(self._ask_library)
        self.status.wants_stop.connect(session.stop_loading)
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._dress)
        QApplication.instance().fontChanged.connect(self._refresh_fonts)  # type: ignore[union-attr]

    def _make_menus(self) -> None:
        self._previous = action(self, "◂ Previous finding", "Shift+F8", lambda: self.session.step(-1))
        self._next = action(self, "Next finding ▸", "F8", lambda: self.session.step(1))
        self._themes = actions.theme_actions(self, self._choose_theme)
        bar = self.menuBar()
        actions.fill(bar.addMenu("&File"), [
            action(self, "&Open route…", Key.Open, self._ask_route),
            action(self, "Open &navigation data for this session…", "Ctrl+Shift+O", self._ask_library),
            action(self, "Open the &demo route", "Ctrl+Shift+D", self.open_demo),
            action(self, "Bring back the route &before", "Ctrl+Shift+B", self.open_before),
            None,
            action(self, "&Quit", "Ctrl+Q", self.close),
        ])  # fmt: skip
        actions.fill(bar.addMenu("&Route"), [
            self._next,
            self._previous,
            action(self, "Pick &nothing", "Esc", lambda: self.session.pick(None)),
            None,
            action(self, "Go to the route &text", "Ctrl+L", lambda: self.text.setFocus()),
            action(self, "Go to the &findings", "Ctrl+M", lambda: self.margin.findings.setFocus()),
            None,
            action(self, "&Undo typing", Key.Undo, lambda: self.text.undo()),
            action(self, "&Redo typing", Key.Redo, lambda: self.text.redo()),
        ])  # fmt: skip
        actions.fill(bar.addMenu("&View"), [
            action(self, "&Fit the route in the Picture", "Ctrl+0", lambda: self.picture.fit()),
            action(self, "Zoom &in", Key.ZoomIn, lambda: self.picture.zoom(0.7)),
            action(self, "Zoom &out", Key.ZoomOut, lambda: self.picture.zoom(1 / 0.7)),
            None,
            *self._themes,
        ])  # fmt: skip
        actions.fill(bar.addMenu("&Help"), [
            action(self, "&Shortcuts", Key.HelpContents, lambda: dialogs.show_shortcuts(self)),
            action(self, "&About Routecheck", "Shift+F1", lambda: dialogs.show_about(self)),
        ])  # fmt: skip

    def _lay_out(self) -> None:
        sheet = QFrame()
        sheet.setObjectName("sheet")
        inside = QVBoxLayout(sheet)
        inside.setContentsMargins(6, 2, 6, 6)
        inside.setSpacing(0)
        inside.addWidget(self.text)
        inside.addWidget(self.status)
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(_GAP, 8, _GAP, _GAP)
        column.setSpacing(8)
        column.addWidget(self.strip)
        column.addWidget(sheet)
        column.addWidget(self.picture, 1)
        self._split = QSplitter(Qt.Orientation.Horizontal)
        self._split.setChildrenCollapsible(False)
        self._split.setHandleWidth(1)
        self._split.addWidget(left)
        self._split.addWidget(self.margin)
        self._split.setStretchFactor(0, 1)
        self._split.setStretchFactor(1, 0)
        whole = QWidget()
        rows = QVBoxLayout(whole)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(0)
        rows.addWidget(self._split, 1)
        rows.addWidget(self._foot())
        self.setCentralWidget(whole)

    def _foot(self) -> QFrame:
        frame = QFrame()
        frame.setObjectName("foot")
        self.foot, self.caution = QLabel(), QLabel(CAUTION)
        row = QHBoxLayout(frame)
        row.setContentsMargins(_GAP + 2, 6, _GAP + 2, 6)
        row.addWidget(self.foot, 1)
        row.addWidget(self.caution)
        self._refresh_fonts()
        return frame

    def _refresh_fonts(self) -> None:
        forget_fonts()
        for label in (self.foot, self.caution):
            label.setFont(words(bold=True))
        for pane in (self.strip, self.text, self.status, self.margin):
            pane.refresh_font()
        self.picture.overlay.refresh()

    def _dress(self) -> None:
        self._theme = theme_now(self._scheme)
        app = QApplication.instance()
        if isinstance(app, QApplication):
            dress(app, self._theme)
        for pane in (self.text, self.picture, self.margin):
            pane.set_theme(self._theme)
        self._show_pick(self.session.pick_now)

    def _choose_theme(self, scheme: Qt.ColorScheme) -> None:
        self._scheme = scheme
        self._dress()

    def _restore_layout(self) -> None:
        kept = keeping.read(keeping.LAYOUT) or {}
        if not self.restoreGeometry(state_bytes(kept.get("geometry", ""))):
            self.resize(1360, 860)
        actions.tick(self._themes, kept.get("theme", ""))
        if not self._split.restoreState(state_bytes(kept.get("split", ""))):
            beside = self.margin.sizeHint().width()
            self._split.setSizes([self.width() - beside, beside])

    def _ask_route(self) -> None:
        path, _ = QFileDialog.getOpenFileName(self, "Open route", "", "Routes (*.toml *.txt *.csv);;All files (*)")
        if path:
            self.open_route(path)

    def _ask_library(self) -> None:
        paths, _ = QFileDialog.getOpenFileNames(self, "Open navigation data for this session")
        if paths:
            self.open_library(paths)
