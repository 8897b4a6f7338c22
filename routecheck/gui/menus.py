"""The menus of the window: what stands where, under which keys. What is acted on is given by the window, as Parts."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from routecheck.frozen_dataclass import dataclass
from routecheck.gui import actions
from routecheck.gui.actions import StandardKey, make_action

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PySide6.QtCore import Qt
    from PySide6.QtGui import QAction
    from PySide6.QtWidgets import QMainWindow

    from routecheck.gui.comparison.box import ComparisonBox
    from routecheck.gui.data_sources.loaded_data import LoadedData
    from routecheck.gui.exports import Exports
    from routecheck.gui.help.help_windows import HelpWindows
    from routecheck.gui.leg_table.pane import LegTablePane
    from routecheck.gui.margin.acceptance_actions import AcceptanceActions
    from routecheck.gui.margin.runway_change_banner import RunwayChangeBanner
    from routecheck.gui.new_clearance.clearance_actions import ClearanceActions
    from routecheck.gui.pane import Pane
    from routecheck.gui.picture.pane import PicturePane
    from routecheck.gui.recent_files import RecentFiles
    from routecheck.gui.route_text.column_actions import ColumnActions
    from routecheck.gui.route_text.correction_actions import CorrectionActions
    from routecheck.gui.route_text.editor import RouteText
    from routecheck.gui.session import Session
    from routecheck.gui.sheets.aircraft_sheets import AircraftSheets
    from routecheck.gui.side_view.pane import SidePane
    from routecheck.gui.undo_history import UndoHistory
    from routecheck.gui.worklist.opening import Worklists


class Commands(Protocol):
    """What the window itself can be told to do."""

    def start_new_route(self) -> None:
        """Empty the text and the fields for the next flight."""

    def go_to_pane(self, pane: Pane) -> None:
        """Let the keyboard move in a pane."""

    def ask_route(self) -> None:
        """Ask for a route file and open it."""

    def save_route(self) -> None:
        """Write the route back to its file."""

    def save_route_as(self) -> None:
        """Ask for a file and write the route to it."""

    def open_demo(self) -> None:
        """Show the demo route."""

    def open_before(self) -> None:
        """Bring back the route that was there before this one."""

    def choose_theme(self, scheme: Qt.ColorScheme) -> None:
        """Use a theme."""

    def close(self) -> bool:
        """End."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """What the menus act on."""

    commands: Commands
    session: Session
    data: LoadedData
    corrections: CorrectionActions
    columns: ColumnActions
    sheets: AircraftSheets
    text: RouteText
    picture: PicturePane
    side: SidePane
    legs: LegTablePane
    runway_banner: RunwayChangeBanner
    comparison: ComparisonBox
    clearance: ClearanceActions
    exports: Exports
    worklists: Worklists
    recent: RecentFiles
    help: HelpWindows
    history: UndoHistory
    panes: Sequence[Pane]

    def open_drill(self, host: QMainWindow) -> None:
        """Ask which drill: to go on with the one in hand, or for another."""
        from routecheck.gui.drill.opening import Drills

        (host.findChild(Drills) or Drills(host, self.session)).ask()

    def find_point(self) -> None:
        """Bring the Picture to the front and ask which point to go to."""
        self.commands.go_to_pane(self.picture)
        self.picture.find_point()


@dataclass(frozen=True, slots=True, kw_only=True)
class Actions:
    """The actions that panes show as buttons or that are ticked and unticked."""

    previous: QAction
    following: QAction
    accept: QAction
    take_back: QAction
    fold_legs: QAction
    fold_side: QAction
    fold_load: QAction
    side_looks: tuple[QAction, ...]
    copy_legs: QAction
    all_columns: QAction
    demo_data: QAction
    use_ruler: QAction
    straighten: QAction


def make_actions(host: QMainWindow, session: Session, data: LoadedData, acceptance: AcceptanceActions) -> Actions:
    """The actions that panes are made with. Those that act on panes do so once there are menus."""
    fold = make_action(host, "&Leg table", "Ctrl+T")
    fold.setCheckable(True)
    fold.setChecked(True)
    columns = make_action(host, "All &columns of the Leg table", "Ctrl+Alt+F")
    columns.setCheckable(True)
    side = make_action(host, "&Side view", "Ctrl+E")
    side.setCheckable(True)
    load = make_action(host, "Wei&ghts and fuel", "Ctrl+Shift+G")
    load.setCheckable(True)
    demo = make_action(host, "Use the &invented demo region only", "Ctrl+Shift+I")
    demo.setCheckable(True)
    demo.triggered.connect(lambda: data.use_demo_only(demo.isChecked()))
    ruler = make_action(host, "R&uler in the Picture", "Ctrl+R")
    ruler.setCheckable(True)
    straight = make_action(host, "St&raightened Picture", "Ctrl+D")
    straight.setCheckable(True)
    straight.toggled.connect(session.straighten)
    return Actions(
        previous=make_action(host, "◂ Previous finding", "Shift+F8", lambda: session.step_selection(-1)),
        following=make_action(host, "Next finding ▸", "F8", lambda: session.step_selection(1)),
        accept=make_action(host, "&Accept with reason…", "Ctrl+Shift+A", acceptance.accept),
        take_back=make_action(host, "Ta&ke back the acceptance", "Ctrl+Shift+K", acceptance.withdraw),
        fold_legs=fold,
        fold_side=side,
        fold_load=load,
        side_looks=tuple(_make_side_look(host, *look) for look in _SIDE_LOOKS),
        all_columns=columns,
        copy_legs=make_action(host, "&Copy the Leg table as CSV", "Ctrl+Shift+C"),
        demo_data=demo,
        use_ruler=ruler,
        straighten=straight,
    )


_SIDE_LOOKS = (
    ("Departure in the Side &view", "Departure", "Ctrl+7"),
    ("A&rrival in the Side view", "Arrival", "Ctrl+8"),
    ("&Whole route in the Side view", "Whole route", "Ctrl+9"),
)
"""What the Side view may look at: in the menu, in short on its button, keys."""


def _make_side_look(host: QMainWindow, text: str, short: str, keys: str) -> QAction:
    look = make_action(host, text, keys)
    look.setIconText(short)
    return look


def make_menus(host: QMainWindow, shared: Actions, parts: Parts) -> list[QAction]:
    """Put everything the window can do into its menus; gives the actions that choose the theme."""
    themes = actions.make_theme_actions(host, parts.commands.choose_theme)
    _connect_panes(shared, parts)
    for name, menu_actions in (
        ("&File", _make_file_actions(host, parts)),
        ("&Route", _make_route_actions(host, shared, parts)),
        ("&View", [*_make_view_actions(host, shared, parts), None, *themes]),
        ("&Data", _make_data_actions(host, shared, parts)),
        ("&Help", _make_help_actions(host, parts)),
    ):
        actions.fill_menu(host.menuBar().addMenu(name), menu_actions)
    return themes


def _connect_panes(shared: Actions, parts: Parts) -> None:
    shared.use_ruler.triggered.connect(lambda: parts.commands.go_to_pane(parts.picture))
    shared.copy_legs.triggered.connect(parts.legs.copy_csv)
    shared.all_columns.toggled.connect(parts.legs.show_all_columns)
    parts.legs.columns_button.clicked.connect(shared.all_columns.toggle)
    departure, arrival, whole = shared.side_looks
    departure.triggered.connect(lambda: parts.side.unfold().look_at_departure())
    arrival.triggered.connect(lambda: parts.side.unfold().look_at_arrival())
    whole.triggered.connect(lambda: parts.side.unfold().look_at_all())


def _make_file_actions(host: QMainWindow, parts: Parts) -> list[QAction | None]:
    commands, exports = parts.commands, parts.exports
    return [
        make_action(host, "&New route", StandardKey.New, commands.start_new_route),
        make_action(host, "&Open route…", StandardKey.Open, commands.ask_route),
        parts.recent.menuAction(),
        make_action(host, "&Save route", StandardKey.Save, commands.save_route),
        make_action(host, "Save route &as…", "Ctrl+Shift+S", commands.save_route_as),
        None,
        make_action(host, "Review s&heet…", "Ctrl+Alt+H", exports.save_sheet),
        make_action(host, "&Print the review sheet…", StandardKey.Print, exports.print_sheet),
        make_action(host, "Export the &route…", "Ctrl+Alt+R", exports.export_route),
        make_action(host, "&Export the Picture…", "Ctrl+Alt+P", lambda: exports.export_chart(parts.picture.chart)),
        make_action(host, "&Copy the Picture", "Ctrl+Alt+I", lambda: exports.copy_chart(parts.picture.chart)),
        make_action(host, "Export the Side &view…", "Ctrl+Alt+V", lambda: exports.export_chart(parts.side.unfold())),
        None,
        make_action(host, "Open a &worklist…", "Ctrl+Alt+O", parts.worklists.ask),
        make_action(host, "Back to the wor&klist", "Ctrl+Alt+B", parts.worklists.show),
        None,
        make_action(host, "Open the &demo route", "Ctrl+Shift+D", commands.open_demo),
        make_action(host, "Sa&mple routes…", "Ctrl+Alt+E", parts.help.show_samples),
        make_action(host, "Bring back the route &before", "Ctrl+Shift+B", commands.open_before),
        None,
        make_action(host, "&Quit", "Ctrl+Q", commands.close),
    ]


def _make_route_actions(host: QMainWindow, shared: Actions, parts: Parts) -> list[QAction | None]:
    return [
        shared.following,
        shared.previous,
        make_action(host, "Pick &nothing", "Esc", lambda: parts.session.select(None)),
        make_action(host, "Runway change &seen", "Ctrl+Shift+U", parts.runway_banner.hide),
        None,
        make_action(host, "Ne&w clearance…", "Ctrl+Alt+N", parts.clearance.ask),
        make_action(host, "Read ac&ross…", "Ctrl+Alt+A", parts.clearance.read_across),
        make_action(host, "&Looked at the route now", "Ctrl+Alt+K", parts.clearance.box.note_look),
        make_action(host, "Co&mpare with another version…", "Ctrl+Shift+M", parts.comparison.ask),
        make_action(host, "Stop c&omparing", "Ctrl+Alt+M", parts.comparison.stop),
        None,
        make_action(host, "&Try the likely-intended correction", "Ctrl+Shift+T", parts.corrections.try_selected),
        make_action(host, "C&hange here", "Ctrl+Shift+H", parts.corrections.apply_selected),
        None,
        shared.accept,
        shared.take_back,
        None,
        shared.copy_legs,
        make_action(host, "Columns of the pasted ta&ble…", "Ctrl+Alt+C", lambda: parts.columns.show_dialog(host)),
        None,
        make_action(host, "&Undo", StandardKey.Undo, parts.history.undo),
        make_action(host, "&Redo", StandardKey.Redo, parts.history.redo),
    ]


def _make_go_to(host: QMainWindow, commands: Commands, pane: Pane) -> QAction:
    assert pane.go_to is not None
    return make_action(host, *pane.go_to, lambda: commands.go_to_pane(pane))


def _make_view_actions(host: QMainWindow, shared: Actions, parts: Parts) -> list[QAction | None]:
    picture = parts.picture
    return [
        *(_make_go_to(host, parts.commands, pane) for pane in parts.panes if pane.go_to),
        None,
        shared.fold_side,
        shared.fold_legs,
        shared.all_columns,
        shared.fold_load,
        None,
        make_action(host, "Find a &point in the Picture…", StandardKey.Find, parts.find_point),
        shared.use_ruler,
        shared.straighten,
        make_action(host, "&Fit the route in the Picture", "Ctrl+0", picture.fit_route),
        make_action(host, "Zoom &in", StandardKey.ZoomIn, lambda: picture.zoom(0.7)),
        make_action(host, "Zoom &out", StandardKey.ZoomOut, lambda: picture.zoom(1 / 0.7)),
        make_action(host, "View &before in the Picture", "Alt+Left", picture.look_back),
        make_action(host, "View af&ter in the Picture", "Alt+Right", picture.look_forward),
        None,
        *shared.side_looks,
    ]


def _make_data_actions(host: QMainWindow, shared: Actions, parts: Parts) -> list[QAction | None]:
    data = parts.data
    return [
        make_action(host, "&Add navigation data…", "Ctrl+Shift+N", data.ask_for_files),
        make_action(host, "&Open navigation data for this session only…", "Ctrl+Shift+O", data.ask_for_session_files),
        make_action(host, "&Data sources…", "Ctrl+Shift+L", data.show_window),
        make_action(host, "&Known routes…", "Ctrl+Shift+R", data.known.show_window),
        None,
        shared.demo_data,
        make_action(host, "&Stop loading", "Ctrl+Shift+X", parts.session.stop_loading),
        None,
        make_action(host, "Aircraft s&heets…", "Ctrl+Shift+Y", parts.sheets.show_window),
    ]


def _make_help_actions(host: QMainWindow, parts: Parts) -> list[QAction | None]:
    shown = parts.help
    return [
        make_action(host, "&Drill…", "Ctrl+Alt+T", lambda: parts.open_drill(host)),
        None,
        make_action(host, "&Checks explained…", "Ctrl+F1", shown.explain_check),
        make_action(host, "&Shortcuts", StandardKey.HelpContents, shown.show_shortcuts),
        make_action(host, "&About Routecheck", "Shift+F1", shown.show_about),
    ]
