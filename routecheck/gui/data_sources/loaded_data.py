"""The navigation data in use: adding and removing files, a file for this session only, the demo region only."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from routecheck.gui import open_files
from routecheck.gui.known.known_in_use import KnownInUse
from routecheck.settings import DataError

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Callable, Sequence

    from PySide6.QtWidgets import QWidget

    from routecheck.gui.data_sources.window import DataSourcesWindow
    from routecheck.gui.session import Session
    from routecheck.presentation.assessment_view import AssessmentView


_LOAD, _USE_ADDED = "Load real navigation data…", "Use the navigation data added"
_USE_DEMO = "Use the invented demo region"


class LoadedData(QObject):
    """Chooses the navigation data in use. The session loads it, off the window's thread."""

    def __init__(self, session: Session, parent: QWidget, today: Callable[[], dt.date]) -> None:
        super().__init__(parent)
        self._session = session
        self._parent = parent
        self._today = today
        self._window: DataSourcesWindow | None = None
        self._is_demo_for_route = self._is_any_added = False
        self.known = KnownInUse(session, parent, today)
        self.loader: object = open_files.StoredData()
        """The loader of the data in use."""
        session.data_loaded.connect(self._remember_loader)
        session.assessed.connect(lambda _: self._show_sources())

    @property
    def is_demo(self) -> bool:
        """Whether the invented region only is in use, because somebody asked for it."""
        return isinstance(self.loader, open_files.DemoRegion)

    def use_demo_only(self, on: bool) -> None:
        """Use the invented demo region only, or again what was added."""
        wanted = open_files.DemoRegion() if on else open_files.StoredData()
        if wanted != self.loader:
            self._session.load_data(wanted)

    def use_demo_for_route(self) -> None:
        """Use the demo region for the demo route, until another route is opened."""
        self._is_demo_for_route = self._is_demo_for_route or not self.is_demo
        self.use_demo_only(True)

    def restore_after_demo(self) -> None:
        """Use again what was used before the demo route was opened."""
        if self._is_demo_for_route:
            self._is_demo_for_route = False
            self.use_demo_only(False)

    def describe_offer(self, answer: AssessmentView) -> str:
        """Which other data fits the route of an answer, for the button of `offer_data`; "" = none is offered."""
        if answer.offer_demo:
            return _USE_DEMO
        if not answer.offer_data:
            return ""
        return _USE_ADDED if self._is_any_added else _LOAD

    def offer_data(self) -> None:
        """Use what the button offers: the demo region, what was added, or files that it asks for."""
        from routecheck.navdata import store

        answer = self._session.answer
        if answer is not None and answer.offer_demo:
            self.use_demo_only(True)
            return
        try:
            added = store.stored_files()
        except DataError as trouble:
            self._session.data_failed.emit(str(trouble))
            return
        if added:
            self.use_demo_only(False)
        else:
            self.ask_for_files()

    def add_files(self, paths: Sequence[str]) -> None:
        """Add files for good."""
        self._session.load_data(open_files.AddFiles(tuple(paths)))

    def add_for_session(self, paths: Sequence[str]) -> None:
        """Load files for this session only, beside those loaded for it before."""
        before = self.loader.paths if isinstance(self.loader, open_files.DataFiles) else ()
        self._session.load_data(open_files.DataFiles(tuple(dict.fromkeys([*before, *paths]))))

    def ask_for_files(self) -> None:
        """Ask for files and add them for good."""
        from routecheck.gui import dialogs

        if paths := dialogs.files_to_open(self._parent, "Add navigation data"):
            self.add_files(paths)

    def ask_for_session_files(self) -> None:
        """Ask for files and load them for this session only."""
        from routecheck.gui import dialogs

        if paths := dialogs.files_to_open(self._parent, "Open navigation data for this session only"):
            self.add_for_session(paths)

    def show_window(self) -> DataSourcesWindow:
        """Show the data sources in use."""
        from routecheck.gui.data_sources.window import DataSourcesWindow

        if self._window is None:
            self._window = DataSourcesWindow(self._parent, self._today)
            self._window.add_wanted.connect(self.ask_for_files)
            self._window.remove_wanted.connect(lambda name: self._session.load_data(open_files.RemoveFile(name)))
            self._window.stop_wanted.connect(self._session.stop_loading)
            self._session.data_failed.connect(self._window.show_message)
            self._session.load_progressed.connect(self._window.show_progress)
        self._show_sources()
        self._window.show()
        return self._window

    def _remember_loader(self, loader: object) -> None:
        is_lasting = isinstance(loader, open_files.AddFiles | open_files.RemoveFile)
        self.loader = open_files.StoredData() if is_lasting else loader
        self._is_any_added = _is_any_added()

    def _show_sources(self) -> None:
        if self._window is not None and self._session.answer is not None:
            self._window.show_sources(self._session.answer.assessment.route.resolved.sources)


def _is_any_added() -> bool:
    """Whether navigation data was added for good. Where that cannot be known, there is none to offer."""
    from routecheck.navdata import store

    try:
        return bool(store.stored_files())
    except DataError:
        return False
