"""Opens drills: the one in hand, a new one, one made elsewhere; keeps what a trainee has said of it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from routecheck import files
from routecheck.drill.class_list import DoneDrill
from routecheck.drill.drill_files import KEY, SETTINGS, read_key, read_settings, write_trainee_answers
from routecheck.drill.making import training_day
from routecheck.drill.progress import DrillInHand
from routecheck.faults import UsageError
from routecheck.gui import dialogs
from routecheck.gui.drill.class_files import show_class
from routecheck.gui.drill.kept_drills import forget_drill, keep_class, keep_drill, read_class, read_drill
from routecheck.gui.drill.making import DrillMaking, DrillWish, name_data
from routecheck.gui.drill.start_dialog import StartDialog
from routecheck.gui.drill.window import DrillWindow
from routecheck.gui.open_files import describe_trouble
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from routecheck.gui.session import Session
    from routecheck.model import Assessment, RouteInput
    from routecheck.navdata.database import NavDatabase
    from routecheck.settings import Settings

_KINDS = f"Drills ({KEY} {SETTINGS});;All files (*)"


class Drills(QObject):
    """The drills of a window: the dialog before, the drill itself, the class."""

    _made = Signal(object)
    _reported = Signal(int, int)

    def __init__(self, host: QWidget, session: Session) -> None:
        super().__init__(host)
        self._host, self.session = host, session
        self._making: DrillMaking | None = None
        self.dialog: StartDialog | None = None
        self.window: DrillWindow | None = None
        self._made.connect(self._take_made)
        self._reported.connect(self._show_progress)

    def ask(self) -> StartDialog:
        """Ask which drill; the one in hand is a key away."""
        dialog = StartDialog(self._host, read_drill())
        dialog.go_on_wanted.connect(self._go_on)
        dialog.new_wanted.connect(self.make)
        dialog.stop_wanted.connect(self.stop)
        dialog.file_wanted.connect(self._ask_for_file)
        dialog.class_wanted.connect(lambda: show_class(dialog))
        dialog.finished.connect(self._end_dialog)
        self.dialog = dialog
        dialog.open()
        return dialog

    def make(self, wish: DrillWish) -> None:
        """Make a drill beside the window."""
        if self.dialog and not self._may_replace(self.dialog):
            return
        self._making = DrillMaking(
            wish, self.session.database, self.session.settings, report=self._reported.emit, end=self._made.emit
        )
        if self.dialog:
            self.dialog.show_making(True)
        self._making.start()

    def stop(self) -> None:
        """Give up the drill that is being made."""
        if self._making:
            self._making.abandon()
            self._making = None
        if self.dialog:
            self.dialog.show_making(False)

    def _show_progress(self, done: int, of: int) -> None:
        if self.dialog and self._making:
            self.dialog.show_progress(done, of)

    def _take_made(self, made: DrillMaking) -> None:
        if made is not self._making:
            return
        self._making = None
        if made.drill:
            self._show(made.drill)
        elif self.dialog:
            self.dialog.show_making(False, made.fault)

    def _go_on(self) -> None:
        if self.window and self.window.drill.case and self.dialog:
            self.dialog.accept()
            self.window.raise_()
            self.window.activateWindow()
        elif drill := read_drill():
            self._show(drill)

    def _ask_for_file(self) -> None:
        dialog = self.dialog
        chosen = dialogs.file_to_open(dialog, "Open a drill", _KINDS) if dialog else ""
        if not dialog or not chosen:
            return
        try:
            text = files.read_bytes(Path(chosen)).decode(errors="replace")
            if chosen.endswith(".toml"):
                self._take_settings(dialog, text, Path(chosen))
            elif self._may_replace(dialog):
                self._show(DrillInHand(read_key(text, Path(chosen).name)))
        except (OSError, UsageError) as trouble:
            dialog.show_making(False, f"No drill was opened. {describe_trouble(trouble)}")

    def _take_settings(self, dialog: StartDialog, text: str, path: Path) -> None:
        """A drill.toml has no truth but the instructor's own cases: with them it is a file to make a drill of."""
        if "[[case]]" in text:
            dialog.form.choose_files([str(path)])
        else:
            order, _ = read_settings(text, path.name)
            dialog.form.show_order(order)

    def _may_replace(self, dialog: StartDialog) -> bool:
        drill = read_drill()
        asked = "Begin another drill? What was answered of the one in hand is lost."
        return drill is None or not drill.answers or dialogs.confirm_discard(dialog, "Begin another drill", asked)

    def _show(self, drill: DrillInHand) -> None:
        database = _choose_database(drill, self.session.database)
        if self.dialog and (database is None or drill.data not in ("", name_data(database))):
            needed = drill.data or "the navigation data, which is still being loaded"
            self.dialog.show_making(False, f"This drill needs {needed}: load it, then go on.")
            return
        assert database is not None
        if self.window:
            self.window.close()
        self.window = show_drill(self._host, drill, database, self.session.settings)
        self.window.finished.connect(self._end_window)
        keep_drill(drill)
        if self.dialog:
            self.dialog.accept()

    def _end_window(self) -> None:
        self.window = None

    def _end_dialog(self) -> None:
        self.dialog = None
        self.stop()


