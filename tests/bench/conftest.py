"""What the benches of the window share. Set before anything imports Qt."""

import os

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import datetime as dt

import pytest


@pytest.fixture
def demo_window(qtbot, tmp_path, monkeypatch):
    """The window on the demo, drawn and at rest; data and logs go to a folder of the test."""
    from routecheck.gui import app

    for name in ("XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME"):
        monkeypatch.setenv(name, str(tmp_path / name))
    monkeypatch.setattr(app, "today", lambda: dt.date(2026, 12, 3))
    made = app.open_window(None, [], demo=True)
    with qtbot.waitSignal(made.session.assessed, timeout=30_000):
        made.show()
    qtbot.waitUntil(lambda: made.picture.chart is not None, timeout=20_000)
    qtbot.wait(300)
    yield made
    made.close()
    made.deleteLater()
    qtbot.wait(1)
