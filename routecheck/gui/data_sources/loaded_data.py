"""Which navigation data the window works with: adding, removing, a file for this session, the invented region alone."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from routecheck.gui import open_files
from routecheck.settings import DataError

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Callable, Sequence

    from PySide6.QtWidgets import QWidget

    from routecheck.gui.data_sources.window import DataWindow
    from routecheck.gui.session import Session


class NavigationData(QObject):
    """The data in use. What is loaded is loaded by the session, off the GUI thread."""

    def __init__(self, session: Session, parent: QWidget, today: Callable[[], dt.date]) -> None:
        super().__init__(parent)
        self._session = session
        self._parent = parent
        self._today = today
        self._window: DataWindow | None = None
        self._lent = False
        self.loader: object = open_files.StoredData()
        """What the data in use was loaded by."""
        session.loaded.connect(self._took)
        session.assessed.connect(lambda _: self._show_sources())

    @property
    def is_demo(self) -> bool:
        """Whether the invented region alone is in use, because somebody asked for it."""
        return isinstance(self.loader, open_files.DemoRegion)

    def choose(self, *, demo: bool) -> None:
        """Use the invented region alone, or what was added."""
        wanted = open_files.DemoRegion() if demo else open_files.StoredData()
        if wanted != self.loader:
            self._session.load(wanted)

    def lend_demo(self) -> None:
        """Use the invented region for its demo route, until another route is opened."""
        self._lent = self._lent or not self.is_demo
        self.choose(demo=True)

    def take_demo_back(self) -> None:
        """Use again what was used before the demo route was opened."""
        if self._lent:
            self._lent = False
            self.choose(demo=False)

    def offer(self) -> None:
        """Use what was added, or where nothing was, ask for files to add."""
        from routecheck.navdata import store

        try:
            added = store.stored_files()
        except DataError as trouble:
            self._session.troubled.emit(str(trouble))
            return
        if added:
            self.choose(demo=False)
        else:
            self.ask()

    def add(self, paths: Sequence[str]) -> None:
        """Add files for good."""
        self._session.load(open_files.AddFiles(tuple(paths)))

    def open_for_session(self, paths: Sequence[str]) -> None:
        """Load files for this session only, beside those loaded for it before."""
        before = self.loader.paths if isinstance(self.loader, open_files.DataFiles) else ()
        self._session.load(open_files.DataFiles(tuple(dict.fromkeys([*before, *paths]))))

    def ask(self) -> None:
        """Ask for files and add them for good."""
        from routecheck.gui import dialogs

        if paths := dialogs.files_to_open(self._parent, "Add navigation data"):
            self.add(paths)

    def ask_for_session(self) -> None:
        """Ask for files and load them for this session only."""
        from routecheck.gui import dialogs

        if paths := dialogs.files_to_open(self._parent, "Open navigation data for this session only"):
            self.open_for_session(paths)

    def show(self) -> DataWindow:
        """Show the data sources in use."""
        from routecheck.gui.data_sources.window import DataWindow

        if self._window is None:
            self._window = DataWindow(self._parent, self._today)
            self._window.wants_add.connect(self.ask)
            self._window.wants_remove.connect(lambda name: self._session.load(open_files.RemoveFile(name)))
            self._window.wants_stop.connect(self._session.stop_loading)
            self._session.troubled.connect(self._window.say)
            self._session.loading.connect(self._window.show_progress)
        self._show_sources()
        self._window.show()
        return self._window

    def _took(self, loader: object) -> None:
        is_lasting = isinstance(loader, open_files.AddFiles | open_files.RemoveFile)
        self.loader = open_files.StoredData() if is_lasting else loader

    def _show_sources(self) -> None:
        if self._window is not None and self._session.answer is not None:
            self._window.show_sources(self._session.answer.assessment.route.resolved.sources)
