"""A whole drill in its window: words pointed at, reveals, the truth afterwards, stopped and gone on with."""

import logging
from types import SimpleNamespace

import pytest
from PySide6.QtCore import QBuffer, QObject, Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QDialog, QTableWidget, QWidget

from routecheck.drill.case_forms import write_forms
from routecheck.drill.cases import DrillCase
from routecheck.drill.class_list import ClassList, DoneDrill, unpack_class
from routecheck.drill.difficulty import DIFFICULTIES
from routecheck.drill.drill_files import read_trainee_answers, write_key
from routecheck.drill.error_kinds import ERROR_KINDS
from routecheck.drill.making import DrillOrder, make_drill, training_day
from routecheck.drill.marking import TraineeAnswer
from routecheck.drill.progress import Draft, DrillInHand, unpack_drill
from routecheck.drill.sources import read_demo_source
from routecheck.gui import dialogs
from routecheck.gui.drill import class_files, kept_drills, making, opening
from routecheck.gui.drill.new_drill import NewDrillForm
from routecheck.gui.persistence import data_folder
from routecheck.gui.review_sheet import drawing
from routecheck.navdata.database import demo_database
from routecheck.settings import Settings

DEMO = demo_database()
DAY = training_day(DEMO)
RAW = [
    DrillCase(
        name="route-01", departure="XVAL", destination="XVOR", route="LENDU UM12 PIKOR DCT SARNO",
        kind="letter to a known name", words=("PIKOR",), beside=("UM12", "DCT"), correction="PIKAR",
        meant="XVAL LENDU UM12 PIKAR DCT SARNO XVOR",
    ),
    DrillCase(name="route-02", departure="XVAL", destination="XVOR", route="LENDU DCT SARNO", looks_odd=True,
              meant="XVAL LENDU DCT SARNO XVOR"),
]  # fmt: skip
CASES = {number: write_forms(RAW, number, DEMO, DAY) for number in DIFFICULTIES}


@pytest.fixture(autouse=True)
def quick_pictures(request, monkeypatch):
    """Pictures of one pixel, but for the test that looks at one."""
    if request.node.name != "test_a_whole_drill":
        pixel = QBuffer()
        QImage(1, 1, QImage.Format.Format_RGB32).save(pixel, "PNG")
        monkeypatch.setattr(drawing, "draw_picture", lambda *_, **__: bytes(pixel.data().data()))


@pytest.fixture
def show(qtbot):
    def made(number, **values):
        window = opening.show_drill(None, DrillInHand(CASES[number], **values), DEMO, Settings())
        qtbot.addWidget(window)
        return window

    return made


@pytest.fixture
def drills(qtbot, monkeypatch):
    monkeypatch.setattr(dialogs, "confirm_discard", lambda *_: True)
    host = QWidget()
    qtbot.addWidget(host)
    made = opening.Drills(host, SimpleNamespace(database=None, settings=Settings()))
    yield made
    for shown in host.findChildren(QDialog):
        shown.close()


def say(window, words, kind, correction=""):
    entry = window.question.entry
    entry.choose([index for index, word in enumerate(entry.words()) if word in words])
    window.question.kind.setCurrentText(kind)
    window.question.correction.setText(correction)
    window.question.answer_button.click()


