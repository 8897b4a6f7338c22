"""The Aircraft sheets that the window offers: saving and removing own ones, and assessing again with them."""

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

    reported = Signal(str)

    def __init__(self, session: Session, flight_fields: FlightFields, parent: QWidget) -> None:
        super().__init__(parent)
        self._session = session
        self._flight_fields = flight_fields
        self._parent = parent
        self._window: SheetWindow | None = None
        flight_fields.show_sheets(session.settings.sheets)

    def show_window(self) -> SheetWindow:
        """Open the small window on the sheet in use."""
        from routecheck.gui.sheets.window import SheetWindow

        if self._window is None:
            self._window = SheetWindow(self._parent)
            self._window.save_wanted.connect(self._save)
            self._window.remove_wanted.connect(self._remove)
        if not self._window.isVisible():
            self._show_sheets(self._session.route_input.aircraft_sheet)
        self._window.show()
        self._window.activateWindow()
        return self._window

    def may_close(self) -> bool:
        """Whether no sheet is half edited, or the user says that it may be discarded."""
        return self._window is None or not self._window.isVisible() or self._window.close()

    def _save(self, sheet: AircraftSheet, instead_of: str) -> None:
        if self._try_write(lambda: save_sheet(sheet, instead_of=instead_of)):
            used = self._session.route_input.aircraft_sheet
            self._use_sheets(sheet.name if instead_of and is_same_name(used, instead_of) else used, opened=sheet.name)
            self._show_message(f"Saved: {sheet.name}.")

    def _remove(self, name: str) -> None:
        if self._try_write(lambda: remove_sheet(name)):
            self._use_sheets(self._session.route_input.aircraft_sheet, opened="")

    def _try_write(self, write: Callable[[], None]) -> bool:
        try:
            write()
        except UsageError as trouble:
            text = str(trouble)
            self._show_message(f"Not done: {text}.")
            return False
        return True

    def _use_sheets(self, chosen: str, opened: str) -> None:
        """Assess with the sheets as they are now; `chosen` is that of the route, `opened` the one to show."""
        from routecheck.checks.catalogue import bounds, collect

        settings = load_settings(bounds(collect()))
        self._session.use_settings(settings)
        self._flight_fields.show_sheets(settings.sheets)
        self._flight_fields.choose_sheet(chosen)
        self._show_sheets(opened)
        self.reported.emit(" ".join(settings.remarks))

    def _show_sheets(self, name: str) -> None:
        if self._window is not None:
            self._window.show_sheets(self._session.settings.sheets, self._session.settings.own_sheet_names, name)

    def _show_message(self, text: str) -> None:
        if self._window is not None:
            self._window.show_message(text)
