"""An answer knows what it is about: the moment that differs the verdict goes, whatever keeps the next one waiting."""

import dataclasses
import threading
from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from routecheck.gui import app, assessor
from routecheck.gui.window import MainWindow
from routecheck.model import Accepted, Assessment
from routecheck.settings import Settings

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.gui.assessor import AssessmentRequest
    from routecheck.presentation.assessment_view import AssessmentView

CLEAN = "LENDU DCT PIKAR UM12 TOVIK DCT SARNO"
UNCHECKED = "Not checked yet"


@pytest.fixture
def held(monkeypatch: pytest.MonkeyPatch, opened: "Callable[..., MainWindow]") -> Iterator[threading.Event]:
    """Assessing waits until the event is set, at the latest before windows are closed: they wait for their worker."""
    go_on, real = threading.Event(), assessor.assess
    go_on.set()

    def waiting(*given: object) -> Assessment:
        go_on.wait(20)
        return real(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(assessor, "assess", waiting)
    yield go_on
    go_on.set()


@pytest.fixture
def clean(held: threading.Event, qtbot: QtBot, window: MainWindow) -> MainWindow:
    """The window on a route in which nothing was found; the next answer waits."""
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(dataclasses.replace(window.session.route_input, route=CLEAN))
    assert window.margin.headline.text() == "Nothing found in all that can be checked."
    assert window.margin.verdict_bar.colour == window.theme.route
    held.clear()
    return window


def says_nothing_of_a_verdict(window: MainWindow) -> bool:
    margin = window.margin
    labels = (
        margin.headline,
        margin.counts,
        margin.outcomes,
        margin.how_much,
        window.foot.totals,
        window.status.recognised,
    )
    text = " ".join(label.text() for label in labels)
    return margin.headline.text() == UNCHECKED and not any(word in text for word in ("Nothing found", "all", "NM"))


def test_the_verdict_goes_with_the_first_letter(qtbot: QtBot, held: threading.Event, clean: MainWindow) -> None:
    qtbot.keyClicks(clean.text, "X")
    assert says_nothing_of_a_verdict(clean)
    assert clean.margin.verdict_bar.colour == clean.theme.line
    assert clean.foot.totals.text() == UNCHECKED
    assert not clean.session.is_answer_current
    with qtbot.waitSignal(clean.session.assessed):
        held.set()
    assert clean.session.is_answer_current
    assert clean.margin.how_much.text().startswith("Checked")
    assert clean.status.recognised.text().startswith("Route, ")
    assert "NM" in clean.foot.totals.text()


def test_the_verdict_goes_with_any_field(qtbot: QtBot, held: threading.Event, clean: MainWindow) -> None:
    for name in ("departure", "destination_runway", "speed", "level", "wind", "off_block"):
        field = clean.flight_fields.fields[name]
        field.setFocus()
        field.selectAll()
        qtbot.keyClicks(field, "2")
        assert says_nothing_of_a_verdict(clean), name
        with qtbot.waitSignal(clean.session.assessed):
            held.set()
            qtbot.keyClick(field, Qt.Key.Key_Return)
        assert not says_nothing_of_a_verdict(clean), name
        held.clear()


def test_the_verdict_goes_with_other_settings(clean: MainWindow) -> None:
    clean.session.use_settings(Settings())
    assert says_nothing_of_a_verdict(clean)


def test_the_verdict_goes_with_another_route_and_its_marks_too(
    qtbot: QtBot, held: threading.Event, window: MainWindow
) -> None:
    assert window.text.underlines
    held.clear()
    window.session.replace_input(dataclasses.replace(window.session.route_input, route=CLEAN))
    assert says_nothing_of_a_verdict(window)
    assert window.text.underlines == []


def test_a_proposal_of_an_outdated_answer_is_not_applied(
    qtbot: QtBot, held: threading.Event, window: MainWindow
) -> None:
    proposal = window.corrections.proposals_for(0)[0]
    held.clear()
    qtbot.keyClicks(window.text, "X")
    typed = window.text.toPlainText()
    window.corrections.apply_proposal(proposal)
    assert "Not changed" in window.status.message.text()
    assert window.text.toPlainText() == typed


def test_a_finding_of_an_outdated_answer_is_not_accepted(
    qtbot: QtBot, held: threading.Event, window: MainWindow
) -> None:
    dialog = window.acceptance.accept()
    assert dialog is not None
    dialog.reason.setText("cleared so")
    dialog.by.setText("AB")
    held.clear()
    qtbot.keyClicks(window.text, "X")
    typed = window.session.route_input
    dialog.accept()
    assert "Not accepted" in window.status.message.text()
    assert window.session.route_input == typed


def test_an_acceptance_is_not_withdrawn_by_an_outdated_answer(
    qtbot: QtBot, held: threading.Event, window: MainWindow
) -> None:
    assert window.session.answer is not None
    finding = window.session.answer.assessment.findings[0]
    words = "PIKOR"
    accepted = Accepted(finding.check, words, "cleared so", "AB", finding=finding.message)
    with qtbot.waitSignal(window.session.assessed):
        window.session.change_input(dataclasses.replace(window.session.route_input, accepted=(accepted,)))
    window.session.select_finding(0)
    held.clear()
    qtbot.keyClicks(window.text, "X")
    window.acceptance.withdraw()
    assert window.session.route_input.accepted == (accepted,)
    assert "X" in window.session.route_input.route


def test_nothing_moves_in_the_margin_while_the_answer_is_outdated(
    qtbot: QtBot, held: threading.Event, window: MainWindow
) -> None:
    qtbot.wait(50)
    top = window.margin.findings.y()
    held.clear()
    qtbot.keyClicks(window.text, "X")
    qtbot.wait(50)
    assert says_nothing_of_a_verdict(window)
    assert window.margin.findings.y() == top


def test_an_answer_that_comes_after_the_next_letter_is_not_shown(qtbot: QtBot, window: MainWindow) -> None:
    session = window.session
    answers: list[tuple[AssessmentRequest, AssessmentView]] = []
    session.assessor.assessed.connect(lambda *answer: answers.append(answer))
    session.request_assessment()
    qtbot.waitUntil(lambda: bool(answers))  # an answer that was on its way before is not among them
    shown: list[object] = []
    session.assessed.connect(shown.append)
    session.change_input(dataclasses.replace(session.route_input, route=CLEAN))
    session.take_answer(*answers[-1])
    assert shown == []
    assert says_nothing_of_a_verdict(window)


def is_covered(window: MainWindow) -> list[bool]:
    return [veil.isVisible() for veil in window.veils.veils]


def test_what_shows_the_input_before_is_covered_until_the_next_answer(
    qtbot: QtBot, held: threading.Event, window: MainWindow
) -> None:
    assert {veil.parentWidget() for veil in window.veils.veils} == {
        window.margin.findings,
        window.picture,
        window.side,
        window.legs,
    }
    assert not any(is_covered(window))
    held.clear()
    qtbot.keyClicks(window.text, "X")
    qtbot.waitUntil(lambda: all(is_covered(window)), timeout=2000)
    assert window.text.underlines == []
    assert all(veil.geometry() == veil.parentWidget().rect() for veil in window.veils.veils)
    window.resize(window.width() + 120, window.height() + 60)
    qtbot.wait(20)
    assert all(veil.geometry() == veil.parentWidget().rect() for veil in window.veils.veils)
    with qtbot.waitSignal(window.session.assessed):
        held.set()
    assert not any(is_covered(window))
    assert window.text.underlines


def test_an_answer_that_comes_at_once_lets_nothing_flicker(qtbot: QtBot, window: MainWindow) -> None:
    for letter in "ABC":
        with qtbot.waitSignal(window.session.assessed):
            qtbot.keyClicks(window.text, letter)
    assert not any(is_covered(window))


def test_what_is_lost_is_not_covered_but_gone(qtbot: QtBot, held: threading.Event, window: MainWindow) -> None:
    held.clear()
    qtbot.keyClicks(window.text, "X")
    qtbot.waitUntil(lambda: all(is_covered(window)), timeout=2000)
    window.session.answer_lost.emit("why")
    assert not any(is_covered(window))
    assert window.margin.findings.finding_model.rowCount() == 0


def test_before_the_first_answer_nothing_looks_checked(qtbot: QtBot, held: threading.Event) -> None:
    held.clear()
    window = app.open_window(None, [], demo=True)
    window.show()
    qtbot.wait(50)
    assert window.margin.headline.text() == UNCHECKED
    assert window.margin.counts.text() == window.foot.totals.text() == ""
    with qtbot.waitSignal(window.session.assessed, timeout=20_000):
        held.set()
    window.close()
    window.deleteLater()
    qtbot.wait(1)