def test_a_whole_drill(show):
    shown = show(2)
    assert shown.head.text().startswith("Route 1 of 2 · 0:0")
    assert shown.question.clearance.text() == "From XVAL. Cleared to XVOR via LENDU, UM12 PIKAR, direct SARNO."
    assert shown.question.entry.words() == ("XVAL", "DCT", "LENDU", "UM12", "PIKOR", "DCT", "SARNO", "DCT", "XVOR")
    assert not shown.question.answer_button.isEnabled()
    assert not shown.tool.picture.pixmap.isNull(), "at 2 the picture is shown, the figures are not"
    assert shown.tool.figures.isHidden()
    shown.tool.figures_button.click()
    assert shown.tool.figures.item(1, 1).text() == "PIKOR"
    say(shown, {"PIKOR"}, "letter to a known name", "pikar")
    told = shown.truth.text()
    assert shown.score.text() == "90 of 100: place 40, kind 30, correction 30, reveals −10"
    assert told.startswith("PIKOR: letter to a known name. Meant: PIKAR.\n\nThe tool: PIKOR")
    assert "The tool: PIKOR is not on UM12" in told
    assert ERROR_KINDS["letter to a known name"].why in told
    shown.next_button.click()
    say(shown, set(), "clean")
    assert "It is clean. It looks odd and is right." in shown.truth.text()
    shown.next_button.click()
    assert shown.marks_view.summary.text().startswith("The end of the drill: 95 of 100 on average, 0 false alarms.")
    assert shown.question.isHidden()
    shown.marks_view.table.setCurrentCell(0, 0)
    assert "Meant: PIKAR." in shown.truth.text()


def test_a_drill_by_keyboard_alone(show, qtbot):
    shown = show(2)
    entry = shown.question.entry
    for key in (Qt.Key.Key_Down, Qt.Key.Key_Down, Qt.Key.Key_Space):
        qtbot.keyClick(entry, key)
    assert [entry.words()[index] for index in shown.question.draft().chosen] == ["PIKOR"]
    order = [entry]
    while len(order) < 8:
        order.append(order[-1].nextInFocusChain())
    fields = [shown.question.kind, shown.question.correction, shown.question.answer_button]
    assert [one for one in order if one in fields] == fields
    qtbot.keyClicks(shown.question.kind, "lett")
    assert shown.question.kind.currentText() == "letter to a known name"
    qtbot.keyClick(shown.name, Qt.Key.Key_Return)
    assert shown.score.isHidden(), "Enter in the name answers nothing"
    qtbot.keyClicks(shown.question.correction, "PIKAR")
    qtbot.keyClick(shown.question.correction, Qt.Key.Key_Return)
    assert shown.score.text().startswith("100 of 100")
    qtbot.keyClick(shown.next_button, Qt.Key.Key_Return)
    assert shown.head.text().startswith("Route 2 of 2")


def test_an_accused_clean_route_gets_nothing(show):
    shown = show(3)
    say(shown, {"LENDU"}, "half degree")
    shown.next_button.click()
    say(shown, {"DCT"}, "point repeated")
    assert shown.score.text().startswith("0 of 100: ")
    assert [one.reveals for one in shown.drill.answers] == [0, 0]


TEXTS = ("windowTitle", "windowFilePath", "toolTip", "statusTip", "whatsThis", "accessibleName", "objectName", "text")
MORE_TEXTS = ("accessibleDescription", "placeholderText", "currentText")


def texts_of(top: QWidget):
    """Every text that a widget and all below it show or tell: also titles, tool-tips, accessible names."""
    for widget in [top, *top.findChildren(QObject)]:
        names = [bytes(name).decode() for name in widget.dynamicPropertyNames()]
        assert [name for name in names if not name.startswith(("_q", "_PySide"))] == [], "Qt's own alone"
        got = (getattr(widget, name, None) for name in (*TEXTS, *MORE_TEXTS))
        yield from (text for text in (one() for one in got if callable(one)) if isinstance(text, str))
        if isinstance(widget, QTableWidget):
            yield from texts_of_cells(widget)


def texts_of_cells(table: QTableWidget):
    places = [(row, column) for row in range(table.rowCount()) for column in range(table.columnCount())]
    for item in (table.item(*place) for place in places):
        if item:
            yield f"{item.text()} {item.toolTip()} {item.data(Qt.ItemDataRole.UserRole)}"


