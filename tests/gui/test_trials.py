"""Answers to *Try* that come late: only the last one asked for is shown, and only while it is still wanted."""

import threading
from typing import Any

import pytest
from pytestqt.qtbot import QtBot

from routecheck.gui import assessor
from routecheck.gui.window import MainWindow
from routecheck.model import Assessment, RouteInput


class SlowAssess:
    """Assessing that waits to be let go on: `begun` says that the worker is at it, `routes` what it was given."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.begun, self.go_on = threading.Event(), threading.Event()
        self.routes: list[str] = []
        self.real = assessor.assess
        monkeypatch.setattr(assessor, "assess", self)

    def __call__(self, route_input: RouteInput, *rest: Any) -> Assessment:
        self.routes.append(route_input.route)
        self.begun.set()
        assert self.go_on.wait(timeout=20)
        return self.real(route_input, *rest)


def sent_by(signal: Any) -> list[Any]:
    """What a signal sends from now on."""
    sent: list[Any] = []
    signal.connect(sent.append)
    return sent


def test_a_trial_whose_answer_comes_after_the_text_changed_is_not_shown(
    qtbot: QtBot, window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    answered, shown = sent_by(window.session.trial_assessed), sent_by(window.corrections.trial_changed)
    slow = SlowAssess(monkeypatch)
    window.corrections.toggle_trial(window.corrections.proposals_for(0)[0])
    assert slow.begun.wait(timeout=20)
    window.text.insertPlainText("XXXXX ")
    with qtbot.waitSignal(window.session.assessed):
        slow.go_on.set()
    assert answered == []
    assert shown == [None]
    assert window.corrections.outcome == ""


def test_an_answer_shows_nothing_where_nothing_is_tried(window: MainWindow) -> None:
    assert window.session.answer is not None
    shown = sent_by(window.corrections.trial_changed)
    window.session.trial_assessed.emit(window.session.answer.assessment)
    assert shown == []


def test_of_trials_in_quick_succession_only_the_last_is_shown(
    qtbot: QtBot, window: MainWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    with qtbot.waitSignal(window.session.assessed):
        window.session.replace_input(RouteInput("LENDU UM12 OSDEK DCT SARNO", "XVAL", "XVOR"))
    one, other = window.corrections.proposals_for(0)[:2]
    answered, slow = sent_by(window.session.trial_assessed), SlowAssess(monkeypatch)
    window.corrections.toggle_trial(one)
    assert slow.begun.wait(timeout=20)
    for proposal in (other, one, other):
        window.corrections.toggle_trial(proposal)
    with qtbot.waitSignal(window.session.trial_assessed):
        slow.go_on.set()
    qtbot.wait(50)
    assert slow.routes == [one.route, other.route], "those between are not even assessed"
    assert [then.route.route_input.route for then in answered] == [other.route]
    assert window.corrections.tried_proposal == other
