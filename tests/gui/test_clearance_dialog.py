"""A new clearance typed into the window: put in as one step, compared with the version before, undone as one step."""

import pytest
from PySide6.QtCore import Qt

from routecheck.model import Role

pytestmark = pytest.mark.usefixtures("without_charts")


def test_typed_put_in_compared_and_undone(window, qtbot):
    session, before = window.session, window.session.route_input
    dialog = window.clearance.ask()
    qtbot.keyClicks(dialog.text, "cleared direct SARNO then as filed, climb and maintain 5000, hold at LENDU")
    assert dialog.route.text() == "SARNO DCT KEBUL DCT RIPAS"
    assert "Not read: “hold at LENDU”" in dialog.notes.text()
    with qtbot.waitSignal(session.assessed, timeout=20_000):
        qtbot.keyClick(dialog.text, Qt.Key.Key_Return)
    now = session.route_input
    assert (now.route, now.role, now.first_altitude) == ("SARNO DCT KEBUL DCT RIPAS", Role.CLEARED, "A050")
    assert window.text.toPlainText() == now.route
    assert window.flight_fields.fields["first_altitude"].text() == "A050"
    assert window.comparison.isVisible()
    assert "look again at" in window.clearance.box.list.text()
    with qtbot.waitSignal(session.assessed, timeout=20_000):
        window.text.undo()
    assert (session.route_input.route, session.route_input.role) == (before.route, before.role)
    assert session.route_input.first_altitude == ""
    assert not window.clearance.box.isVisible()


def test_what_cannot_be_put_in_changes_nothing(window, qtbot):
    dialog = window.clearance.ask()
    qtbot.keyClicks(dialog.text, "cleared direct XYZZY then as filed")
    assert not dialog.take_button.isEnabled()
    assert "cannot be known where the rest as filed begins" in dialog.notes.text()
    before = window.session.route_input
    qtbot.keyClick(dialog.text, Qt.Key.Key_Return)
    assert dialog.isVisible()
    assert window.session.route_input == before
    dialog.reject()