@pytest.mark.parametrize("number", DIFFICULTIES)
def test_the_truth_is_nowhere_where_a_trainee_sees_it(number, show, own_folders, caplog):
    """Until it is answered: in no text of the window, no file that is kept, no log. The clearance is what it is."""
    caplog.set_level(logging.DEBUG)
    shown = show(number, trainee="Kim")
    shown.tool.figures_button.click()
    shown.tool.picture_button.click()
    shown.changed.emit()
    said = [text for text in texts_of(shown) if text != shown.question.clearance.text()]
    assert len(said) > 60
    case = CASES[number][0]
    truth = (case.correction, case.kind, "looks odd", "known", "clean.")
    assert [text for text in said for word in truth if word.casefold() in text.casefold()] == []
    kept = [path for path in own_folders.rglob("*") if path.is_file()]
    assert [path.name for path in kept] == [kept_drills.IN_HAND]
    for word in (*truth, "PIKOR", "Kim"):
        assert word.encode() not in kept[0].read_bytes()
        assert word not in caplog.text


def test_what_was_pointed_at_typed_and_revealed_is_gone_on_with(show, qtbot):
    """Closing the window is no way to see the picture for nothing."""
    first = show(3)
    first.name.textEdited.emit("Kim")
    first.tool.picture_button.click()
    first.question.entry.choose([4])
    first.question.kind.setCurrentText("airway number")
    qtbot.keyClicks(first.question.correction, "M12")
    first.reject()
    drill = kept_drills.read_drill()
    assert (drill.trainee, drill.revealed, drill.draft) == ("Kim", ["picture"], Draft((4,), "airway number", "M12"))
    again = show(3, draft=drill.draft, revealed=drill.revealed)
    assert again.question.draft() == drill.draft
    assert again.tool.picture_button.isHidden()
    assert not again.tool.picture.pixmap.isNull()
    again.question.answer_button.click()
    assert again.drill.answers[0].reveals == 1


def test_one_key_goes_on_with_the_drill_in_hand_and_it_can_be_forgotten(drills, qtbot):
    given = TraineeAnswer("route-01", trainee="Kim")
    kept_drills.keep_drill(DrillInHand(CASES[1], trainee="Kim", answers=[given], about="seed 5"))
    dialog = drills.ask()
    assert "In hand: Kim: route 2 of 2 (seed 5)" in list(texts_of(dialog))
    qtbot.keyClick(dialog, Qt.Key.Key_Return)
    again = drills.window
    assert (again.name.text(), len(again.drill.answers)) == ("Kim", 1)
    drills.ask().go_on_button.click()
    assert drills.window is again, "a drill that is open comes to the front"
    again.forget_button.click()
    assert drills.window is None
    assert not (data_folder() / kept_drills.IN_HAND).exists()


def test_a_new_drill_is_that_of_the_command_line(drills, qtbot):
    """The same seed, number, difficulty and kinds give a class the same routes, wherever they are made."""
    dialog = drills.ask()
    dialog.form.seed.setValue(7)
    dialog.form.count.setValue(3)
    dialog.form.difficulty.setCurrentIndex(0)
    qtbot.keyClick(dialog.form.name, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: drills.window is not None, timeout=20_000)
    order = DrillOrder(seed=7, count=3, difficulty=1)
    cases = make_drill(order, read_demo_source(DEMO, Settings(), DAY), DEMO, DAY)
    assert list(drills.window.drill.cases) == cases
    assert drills.window.windowTitle() == "Drill: seed 7, 3 routes of the demo region, difficulty 1"
    assert kept_drills.read_drill().cases == cases


def test_a_drill_of_loaded_data_is_shown_on_that_data(drills, northeast, qtbot):
    """The demo region knows aerodromes all over the world, but no point there."""
    case = DrillCase(
        name="r", departure="KBOS", destination="KBDR", route="BOSOX V1 MAD", meant="KBOS BOSOX V1 MAD KBDR"
    )
    cases = write_forms([case], 1, northeast, training_day(northeast))
    kept_drills.keep_drill(DrillInHand(cases, data=making.name_data(northeast)))
    dialog = drills.ask()
    drills.session.database = DEMO
    dialog.go_on_button.click()
    assert "(cycle 2301): load it, then go on." in dialog.message.text()
    drills.session.database = northeast
    dialog.go_on_button.click()
    figures = drills.window.tool.figures
    assert [figures.item(row, 3).text() != "" for row in range(figures.rowCount())] == [True] * figures.rowCount()


