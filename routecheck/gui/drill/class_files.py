"""The class list with its window: answers added, sheets written, names deleted."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from routecheck import files
from routecheck.drill.drill_files import KEY, read_key, read_trainee_answers, write_mark_sheets
from routecheck.drill.unused_answers import describe_unused
from routecheck.faults import UsageError
from routecheck.formatting import count
from routecheck.gui import dialogs
from routecheck.gui.drill.class_window import ClassWindow
from routecheck.gui.drill.kept_drills import keep_class, read_class
from routecheck.gui.open_files import describe_trouble
from routecheck.reading.decoding import decode

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from routecheck.drill.class_list import ClassList

_SHEETS = "CSV (*.csv);;PDF (*.pdf)"
_KEYS = f"Answer keys ({KEY});;All files (*)"


def show_class(host: QWidget | None) -> ClassWindow:
    """Show the class list."""
    window, kept = ClassWindow(host), read_class()
    window.show_marks(kept.marks)
    window.add_wanted.connect(lambda: _add_answers(window, kept))
    window.save_wanted.connect(lambda: _save(window, kept))
    window.delete_wanted.connect(lambda names: _delete(window, kept, names))
    window.open()
    return window


def write_sheets(path: Path, kept: ClassList) -> list[str]:
    """Write the sheets: as PDF one file, as CSV the marks and beside them the class by kind. Gives their names."""
    if path.suffix.lower() == ".pdf":
        from routecheck.drill.paper import write_marks_page
        from routecheck.gui.review_sheet.drawing import make_pdf

        files.write_atomically(path, make_pdf(write_marks_page(kept.marks), "drill, marks", "A4"))
        return [path.name]
    sheets = write_mark_sheets(path, kept.marks)
    for name, text in sheets.items():
        files.write_atomically(path.with_name(name), text.encode())
    return list(sheets)


def _add_answers(window: ClassWindow, kept: ClassList) -> None:
    key = dialogs.file_to_open(window, "The answer key of the drill", _KEYS)
    given = dialogs.files_to_open(window, "The answers of trainees (CSV)") if key else []
    try:
        cases = read_key(_read_text(key), Path(key).name) if given else []
        read = {path: read_trainee_answers(_read_text(path), Path(path).name) for path in given}
    except (OSError, UsageError) as trouble:
        window.show_message(f"Not added. {describe_trouble(trouble)}")
        return
    if not read:
        return
    for path, answers in read.items():
        kept.add_answers(cases, answers, Path(path).stem)
    keep_class(kept)
    window.show_marks(kept.marks)
    unused = (f"{Path(path).name}: {line}" for path, given in read.items() for line in describe_unused(cases, given))
    window.show_message("\n".join(unused))


def _save(window: ClassWindow, kept: ClassList) -> None:
    chosen = dialogs.file_to_save(window, "Save the marks of the class", Path.home() / "drill-marks.csv", _SHEETS)
    if not chosen:
        return
    try:
        written = write_sheets(Path(chosen), kept)
    except OSError as trouble:
        window.show_message(f"Not saved. {describe_trouble(trouble)}")
        return
    window.show_message(f"Saved: {' and '.join(written)}.")


def _delete(window: ClassWindow, kept: ClassList, names: list[str]) -> None:
    gone = names or list(kept.marks)
    asked = f"Delete {gone[0] if len(gone) == 1 else count(len(gone), 'name')} with all answers? It cannot be undone."
    if dialogs.confirm_discard(window, "Delete names", asked):
        for name in gone:
            kept.forget(name)
        keep_class(kept)
        window.show_marks(kept.marks)


def _read_text(path: str) -> str:
    text = decode(files.read_bytes(Path(path)))
    if text is None:
        raise UsageError(f"{Path(path).name} is no text")
    return text
