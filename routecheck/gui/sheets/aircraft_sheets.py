"""Which Aircraft sheets the window works with: choosing, saving and removing own ones, and judging anew by them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from routecheck.settings import UsageError, load_settings, remove_sheet, save_sheet
from routecheck.settings.sheets import is_same_name

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QWidget

    from routecheck.gui.route_text.flight_fields import FlightFields
    from routecheck.gui.session import Session
    from routecheck.gui.sheets.window import SheetWindow
    from routecheck.model import AircraftSheet


class AircraftSheets(QObject):
    """The sheets of the settings, over the text and in their own small window."""

    said = Signal(str)

    def __init__(self, session: Session, flight_fields: FlightFields, parent: QWidget) -> None:
        super().__init__(parent)
        self._session = session
        self._flight_fields = flight_fields
        self._parent = parent
        self._window: SheetWindow | None = None
        flight_fields.show_sheets(session.settings.sheets)

    def show(self) -> SheetWindow:
        """Open the small window on the sheet in use."""
        from routecheck.gui.sheets.window import SheetWindow

        if self._window is None:
            self._window = SheetWindow(self._parent)
            self._window.wants_save.connect(self._save)
            self._window.wants_remove.connect(self._remove)
        if not self._window.isVisible():
            self._show_sheets(self._session.route_input.aircraft_sheet)
        self._window.show()
        self._window.activateWindow()
        return self._window

    def may_close(self) -> bool:
        """Whether no sheet is half edited, or the user says that it may be discarded."""
        return self._window is None or not self._window.isVisible() or self._window.close()

    def _save(self, sheet: AircraftSheet, instead_of: str) -> None:
        if self._done(lambda: save_sheet(sheet, instead_of=instead_of)):
            used = self._session.route_input.aircraft_sheet
            self._use(sheet.name if instead_of and is_same_name(used, instead_of) else used, opened=sheet.name)
            self._say(f"Saved: {sheet.name}.")

    def _remove(self, name: str) -> None:
        if self._done(lambda: remove_sheet(name)):
            self._use(self._session.route_input.aircraft_sheet, opened="")

    def _done(self, does: Callable[[], None]) -> bool:
        try:
            does()
        except UsageError as trouble:
            text = str(trouble)
            self._say(f"Not done: {text}.")
            return False
        return True

    def _use(self, chosen: str, opened: str) -> None:
        """Judge by the sheets as they are now; `chosen` is that of the route."""
        from routecheck.checks.catalogue import bounds, collect

        settings = load_settings(bounds(collect()))
        self._session.use(settings)
        self._flight_fields.show_sheets(settings.sheets)
        self._flight_fields.choose_sheet(chosen)
        self._show_sheets(opened)
        self.said.emit(" ".join(settings.remarks))

    def _show_sheets(self, name: str) -> None:
        if self._window is not None:
            self._window.show_sheets(self._session.settings.sheets, self._session.settings.own_sheet_names, name)

    def _say(self, text: str) -> None:
        if self._window is not None:
            self._window.say(text)