def test_own_files_and_their_faults(drills, qtbot, tmp_path, monkeypatch):
    own = tmp_path / "drill.toml"
    own.write_text('[[case]]\nroute = "LENDU"\nkind = "typo"\n', "utf-8")
    drills.session.database = DEMO
    dialog = drills.ask()
    monkeypatch.setattr(dialogs, "file_to_open", lambda *_: str(own))
    dialog.file_button.click()
    assert dialog.form.wish.paths == (str(own),)
    dialog.start_button.click()
    qtbot.waitUntil(lambda: "“typo” is no kind of entry error" in dialog.message.text(), timeout=20_000)
    with monkeypatch.context() as patched:
        patched.setattr(making.DrillMaking, "start", lambda _: None)
        dialog.start_button.click()
        drills._reported.emit(64, 200)  # noqa: SLF001
        assert (dialog.start_button.text(), dialog.message.text()) == ("S&top", "Checking the routes: 64 of 200 …")
        dialog.start_button.click()
        assert (dialog.start_button.text(), dialog.message.text()) == ("S&tart", "")
    own.write_text('[[case]]\ndeparture = "XVAL"\nroute = "LENDU DCT SARNO"\n', "utf-8")
    dialog.form.count.setValue(1)
    dialog.start_button.click()
    qtbot.waitUntil(lambda: drills.window is not None, timeout=20_000)
    assert [case.route for case in drills.window.drill.cases] == ["LENDU DCT SARNO"]


def test_the_form_asks_for_a_mix_that_the_command_line_takes_too(qtbot):
    form = NewDrillForm()
    qtbot.addWidget(form)
    assert (form.wish.order.mix, form.lacks) == ({}, "")
    form.show_order(
        DrillOrder(seed=1, count=5, difficulty=3, mix={"half degree": 80.0, "exit too far": 80.0, "clean": 40.0})
    )
    assert form.wish.order.mix == {"exit too far": 80.0, "half degree": 80.0, "clean": 40.0}
    assert (form.wish.order.seed, form.wish.order.count, form.wish.order.difficulty) == (1, 5, 3)
    form.clean.setValue(100)
    assert form.wish.order.mix == {"clean": 200.0}
    for row in range(form.kinds.count()):
        form.kinds.item(row).setCheckState(Qt.CheckState.Unchecked)
    assert form.lacks == ""
    form.clean.setValue(20)
    assert form.lacks == "Choose a kind of error."
    form.origin.setCurrentIndex(1)
    assert form.lacks.startswith("Choose files")


def test_a_file_that_is_no_drill_is_said(drills, tmp_path, monkeypatch):
    bad = tmp_path / "bad.jsonl"
    bad.write_text("{}", "utf-8")
    monkeypatch.setattr(dialogs, "file_to_open", lambda *_: str(bad))
    dialog = drills.ask()
    dialog.file_button.click()
    assert "bad.jsonl, line 1: no line of an answer key" in dialog.message.text()
    bad.write_text("nothing", "utf-8")
    monkeypatch.setattr(dialogs, "file_to_open", lambda *_: str(bad.rename(tmp_path / "drill.toml")))
    dialog.file_button.click()
    assert "drill.toml does not say how a drill was made" in dialog.message.text()


