"""Takes pictures of a drill: `python tests/gui/take_drill_pictures.py FOLDER WIDTH HEIGHT [TEXT SCALE] [dark]`.

A trainee's way at each difficulty, and the class. Needs a display, or xvfb-run. Nothing of the user's own is touched.
"""

import os
import sys
import tempfile
from pathlib import Path

from PySide6.QtWidgets import QApplication, QWidget
from take_pictures import settle

from routecheck.drill.difficulty import DIFFICULTIES
from routecheck.drill.making import DrillOrder, make_drill, training_day
from routecheck.drill.progress import DrillInHand
from routecheck.drill.sources import read_demo_source
from routecheck.gui import theme
from routecheck.gui.drill.class_files import show_class
from routecheck.gui.drill.opening import show_drill
from routecheck.gui.drill.start_dialog import StartDialog
from routecheck.navdata.database import demo_database
from routecheck.settings import Settings


def take(widget: QWidget, file: Path) -> None:
    for _ in range(5):
        settle()
    widget.grab().save(str(file))


def go_through(number: int, folder: Path, size: tuple[int, int]) -> None:
    """Answer the first route right and call the others clean."""
    demo = demo_database()
    day = training_day(demo)
    order = DrillOrder(seed=7, count=3, difficulty=number)
    cases = make_drill(order, read_demo_source(demo, Settings(), day), demo, day)
    window = show_drill(None, DrillInHand(cases, trainee="Kim", about=f"difficulty {number}"), demo, Settings())
    window.resize(*size)
    take(window, folder / f"asked-{number}.png")
    question = window.question
    question.entry.choose([i for i, word in enumerate(question.entry.words()) if word in cases[0].words])
    question.kind.setCurrentText(cases[0].kind)
    question.correction.setText(cases[0].correction)
    take(window, folder / f"answering-{number}.png")
    question.answer_button.click()
    take(window, folder / f"truth-{number}.png")
    while window.drill.case:
        window.next_button.click()
        question.kind.setCurrentText("clean")
        question.answer_button.click()
    window.next_button.click()
    window.marks_view.table.setCurrentCell(0, 0)
    take(window, folder / f"marks-{number}.png")
    window.close()


def main(folder: Path, width: int, height: int, scale: float = 1.0) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    os.environ["XDG_DATA_HOME"] = tempfile.mkdtemp()
    application = QApplication([])
    application.setStyle("Fusion")
    font = application.font()
    font.setPointSizeF(font.pointSizeF() * scale)
    application.setFont(font)
    theme.apply_theme(application, theme.DARK if "dark" in sys.argv else theme.LIGHT)
    dialog = StartDialog(None, None)
    dialog.show()
    take(dialog, folder / "start.png")
    for number in DIFFICULTIES:
        go_through(number, folder, (width, height))
    board = show_class(None)
    take(board, folder / "class.png")


if __name__ == "__main__":
    numbers = [argument for argument in sys.argv[2:] if argument != "dark"]
    main(Path(sys.argv[1]), int(numbers[0]), int(numbers[1]), *map(float, numbers[2:]))
