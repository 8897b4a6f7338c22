"""Opens what the Help menu has. Each window is imported when it is first wanted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt

if TYPE_CHECKING:
    from PySide6.QtWidgets import QDialog, QMainWindow

    from routecheck.gui.data_sources.loaded_data import LoadedData
    from routecheck.gui.help.check_help import CheckHelp
    from routecheck.gui.help.sample_list import SampleList
    from routecheck.gui.route_files import RouteFiles
    from routecheck.gui.session import Session
    from routecheck.model import RouteInput


class HelpWindows(QObject):
    """The windows that help: samples, checks explained, shortcuts, About."""

    def __init__(self, session: Session, files: RouteFiles, data: LoadedData, host: QMainWindow) -> None:
        super().__init__(host)
        self._session, self._files, self._data, self._host = session, files, data, host

    def show_samples(self) -> SampleList:
        """Show the list of sample routes, each of which is shown on the invented region."""
        from routecheck.gui.help.sample_list import SampleList

        samples = SampleList(self._host)
        samples.opened.connect(self._open_sample)
        samples.show()
        return samples

    def explain_check(self) -> CheckHelp:
        """Explain the check of the selected finding, or the first of all."""
        from routecheck.gui.help.check_help import CheckHelp

        selection, answer = self._session.selection, self._session.answer
        picked = selection.findings[:1] if selection and answer else ()
        explained = CheckHelp(self._host, *(answer.assessment.findings[index].check for index in picked if answer))
        explained.show()
        return explained

    def show_shortcuts(self) -> QDialog:
        """Show the sheet of shortcuts."""
        from routecheck.gui import dialogs

        return dialogs.show_shortcuts(self._host)

    def show_about(self) -> QDialog:
        """Show what this is, and the cautions."""
        from routecheck.gui import dialogs

        return dialogs.show_about(self._host)

    def _open_sample(self, route_input: RouteInput) -> None:
        """Show a sample, and open its first finding: the reason stands there at once."""
        self._data.use_demo_for_route()
        self._files.show(route_input)
        self._session.assessed.connect(self._open_first_finding, Qt.ConnectionType.SingleShotConnection)

    def _open_first_finding(self) -> None:
        self._session.select_finding(0)
