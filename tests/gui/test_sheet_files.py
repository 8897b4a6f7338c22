"""The review sheet as a file: one page for the demo route, on both papers, from the window and by the command."""

import re
from dataclasses import replace

import pytest
from PySide6.QtGui import QImage
from worklist_routes import ROUTES
from written_runs import assess_on_demo

from routecheck.cli.main import main
from routecheck.gui import dialogs
from routecheck.gui.review_sheet.drawing import draw_pictures


def count_pages(pdf):
    return len(re.findall(rb"/Type /Page\b(?!s)", pdf))


def test_the_window_saves_it(window, tmp_path, monkeypatch):
    for name in ("sheet.pdf", "sheet.html"):
        monkeypatch.setattr(dialogs, "file_to_save", lambda *_, name=name: str(tmp_path / name))
        window.exports.save_sheet()
    assert (tmp_path / "sheet.pdf").read_bytes().startswith(b"%PDF")
    assert count_pages((tmp_path / "sheet.pdf").read_bytes()) == 1
    assert "PIKOR is not on UM12" in (tmp_path / "sheet.html").read_text("utf-8")


def test_a_route_that_is_not_checked_has_no_sheet(window, qtbot):
    window.text.setPlainText("LENDU")
    with qtbot.waitSignal(window.exports.reported) as said:
        window.exports.save_sheet()
    assert said.args == ["There is no review sheet: the route is not checked yet."]


@pytest.mark.usefixtures("qapp")
def test_the_pictures_are_drawn():
    with_level, without = assess_on_demo(
        [replace(ROUTES[0], level="F350"), replace(ROUTES[0], departure="", destination="")]
    )
    assert list(draw_pictures(with_level)) == ["Picture", "Side view"]
    assert list(draw_pictures(without)) == ["Picture"]
    for png in draw_pictures(with_level).values():
        image = QImage.fromData(png)
        columns, rows = range(0, image.width(), 3), range(0, image.height(), 3)
        assert len({image.pixel(x, y) for x in columns for y in rows}) > 5


@pytest.mark.usefixtures("qapp")
def test_the_command_writes_letter_paper(tmp_path, capsys):
    route = tmp_path / "plan.route.toml"
    route.write_text('departure = "XVAL"\ndestination = "XVOR"\nroute = "LENDU UM12 PIKOR DCT SARNO"\n', "utf-8")
    out = tmp_path / "plan.pdf"
    assert main(["sheet", str(route), "-o", str(out), "--paper", "Letter", "--demo", "--date", "2026-12-03"]) == 0
    assert re.search(rb"/MediaBox \[0 0 612(\.0*)? 792(\.0*)? ?\]", out.read_bytes())
    assert "plan.pdf is written. Wrong: PIKOR is not on UM12" in capsys.readouterr().out
    assert main(["sheet", str(route), "-o", "plan.doc", "--demo"]) == 2
    assert "“.doc” is none of .pdf, .html" in capsys.readouterr().err
