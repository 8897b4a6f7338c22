"""The window of known routes: which collections are in use, what of them is not counted; add and remove buttons."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal

from routecheck.formatting import count
from routecheck.gui.widgets.list_dialog import ListDialog
from routecheck.presentation.known_routes import describe_collection, describe_uncounted

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PySide6.QtWidgets import QWidget

    from routecheck.known.intake import Intake, UncountedRow
    from routecheck.known.known_routes import KnownRoutes

_INTRODUCTION = (
    "Collections of routes that you trust: what has been flown tells what was meant. They are evidence, never law. "
    "CSV rows with their columns named, route files (several make one), results as JSON Lines."
)
_NONE = "No known routes were added."
_MOST_NAMED = 30


class KnownRoutesWindow(ListDialog):
    """The list of collections, and the details of the chosen one."""

    kept = Signal(bool)
    """Whether rows with something Wrong are kept among those just read."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(
            parent,
            title="Known routes",
            introduction=_INTRODUCTION,
            about_name="About the collection",
            stop="Stop",
        )
        self._details: list[str] = []
        self._uncounted: dict[str, str] = {}
        self.list.currentRowChanged.connect(self._show_details)
        self.remove_button.clicked.connect(lambda: self.remove_wanted.emit(self.list.currentItem().text()))
        self.leave_out_button, self.keep_button = map(self.make_button, ("Leave them out", "Keep them"))
        self.leave_out_button.clicked.connect(lambda: self.kept.emit(False))
        self.keep_button.clicked.connect(lambda: self.kept.emit(True))
        self.ask_about_wrong(())

    def show_known(self, known: KnownRoutes | None) -> None:
        """Show which collections are in use, and which cannot be used."""
        collections = known.collections if known else ()
        self._details = [
            "".join(f"<p>{escape(line)}</p>" for line in describe_collection(c.about))
            + self._uncounted.get(c.about.name, "")
            for c in collections
        ]
        self.list.clear()
        self.list.addItems([one.about.name for one in collections])
        self.list.setCurrentRow(0)
        self._show_details(self.list.currentRow())
        if known and known.unusable:
            self.show_message(" ".join(f"{one[:1].upper()}{one[1:]}." for one in known.unusable))

    def note_uncounted(self, intakes: Sequence[Intake]) -> None:
        """Take down which rows of lists just read are not among the known routes, to show them with the collections."""
        for intake in intakes:
            self._uncounted[intake.name] = _list_rows(intake.uncounted)

    def show_progress(self, share: float) -> None:
        """Say how far the reading is; 1 = done."""
        is_reading = share < 1.0
        self.progress.setText(f"Reading and checking … {share * 100:.0f} %")
        self.progress.setVisible(is_reading)
        self.stop_button.setVisible(is_reading)
        self.add_button.setEnabled(not is_reading)

    def ask_about_wrong(self, intakes: Sequence[Intake]) -> None:
        """Ask whether rows with something Wrong are kept; without any the question goes."""
        rows = [row for intake in intakes for row in intake.wrong.values()]
        self.leave_out_button.setVisible(bool(rows))
        self.keep_button.setVisible(bool(rows))
        self.add_button.setVisible(not rows)
        self.remove_button.setVisible(not rows)
        if rows:
            self.show_message(f"Of {count(len(rows), 'row')} something is Wrong. Leave them out?")
            self.about.setHtml(_list_rows(rows))
            self.leave_out_button.setFocus()

    def _show_details(self, row: int) -> None:
        is_chosen = 0 <= row < len(self._details)
        self.remove_button.setEnabled(is_chosen)
        self.about.setHtml(self._details[row] if is_chosen else f"<p>{_NONE}</p>")


def _list_rows(rows: Sequence[UncountedRow]) -> str:
    named = "".join(f"<li>{escape(line)}</li>" for line in describe_uncounted(rows, _MOST_NAMED))
    return f"<ul>{named}</ul>" if named else ""