def show_drill(host: QWidget | None, drill: DrillInHand, database: NavDatabase, settings: Settings) -> DrillWindow:
    """Show a drill on some data."""
    day = training_day(database)

    def assess_route(route_input: RouteInput) -> Assessment:
        return assess(route_input, database, settings, day)

    from routecheck.gui.review_sheet.drawing import draw_picture

    def draw(answer: Assessment, size_px: tuple[int, int], is_dark: bool, is_plain: bool) -> bytes:
        return draw_picture(answer, size_px, is_dark=is_dark, is_plain=is_plain)

    window = DrillWindow(host, drill, assess_route, draw)
    window.changed.connect(lambda: _keep(drill))
    window.ended.connect(lambda: _add_to_class(drill))
    window.renamed.connect(lambda: _add_to_class(drill))
    window.forget_wanted.connect(lambda: _forget(window))
    window.marks_view.save_wanted.connect(lambda: _save_answers(window))
    window.marks_view.class_wanted.connect(lambda: show_class(window))
    window.show()
    return window


def _choose_database(drill: DrillInHand, loaded: NavDatabase | None) -> NavDatabase | None:
    """The demo region for a drill between its aerodromes, else the data that is loaded."""
    ends = {name for case in drill.cases for name in (case.departure, case.destination) if name}
    demo = demo_database()
    own = {source.name for source in demo.sources}
    found = (demo.airport(name) for name in ends)
    is_demo = all(airport is not None and airport.source in own for airport in found)
    return demo if is_demo else loaded


def _keep(drill: DrillInHand) -> None:
    """Keep a drill as long as there is something to answer; then it stands in the class list."""
    if drill.case is not None:
        keep_drill(drill)
    else:
        forget_drill()


def _add_to_class(drill: DrillInHand) -> None:
    """Put a drill that has come to its end into the class list."""
    if drill.case is not None:
        return
    kept = read_class()
    kept.add(DoneDrill(drill.trainee, tuple(drill.cases), tuple(drill.answers)))
    keep_class(kept)


def _save_answers(window: DrillWindow) -> None:
    suggested = Path.home() / f"{window.drill.trainee or 'answers'}.csv"
    chosen = dialogs.file_to_save(window, "Save your answers", suggested, "CSV (*.csv)")
    if not chosen:
        return
    try:
        files.write_atomically(Path(chosen), write_trainee_answers(window.drill.answers).encode())
    except OSError as trouble:
        window.marks_view.summary.setText(f"Not saved. {describe_trouble(trouble)}")


def _forget(window: DrillWindow) -> None:
    """Close the drill and delete what was kept of it, the trainee's name too."""
    asked = "Forget this drill? What was answered is lost, and it cannot be undone."
    if dialogs.confirm_discard(window, "Forget this drill", asked):
        window.stop_keeping()
        window.close()
        forget_drill()
