"""Opens and saves the route file in hand and brings back the route before it. No dialogs here."""

from __future__ import annotations

import logging
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, Signal

from routecheck.gui import open_files, persistence
from routecheck.reading.input_fields import INPUT_FIELDS, is_given
from routecheck.settings import DataError, UsageError

if TYPE_CHECKING:
    from routecheck.gui.session import Session
    from routecheck.model import RouteInput

_CHOSEN_HERE = ("date", "aircraft_sheet", "sheet")
"""What belongs to the window rather than to a plan that does not say it."""
LOG = logging.getLogger(__name__)


class RouteFiles(QObject):
    """The route file in hand, if there is one, and whether the route differs from it."""

    reported = Signal(str)
    """A sentence about what was done or why not; "" when it went well and there is nothing to say."""
    changed = Signal()
    """Another file, or the route began or ceased to differ from it."""

    def __init__(self, session: Session, parent: QObject) -> None:
        super().__init__(parent)
        self._session = session
        self.path: Path | None = None
        self._saved: RouteInput | None = None
        session.input_changed.connect(lambda _: self.changed.emit())

    @property
    def differs(self) -> bool:
        """Whether there is a file and the route in hand is no longer what it says."""
        return self._saved is not None and self._saved != self._session.route_input

    def open(self, path: str) -> bool:
        """Show the first route of a file; say in words what is wrong with one that cannot be read."""
        try:
            route_input, more = open_files.read_route(path)
        except (DataError, UsageError, OSError) as trouble:
            self.reported.emit(f"Not opened. {_make_sentence(trouble)}")
            return False
        self.show(route_input, Path(path))
        self.reported.emit(more)
        return True

    def take_plan(self, text: str) -> bool:
        """Show the first plan of a pasted text; what the window has chosen and the plan does not say stays."""
        try:
            plan, what = open_files.read_plan(text)
        except DataError as trouble:
            self.reported.emit(f"Not pasted. {_make_sentence(trouble)}")
            return False
        now = self._session.route_input
        said = {field.name for field in INPUT_FIELDS if is_given(plan, field)}
        kept: dict[str, Any] = {name: getattr(now, name) for name in _CHOSEN_HERE if name not in said}
        self.show(replace(plan, **kept))
        self.reported.emit(what)
        return True

    def show(self, route_input: RouteInput, path: Path | None = None) -> None:
        """Show a route, from a file or not; the one before can be brought back."""
        persistence.write_route(self._session.route_input, persistence.ROUTE_BEFORE)
        self.note_file(route_input, path)
        self._session.replace_input(route_input)

    def note_file(self, route_input: RouteInput, path: Path | None) -> None:
        """Note which file the route in hand is from; only a route file is written back to."""
        is_route_file = path is not None and path.name.endswith(".toml")
        self.path, self._saved = (path, route_input) if is_route_file else (None, None)
        self.changed.emit()

    def show_before(self) -> bool:
        """Show the route that was there before this one."""
        remarks: list[str] = []
        before = persistence.read_route(persistence.ROUTE_BEFORE, remarks)
        if before is None:
            self.reported.emit(" ".join(remarks) or "There is no route before this one.")
            return False
        self.show(before)
        return True

    def save(self, path: Path) -> bool:
        """Write the route to a file, which is the file in hand from then on."""
        if not path.name.endswith(".toml"):
            path = path.with_name(path.name + open_files.SUFFIX)
        route_input = self._session.route_input
        try:
            open_files.save_route(route_input, path, self.path)
        except (ValueError, OSError) as trouble:
            self.reported.emit(f"Not saved. {_make_sentence(trouble)}")
            return False
        self.path, self._saved = path, route_input
        self.reported.emit(f"Saved as {path.name}.")
        self.changed.emit()
        return True


def _make_sentence(trouble: Exception) -> str:
    if isinstance(trouble, OSError):
        where = f"{Path(str(trouble.filename)).name}: " if trouble.filename else ""
        return f"{where}{(trouble.strerror or str(trouble)).lower()}."
    text = str(trouble).rstrip(".")
    return f"{text[:1].upper()}{text[1:]}." if isinstance(trouble, ValueError) else f"{text}."
