"""A drill on paper: the hand-out tells nothing of the truth, the key all of it; score sheets as PDF."""

import csv

import pytest
from PySide6.QtWidgets import QApplication
from worklist_routes import ROUTES
from written_runs import assess_on_demo

from routecheck.cli.main import main
from routecheck.drill.cases import DrillCase
from routecheck.drill.marking import TraineeAnswer, mark_case
from routecheck.drill.paper import write_hand_out, write_marks_page, write_paper_key
from routecheck.gui.review_sheet.drawing import draw_picture

CASE = DrillCase(
    name="route-01", departure="XVAL", destination="XVOR", route="LENDU DCT PIKER", kind="letter to an unknown name",
    words=("PIKER",), beside=("DCT", "XVOR"), correction="PIKAR", meant="XVAL LENDU DCT PIKAR XVOR",
)  # fmt: skip


def test_the_hand_out_hides_what_the_key_says():
    out, key = write_hand_out([CASE], {}, 600), write_paper_key([CASE], lambda one: assess_on_demo([one])[0])
    assert "LENDU DCT PIKER" in out
    assert "PIKAR" not in out
    assert "PIKER: letter to an unknown name. Meant: PIKAR.</p>\n<p>The tool: PIKER" in key
    assert "Letters and figures" in key
    assert "NASA ASRS 961171" in key


@pytest.mark.usefixtures("qapp")
def test_a_plain_picture_has_no_marks():
    (answer,) = assess_on_demo(ROUTES[1:2])
    assert answer.findings
    before = set(QApplication.topLevelWidgets())
    assert draw_picture(answer, is_plain=True) != draw_picture(answer)
    left = [type(widget).__name__ for widget in QApplication.topLevelWidgets() if widget not in before]
    assert "MapChart" not in left, "a drill draws some dozens of pictures"


def test_the_score_sheet_has_a_row_a_route():
    page = write_marks_page({"<b>": [mark_case(CASE, TraineeAnswer("route-01", "XVOR", "point repeated"))]})
    row = "route-01", "letter to an unknown name", "20", "15", "0", "0", "35", ""
    assert f"<tr>{''.join(f'<td>{cell}</td>' for cell in row)}</tr>" in page
    assert "&lt;b&gt;" in page


@pytest.mark.usefixtures("qapp")
def test_the_command_writes_paper(tmp_path, capsys):
    made = ["--seed", "1", "--count", "2", "--mix", "point repeated", "--date", "2026-12-03", "--paper"]
    assert main(["drill", "make", "--out", str(tmp_path), *made]) == 0
    answers = tmp_path / "Kim.csv"
    with answers.open("w", newline="") as file:
        csv.writer(file).writerows([("name", "word", "kind", "correction"), ("route-01", "", "clean", "")])
    key = str(tmp_path / "answers.jsonl")
    assert main(["drill", "mark", str(answers), "--key", key, "-o", str(tmp_path / "marks.pdf")]) == 0
    assert all((tmp_path / name).read_bytes()[:4] == b"%PDF" for name in ("hand-out.pdf", "key.pdf", "marks.pdf"))
    assert "Kim: 0 of 100 on average over 2 routes; 0 false alarms, 1 route not answered" in capsys.readouterr().out
