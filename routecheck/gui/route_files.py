"""Opens and saves the route file in hand and brings back the route before it. Its dialogs live elsewhere."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Signal

from routecheck.gui import open_files, persistence
from routecheck.model.off_block import off_block_day
from routecheck.reading.input_fields import INPUT_FIELDS, is_given
from routecheck.settings import UsageError

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QWidget

    from routecheck.gui.persistence import RouteSaver
    from routecheck.gui.session import Session
    from routecheck.model import RouteInput

_CHOSEN_HERE = ("off_block", "aircraft_sheet", "sheet")
"""What belongs to the window rather than to a plan that does not say it."""


class RouteFiles(QObject):
    """The route file in hand, if there is one, and whether the route differs from it."""

    reported = Signal(str)
    """A sentence about what was done or why not; "" when it went well and there is nothing to say."""
    changed = Signal()
    """Another file, or the route began or ceased to differ from it."""

    file_used = Signal(object)
    """The Path of a file that was opened or written."""
    route_opened = Signal()
    """A route that was asked for is shown."""

    def __init__(self, session: Session, saver: RouteSaver, host: QWidget) -> None:
        super().__init__(host)
        self._session, self._saver, self._host = session, saver, host
        self.path: Path | None = None
        self._saved: RouteInput | None = None
        session.input_changed.connect(lambda _: self.changed.emit())

    @property
    def differs(self) -> bool:
        """Whether there is a file and the route in hand is no longer what it says."""
        return self._saved is not None and self._saved != self._session.route_input

    def open(self, path: str, group: str = "") -> None:
        """Show the first route of a file once it is read; say in words what is wrong with one that cannot be read.

        Of a message that holds several routes it is asked which, and it is read again.
        """

        def take(read: tuple[RouteInput, str]) -> None:
            if not self._ask_group(read[0], partial(self.open, path)):
                self._show_read(*read, Path(path))

        refuse = partial(self._refuse, "Not opened.")
        self._session.reader.read(partial(open_files.read_route, path, group), take, refuse)

    def take_plan(self, text: str, group: str = "") -> None:
        """Show the first plan of a pasted text once it is read; of several routes of one message it is asked which."""

        def take(read: tuple[RouteInput, str]) -> None:
            if not self._ask_group(read[0], partial(self.take_plan, text)):
                self._show_read(self._keep_chosen(read[0]), read[1])

        refuse = partial(self._refuse, "Nothing was pasted.")
        self._session.reader.read(partial(open_files.read_plan, text, group), take, refuse)

    def _ask_group(self, read: RouteInput, read_group: Callable[[str], None]) -> bool:
        """Ask which of several routes is meant, if it is so; `read_group` is called with its name."""
        if read.groups:
            from routecheck.gui.group_dialog import ask_group

            ask_group(self._host, read, read_group)
        return bool(read.groups)

    def _refuse(self, what: str, why: str) -> None:
        self.reported.emit(f"{what} {why}")

    def show_before(self) -> None:
        """Show the route that was there before this one."""
        self._session.reader.read(self._read_before, self._show_read, self.reported.emit)

    def show(self, route_input: RouteInput, path: Path | None = None) -> None:
        """Show a route, from a file or not; the one before can be brought back. What was said of that goes."""
        self.reported.emit("")
        self._saver.save_before(self._session.route_input)
        self.note_file(route_input, path)
        self._session.replace_input(route_input)

    def _show_read(self, route_input: RouteInput, sentence: str = "", path: Path | None = None) -> None:
        self.show(route_input, path)
        if path is not None:
            self.file_used.emit(path)
        self.reported.emit(sentence)
        self.route_opened.emit()

    def _keep_chosen(self, plan: RouteInput) -> RouteInput:
        """The plan with what the window has chosen and the plan does not say."""
        now = self._session.route_input
        said = {field.name for field in INPUT_FIELDS if is_given(plan, field)}
        kept: dict[str, Any] = {name: getattr(now, name) for name in _CHOSEN_HERE if name not in said}
        if "off_block" in kept:
            kept["off_block"] = off_block_day(now.off_block)  # the time was that of the flight before
        return replace(plan, **kept)

    def _read_before(self) -> RouteInput:
        self._saver.wait()
        remarks: list[str] = []
        before = persistence.read_route(persistence.ROUTE_BEFORE, remarks)
        if before is None:
            raise UsageError(" ".join(remarks) or "There is no route before this one.")
        return before

    def note_file(self, route_input: RouteInput, path: Path | None) -> None:
        """Note which file the route in hand is from; only a route file is written back to."""
        is_route_file = path is not None and path.name.endswith(".toml")
        self.path, self._saved = (path, route_input) if is_route_file else (None, None)
        self.changed.emit()

    def save(self, path: Path) -> bool:
        """Write the route to a file, which is the file in hand from then on."""
        if not path.name.endswith(".toml"):
            path = path.with_name(path.name + open_files.SUFFIX)
        route_input = self._session.route_input
        try:
            open_files.save_route(route_input, path, self.path)
        except (ValueError, OSError) as trouble:
            self.reported.emit(f"Not saved. {open_files.describe_trouble(trouble)}")
            return False
        self.path, self._saved = path, route_input
        self.file_used.emit(path)
        self.reported.emit(f"Saved as {path.name}.")
        self.changed.emit()
        return True
