"""The pane of weights and fuel: typed by keyboard, computed beside it, undone, cleared with the flight, saved."""

import dataclasses

import pytest
from PySide6.QtCore import QMimeData, Qt

from routecheck.model import Load

pytestmark = pytest.mark.usefixtures("without_charts")

PLAN = Load("kg", zero_fuel_weight=55_000.0, block_fuel=8_137.0, taxi_fuel=230.0, take_off_weight=62_407.0)


@pytest.fixture
def type_keys(window, qtbot):
    """Types into a field of the pane as a hand would, and waits for the answer."""

    def type_text(name, text):
        field = window.load.unfold().fields.fields[name]
        field.setFocus()
        field.selectAll()
        with qtbot.waitSignal(window.session.assessed, timeout=20_000):
            qtbot.keyClicks(field, text)

    return type_text


def test_typed_computed_undone_and_cleared(window, qtbot, type_keys):
    pane, session = window.load, window.session
    assert pane.brief.text() == "nothing stated"
    window.menu_actions.fold_load.trigger()
    with qtbot.waitSignal(session.assessed, timeout=20_000):
        session.change_input(dataclasses.replace(session.route_input, load=PLAN))
    assert pane.form.fields.fields["take_off_weight"].text() == "62,407"
    assert pane.form.fields.computed["take_off_weight"].text() == "■ = 62,907"
    assert pane.brief.text().startswith("■ 1 figure does not come out · ZFW 55,000 · TOW 62,407")

    type_keys("take_off_weight", "62907")
    assert session.route_input.load == dataclasses.replace(PLAN, take_off_weight=62_907.0)
    assert pane.form.fields.computed["take_off_weight"].text() == "= 62,907"
    qtbot.keyClick(pane.form.fields.fields["take_off_weight"], Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert session.route_input.load == PLAN

    type_keys("baggage", "84,5")
    assert session.route_input.load.baggage is None
    assert [one.name for one in session.route_input.not_used] == ["baggage"]
    type_keys("baggage", "84.5")
    assert session.route_input.load.baggage == 84.5
    assert session.route_input.not_used == ()

    window.text.selectAll()
    pasted = QMimeData()
    pasted.setText("LENDU DCT TOVIK")
    window.text.insertFromMimeData(pasted)
    assert session.route_input.load is None
    assert {field.text() for field in pane.form.fields.fields.values()} == {""}


def test_unit_rule_and_the_route_to_the_alternate(window, qtbot):
    pane, session = window.load, window.session
    window.go_to_pane(pane)
    assert pane.form.unit.hasFocus()
    pane.form.unit.setCurrentText("lb")
    pane.form.rule.setCurrentText("91.167")
    pane.form.alternate_route.setFocus()
    qtbot.keyClicks(pane.form.alternate_route, "SARNO")
    assert session.route_input.load == Load("lb", reserve_rule="91.167")
    assert session.route_input.alternate_route == "SARNO"
