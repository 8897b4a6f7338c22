"""The window: puts the panes together and does what the actions ask. presentation/ says what is shown."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QWidget

from routecheck.gui import menus, open_files, persistence
from routecheck.gui.chart_stage import ChartStage
from routecheck.gui.comparison.box import ComparisonBox
from routecheck.gui.data_sources.loaded_data import LoadedData
from routecheck.gui.exports import Exports
from routecheck.gui.file_drops import FileDropWindow
from routecheck.gui.foot import Foot
from routecheck.gui.help.help_windows import HelpWindows
from routecheck.gui.leg_table.pane import LegTablePane
from routecheck.gui.load.pane import LoadPane
from routecheck.gui.margin.acceptance_actions import AcceptanceActions
from routecheck.gui.margin.pane import Margin
from routecheck.gui.margin.runway_change_banner import RunwayChangeBanner
from routecheck.gui.new_clearance.clearance_actions import ClearanceActions
from routecheck.gui.outdated_veils import OutdatedVeils
from routecheck.gui.pane_layout import PaneLayout
from routecheck.gui.picture.pane import PicturePane
from routecheck.gui.recent_files import RecentFiles
from routecheck.gui.route_files import RouteFiles
from routecheck.gui.route_text.column_actions import ColumnActions
from routecheck.gui.route_text.correction_actions import CorrectionActions
from routecheck.gui.route_text.editor import RouteText
from routecheck.gui.route_text.flight_fields import FlightFields
from routecheck.gui.route_text.next_flight import NextFlight
from routecheck.gui.route_text.pasted_text import PastedText
from routecheck.gui.route_text.pending_changes_bar import PendingChangesBar
from routecheck.gui.route_text.route_entry import RouteEntry
from routecheck.gui.route_text.status_row import StatusRow
from routecheck.gui.sheets.aircraft_sheets import AircraftSheets
from routecheck.gui.side_view.pane import SidePane
from routecheck.gui.theme import apply_theme, clear_font_cache, current_theme, follow_font
from routecheck.gui.undo_history import UndoHistory
from routecheck.gui.widgets.chart_import import ChartImport
from routecheck.gui.window_state import WindowState
from routecheck.gui.worklist.opening import Worklists
from routecheck.presentation.trial import find_changed_words

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Callable

    from PySide6.QtGui import QCloseEvent

    from routecheck.gui.margin.finding_actions import ButtonAction
    from routecheck.gui.pane import Pane
    from routecheck.gui.session import Session
    from routecheck.model import Assessment
    from routecheck.presentation.assessment_view import AssessmentView
    from routecheck.presentation.selection import Selection


class MainWindow(FileDropWindow):
    """A proof-reader's desk: the text as typed, the Margin beside it, the Picture beneath, the figures under that.

    The small windows are imported when they are first wanted: the start must not wait for them.
    """

    def __init__(self, session: Session, today: Callable[[], dt.date]) -> None:
        super().__init__()
        self.session = session
        self.saver = persistence.RouteSaver(self)
        self.files = RouteFiles(session, self.saver, self)
        self.data = LoadedData(session, self, today)
        self.exports = Exports(session, self)
        self.help = HelpWindows(session, self.files, self.data, self)
        self.acceptance = AcceptanceActions(session, self)
        self.corrections = CorrectionActions(session, self)
        self.columns = ColumnActions(session, self)
        self.worklists = self._make_worklists(today)
        self._scheme = Qt.ColorScheme.Unknown
        self.theme = current_theme()
        self._make_panes(session, today)
        self.recent, self.history = RecentFiles(self), UndoHistory(session, self.text, self.flight_fields, self)
        self.veils = OutdatedVeils(session, (self.margin.findings, self.picture, self.side, self.legs), self)
        self._make_menus()
        self._lay_out()
        self.changes.refresh()
        self._connect()
        self._show_input()
        self._name_window()
        self.state.restore()
        self.text.setFocus()

    def open_route(self, path: str) -> None:
        """Show the first route of a file once it is read; say in words what is wrong with one that cannot be read."""
        self.files.open(path)

    def open_demo(self) -> None:
        """Show the route of the invented region, on the data of the invented region."""
        self.data.use_demo_for_route()
        self.files.show(open_files.read_demo_route())

    def open_before(self) -> None:
        """Bring back the route that was there before this one."""
        self.files.show_before()

    def start_new_route(self) -> None:
        """Empty the text and the fields for the next flight; undo brings the last one back."""
        last = self.session.route_input
        self.session.reader.drop()
        self.files.note_file(last, None)
        self.next_flight.start_new_route(last)
        self.data.restore_after_demo()
        self.text.setFocus()

    def save_route(self) -> None:
        """Write the route back to its file; ask for one where there is none."""
        if self.files.path is None:
            self.save_route_as()
        else:
            self.files.save(self.files.path)

    def save_route_as(self) -> None:
        """Ask for a file and write the route to it."""
        from routecheck.gui import dialogs

        route_input = self.session.route_input
        name = f"{route_input.departure or 'route'}-{route_input.destination}".strip("-") + open_files.SUFFIX
        folder = self.files.path.parent if self.files.path else Path.home()
        if path := dialogs.file_to_save(self, "Save route as", folder / name, "Route files (*.route.toml)"):
            self.files.save(Path(path))

    def show_first_finding(self) -> None:
        """Open the first finding with the next answer: at the first start there is something to read and to click."""
        self.session.assessed.connect(lambda _: self.session.select_finding(0), Qt.ConnectionType.SingleShotConnection)

    def go_to_pane(self, pane: Pane) -> None:
        """Let the keyboard move in a pane, and bring it to the front."""
        if isinstance(pane, QWidget):
            self.stage.reveal(pane)
        pane.take_focus()

    def ask_route(self) -> None:
        """Ask for a route file and open it."""
        from routecheck.gui import dialogs
        from routecheck.reading.inputs import INPUT_FORMATS

        suffixes = " ".join(f"*{suffix}" for one in INPUT_FORMATS for suffix in one.suffixes)
        if path := dialogs.file_to_open(self, "Open route", f"Routes ({suffixes});;All files (*)"):
            self.open_route(path)

    def choose_theme(self, scheme: Qt.ColorScheme) -> None:
        """Use the light or the dark theme, or (Unknown) that of the system."""
        self._scheme = scheme
        self.apply_theme()

    def closeEvent(self, event: QCloseEvent) -> None:  # noqa: N802
        """Keep route and layout, end the worker."""
        if not self.sheets.may_close():
            event.ignore()
            return
        self.worklists.close()
        self.saver.save_soon(self.session.route_input)
        self.saver.finish()
        self.state.save(theme=self._scheme.name, is_demo=self.data.is_demo)
        self.session.close()
        super().closeEvent(event)

    def _make_panes(self, session: Session, today: Callable[[], dt.date]) -> None:
        self.flight_fields = FlightFields(today)
        self.sheets = AircraftSheets(session, self.flight_fields, self)
        self.text = RouteText(session, self.theme)
        self.status = StatusRow()
        self.changes = PendingChangesBar(self.corrections)
        self.pasted = PastedText(self.theme)
        self.drawing = ChartImport(self)
        self.menu_actions = menus.make_actions(self, session, self.data, self.acceptance)
        self.picture = PicturePane(session, self.theme, self.drawing, self.menu_actions.use_ruler)
        self.side = SidePane(
            session, self.theme, self.drawing, self.menu_actions.fold_side, self.menu_actions.side_looks
        )
        self.legs = LegTablePane(session, self.theme, self.menu_actions.fold_legs, self.menu_actions.copy_legs)
        self.load = LoadPane(session, self.theme, self.menu_actions.fold_load)
        self.margin = Margin(session, self.theme, self.menu_actions.previous, self.menu_actions.following)
        self.runway_banner = RunwayChangeBanner(session, self.flight_fields.is_runway_half_typed)
        self.comparison = ComparisonBox(session)
        self.next_flight = NextFlight(self.text, self.flight_fields, self.corrections, self.saver)
        self.entry = RouteEntry(session, self.text, self.flight_fields, self.corrections, self.next_flight)
        self.clearance = ClearanceActions(session, self.next_flight, self)
        self.margin.insert_above_findings(self.clearance.box, self.runway_banner, self.comparison)
        self.margin.findings.list_buttons = self._list_buttons
        self.margin.findings.corrections = self.corrections
        boxes = self.clearance.box, self.runway_banner, self.comparison
        upper = (self.flight_fields, self.text, self.pasted, self.changes, self.status, self.margin, *boxes)
        self.foot = Foot()
        self.panes: tuple[Pane, ...] = (*upper, self.picture, self.side, self.legs, self.load, self.foot)

    def _show_input(self) -> None:
        self.text.mark_findings()
        self.text.set_route(self.session.route_input.route)
        self.flight_fields.show_input(self.session.route_input)
        self.session.assessed.connect(lambda _: self.stage.share_room(), Qt.ConnectionType.SingleShotConnection)
        self.pasted.show_pasted(self.session.route_input.pasted)

    def _show_answer(self, answer: AssessmentView) -> None:
        self._show_changed()
        self.text.mark_findings(answer.assessment.findings, answer.accepted)
        self.status.show_recognised(answer.recognised, offer=self.data.describe_offer(answer))
        self.foot.show_answer(answer)

    def _show_changed(self) -> None:
        self.text.show_changed(find_changed_words(self.text.toPlainText(), self.corrections.unticked_words))

    def _list_buttons(self, finding: int) -> list[ButtonAction]:
        """The buttons under an open finding."""
        return [*self.acceptance.buttons_for(finding), ("About this check…", self.help.explain_check)]

    def _show_trial(self, then: Assessment | None) -> None:
        for pane in self.panes:
            pane.show_trial(then)

    def _show_outdated(self) -> None:
        for pane in self.panes:
            pane.show_outdated()

    def _show_nothing(self, why: str) -> None:
        for pane in self.panes:
            pane.show_nothing(why)

    def _show_selection(self, selection: Selection | None) -> None:
        self.text.show_selected(selection.spans if selection else ())

    def _name_window(self) -> None:
        name = self.files.path.name if self.files.path else ""
        self.setWindowTitle(f"{name}[*] – Routecheck" if name else "Routecheck[*]")
        self.setWindowModified(self.files.differs)

    def _connect(self) -> None:
        session = self.session
        session.input_replaced.connect(self._show_input)
        session.assessed.connect(self._show_answer)
        session.selected.connect(self._show_selection)
        session.input_changed.connect(self.saver.save_soon)
        session.answer_outdated.connect(self._show_outdated)
        self.veils.covered.connect(self.text.mark_findings)
        session.answer_lost.connect(self._show_nothing)
        session.data_failed.connect(self.status.show_message)
        session.data_loaded.connect(lambda _: self.menu_actions.demo_data.setChecked(self.data.is_demo))
        session.load_progressed.connect(self.status.show_progress)
        session.reader.waiting.connect(self.status.show_message)
        self.files.reported.connect(self.status.show_message)
        self.acceptance.reported.connect(self.status.show_message)
        self.clearance.reported.connect(self.status.show_message)
        self.sheets.reported.connect(self.status.show_message)
        self.corrections.reported.connect(self.status.show_message)
        self.corrections.record_changed.connect(self._show_changed)
        self.corrections.trial_changed.connect(self._show_trial)
        self.files.changed.connect(self._name_window)
        self.files.file_used.connect(self.recent.add)
        self.recent.chosen.connect(self.open_route)
        self.history.restored.connect(self.entry.restore)
        self.entry.reported.connect(self.status.show_message)
        self.files.route_opened.connect(self.data.restore_after_demo)
        self.files.route_opened.connect(self.text.setFocus)
        self.text.plan_pasted.connect(self.files.take_plan)
        session.input_changed.connect(lambda now: self.pasted.show_pasted(now.pasted))
        self.text.word_selected.connect(session.select_words)
        self.text.file_dropped.connect(self.open_route)
        self.text.refused.connect(self.status.show_message)
        self.flight_fields.refused.connect(self.status.show_message)
        self.flight_fields.runway_settled.connect(self.runway_banner.accept_typed_runway)
        self.status.data_wanted.connect(self.data.offer_data)
        self.pasted.columns_wanted.connect(lambda: self.columns.show_dialog(self))
        self.columns.refused.connect(self.status.show_message)
        self.exports.reported.connect(self.status.show_message)
        self.status.stop_wanted.connect(session.stop_loading)
        QGuiApplication.styleHints().colorSchemeChanged.connect(self.apply_theme)
        follow_font(self.apply_theme)

    def _make_worklists(self, today: Callable[[], dt.date]) -> Worklists:
        return Worklists(
            self,
            files=self.files,
            data=self.data,
            acceptance=self.acceptance,
            settings=lambda: self.session.settings,
            today=today,
        )

    def _make_menus(self) -> None:
        parts = menus.Parts(
            commands=self,
            session=self.session,
            data=self.data,
            corrections=self.corrections,
            columns=self.columns,
            sheets=self.sheets,
            text=self.text,
            picture=self.picture,
            side=self.side,
            legs=self.legs,
            runway_banner=self.runway_banner,
            comparison=self.comparison,
            clearance=self.clearance,
            exports=self.exports,
            worklists=self.worklists,
            recent=self.recent,
            help=self.help,
            history=self.history,
            panes=self.panes,
        )
        self._themes = menus.make_menus(self, self.menu_actions, parts)

    def _lay_out(self) -> None:
        self.stage = ChartStage(self.picture, self.side, self.legs)
        self._layout = PaneLayout(
            strip=self.flight_fields,
            text=(self.text, self.pasted, self.changes, self.status),
            stage=self.stage,
            load=self.load,
            margin=self.margin,
            foot=self.foot,
        )
        self.setCentralWidget(self._layout)
        self.setTabOrder(self.flight_fields.last_field, self.text)
        self.setTabOrder(self.text, self.margin.findings)
        self.state = WindowState(
            host=self,
            layout=self._layout,
            folds=self.menu_actions,
            themes=self._themes,
            side=self.side,
            acceptance=self.acceptance,
        )
        self._refresh_fonts()

    def _refresh_fonts(self) -> None:
        clear_font_cache()
        for pane in self.panes:
            pane.refresh_font()
        self.stage.refresh_font()

    def apply_theme(self) -> None:
        """Give the whole application the colours of the theme. A new window takes them once it stands.

        Qt works a style sheet out anew at every step of building, which takes as long as the building itself.
        """
        self.theme = current_theme(self._scheme)
        apply_theme(QApplication.instance(), self.theme)  # type: ignore[arg-type]
        self._refresh_fonts()  # a style sheet set anew gives widgets back the fonts they had under the last one
        for pane in self.panes:
            pane.set_theme(self.theme)
        self._show_selection(self.session.selection)