def test_the_class_is_shown_added_to_saved_and_deleted(show, qtbot, tmp_path, monkeypatch):
    shown = show(1, trainee="Kim")
    say(shown, {"PIKOR"}, "letter to a known name", "PIKAR")
    shown.next_button.click()
    assert kept_drills.read_drill().trainee == "Kim"
    say(shown, {"LENDU"}, "half degree")
    shown.next_button.click()
    assert not (data_folder() / kept_drills.IN_HAND).exists(), "its name is in the class list alone"
    handed_in, key = tmp_path / "Alex.csv", tmp_path / "answers.jsonl"
    monkeypatch.setattr(dialogs, "file_to_save", lambda *_: str(handed_in))
    shown.marks_view.save_button.click()
    assert [one.kind for one in read_trainee_answers(handed_in.read_text("utf-8"), "")] == [
        "letter to a known name",
        "half degree",
    ]
    handed_in.write_text("name,word,kind,correction\nroute-02,,clean,\n", "utf-8")
    key.write_text(write_key(CASES[1]), "utf-8")
    monkeypatch.setattr(dialogs, "file_to_open", lambda *_: str(key))
    monkeypatch.setattr(dialogs, "files_to_open", lambda *_: [str(handed_in)])
    monkeypatch.setattr(dialogs, "confirm_discard", lambda *_: True)
    board = class_files.show_class(None)
    qtbot.addWidget(board)
    board.add_button.click()
    rows = [[board.trainees.item(row, column).text() for column in range(6)] for row in range(2)]
    assert rows == [["Kim", "2", "50", "1", "0", "0"], ["Alex", "2", "50", "0", "1", "0"]]
    kinds = [[board.kinds.item(row, column).text() for column in (0, 1, 5, 6)] for row in range(2)]
    assert kinds == [["letter to a known name", "2", "50", "0"], ["clean", "2", "50", "1"]]
    for name in ("marks.csv", "marks.pdf"):
        monkeypatch.setattr(dialogs, "file_to_save", lambda *_, name=name: str(tmp_path / name))
        board.save_button.click()
    assert (tmp_path / "marks.pdf").read_bytes()[:4] == b"%PDF"
    assert len((tmp_path / "marks.csv").read_text("utf-8").splitlines()) == 5
    assert (tmp_path / "marks-by-kind.csv").read_text("utf-8").splitlines()[1].startswith("letter to a known name,2,")
    shown.name.setText("Kim B")
    shown.name.textEdited.emit("Kim B")
    shown.name.editingFinished.emit()
    assert list(kept_drills.read_class().marks) == ["Alex", "Kim B"], "a name that is typed late"
    board.trainees.selectRow(0)
    board.delete_button.click()
    assert list(kept_drills.read_class().marks) == ["Alex"]
    board.delete_all_button.click()
    assert not (data_folder() / kept_drills.CLASS).exists()


def test_a_damaged_file_is_put_aside_and_not_written_over():
    kept_drills.keep_class(ClassList([DoneDrill("Kim", tuple(CASES[1]), ())]))
    path = data_folder() / kept_drills.CLASS
    path.write_bytes(b"damaged")
    assert kept_drills.read_class().drills == []
    assert path.with_suffix(".unreadable").read_bytes() == b"damaged"


def test_two_trainees_without_a_name_are_two():
    done = [
        DoneDrill("", tuple(CASES[1]), (TraineeAnswer("route-01", kind=kind),)) for kind in ("clean", "half degree")
    ]
    kept = ClassList()
    for one in (*done, done[0]):
        kept.add(one)
    assert len(kept.drills) == 2
    kept.add(done[1]._replace(trainee="Kim"))
    assert [one.trainee for one in kept.drills] == ["", "Kim"]


@pytest.mark.parametrize("content", [b"", b"nonsense", b"x\x9cc", DrillInHand([]).pack()])
def test_a_damaged_drill_in_hand_is_none(content):
    assert unpack_drill(content) is None
    assert unpack_class(content) is None


def test_a_drill_in_hand_and_a_class_come_back_as_they_were():
    drill = DrillInHand(CASES[2], trainee="Kim", seconds=3.5, about="seed 1", revealed=["picture"])
    drill.draft = Draft((1, 2), "clean", "x")
    assert unpack_drill(drill.pack()) == drill
    done = ClassList([DoneDrill("Kim", tuple(CASES[3]), (TraineeAnswer("route-01", reveals=1, seconds=7),))])
    assert unpack_class(done.pack()) == done
