"""The menus of the window: what stands where, under which keys. What an action does is said in window."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from routecheck.gui import actions
from routecheck.gui.actions import Key, action

if TYPE_CHECKING:
    from PySide6.QtGui import QAction

    from routecheck.gui.window import MainWindow


@dataclass(frozen=True, slots=True)
class Actions:
    """The actions that panes show as buttons or that are ticked and unticked."""

    previous: QAction
    following: QAction
    accept: QAction
    take_back: QAction
    fold_legs: QAction
    fold_side: QAction
    side_looks: tuple[QAction, ...]
    copy_legs: QAction
    demo_data: QAction
    themes: list[QAction]


def make_actions(window: MainWindow) -> Actions:
    """The actions that panes need before there are menus."""
    fold = action(window, "&Leg table", "Ctrl+T", lambda: None)
    fold.setCheckable(True)
    fold.setChecked(True)
    side = action(window, "&Side view", "Ctrl+E", lambda: None)
    side.setCheckable(True)
    demo = action(
        window, "Use the &invented demo region only", "Ctrl+Shift+I", lambda: window.data.choose(demo=demo.isChecked())
    )
    demo.setCheckable(True)
    return Actions(
        previous=action(window, "◂ Previous finding", "Shift+F8", lambda: window.session.step(-1)),
        following=action(window, "Next finding ▸", "F8", lambda: window.session.step(1)),
        accept=action(window, "&Accept with reason…", "Ctrl+Shift+A", window.deeds.accept),
        take_back=action(window, "Ta&ke back the acceptance", "Ctrl+Shift+K", window.deeds.take_back),
        fold_legs=fold,
        fold_side=side,
        side_looks=_side_looks(window),
        copy_legs=action(window, "&Copy the Leg table as CSV", "Ctrl+Shift+C", lambda: window.legs.copy_csv()),
        demo_data=demo,
        themes=actions.theme_actions(window, window.choose_theme),
    )


def _side_looks(window: MainWindow) -> tuple[QAction, ...]:
    """What the Side view may look at; the short words stand on its buttons."""
    made = []
    for text, short, keys, look in (
        ("Departure in the Side &view", "Departure", "Ctrl+7", lambda: window.side.made().look_at_departure()),
        ("A&rrival in the Side view", "Arrival", "Ctrl+8", lambda: window.side.made().look_at_arrival()),
        ("&Whole route in the Side view", "Whole route", "Ctrl+9", lambda: window.side.made().look_at_all()),
    ):
        made.append(action(window, text, keys, look))
        made[-1].setIconText(short)
    return tuple(made)


def make_menus(window: MainWindow, made: Actions) -> None:
    """Put everything the window can do into its menus."""
    for name, route_inputs in (
        ("&File", _file(window)),
        ("&Route", _route(window, made)),
        ("&View", _view(window, made)),
        ("&Data", _data(window, made)),
        ("&Help", _help(window)),
    ):
        actions.fill(window.menuBar().addMenu(name), route_inputs)


def _file(window: MainWindow) -> list[QAction | None]:
    return [
        action(window, "&Open route…", Key.Open, window.ask_route),
        action(window, "&Save route", Key.Save, window.save_route),
        action(window, "Save route &as…", "Ctrl+Shift+S", window.save_route_as),
        None,
        action(window, "&Export the Picture…", "Ctrl+Alt+P", lambda: window.export_chart(window.picture.chart)),
        action(window, "Export the Side &view…", "Ctrl+Alt+V", lambda: window.export_chart(window.side.made())),
        None,
        action(window, "Open the &demo route", "Ctrl+Shift+D", window.open_demo),
        action(window, "Bring back the route &before", "Ctrl+Shift+B", window.open_before),
        None,
        action(window, "&Quit", "Ctrl+Q", window.close),
    ]


def _route(window: MainWindow, made: Actions) -> list[QAction | None]:
    return [
        made.following,
        made.previous,
        action(window, "Pick &nothing", "Esc", lambda: window.session.pick(None)),
        action(window, "Runway change &seen", "Ctrl+Shift+U", lambda: window.runway.hide()),
        None,
        action(window, "&Try the likely-intended correction", "Ctrl+Shift+T", window.corrections.try_picked),
        action(window, "C&hange here", "Ctrl+Shift+H", window.corrections.take_picked),
        None,
        made.accept,
        made.take_back,
        None,
        made.copy_legs,
        None,
        action(window, "&Undo typing", Key.Undo, lambda: window.text.undo()),
        action(window, "&Redo typing", Key.Redo, lambda: window.text.redo()),
    ]


def _view(window: MainWindow, made: Actions) -> list[QAction | None]:
    return [
        action(window, "Go to the route &text", "Ctrl+L", lambda: window.text.setFocus()),
        action(window, "Go to the fin&dings", "Ctrl+M", lambda: window.margin.findings.setFocus()),
        action(window, "Go to the &Picture", "Ctrl+Shift+P", lambda: window.picture.setFocus()),
        action(window, "Go to the Side vi&ew", "Ctrl+Shift+E", lambda: window.side.made().setFocus()),
        action(window, "&Go to the legs", "Ctrl+G", window.go_to_legs),
        None,
        made.fold_side,
        made.fold_legs,
        None,
        action(window, "&Fit the route in the Picture", "Ctrl+0", lambda: window.picture.fit_route()),
        action(window, "Zoom &in", Key.ZoomIn, lambda: window.picture.zoom(0.7)),
        action(window, "Zoom &out", Key.ZoomOut, lambda: window.picture.zoom(1 / 0.7)),
        action(window, "View &before in the Picture", "Alt+Left", lambda: window.picture.look_back()),
        action(window, "View af&ter in the Picture", "Alt+Right", lambda: window.picture.look_forward()),
        None,
        *made.side_looks,
        None,
        *made.themes,
    ]


def _data(window: MainWindow, made: Actions) -> list[QAction | None]:
    return [
        action(window, "&Add navigation data…", "Ctrl+Shift+N", window.data.ask),
        action(window, "&Open navigation data for this session only…", "Ctrl+Shift+O", window.data.ask_for_session),
        action(window, "&Data sources…", "Ctrl+Shift+L", window.data.show),
        None,
        made.demo_data,
        action(window, "&Stop loading", "Ctrl+Shift+X", lambda: window.session.stop_loading()),
        None,
        action(window, "Aircraft s&heets…", "Ctrl+Shift+Y", window.sheets.show),
    ]


def _help(window: MainWindow) -> list[QAction | None]:
    return [
        action(window, "&Shortcuts", Key.HelpContents, window.show_shortcuts),
        action(window, "&About Routecheck", "Shift+F1", window.show_about),
    ]
