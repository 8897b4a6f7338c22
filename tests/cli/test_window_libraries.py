"""Libraries of the system that Qt cannot do without: named with the line that installs them, before Qt aborts."""

import pytest

from routecheck.cli import window_libraries
from routecheck.cli.window_libraries import find_missing


@pytest.fixture
def display(monkeypatch):
    def choose(**environment):
        for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
            monkeypatch.delenv(name, raising=False)
        for name, value in environment.items():
            monkeypatch.setenv(name, value)

    return choose


@pytest.mark.parametrize(
    ("environment", "missing"),
    [
        ({"DISPLAY": ":0"}, ["libegl1", "libxcb-cursor0"]),
        ({"QT_QPA_PLATFORM": "xcb"}, ["libegl1", "libxcb-cursor0"]),
        ({"DISPLAY": ":0", "QT_QPA_PLATFORM": "offscreen"}, ["libegl1"]),
        ({"WAYLAND_DISPLAY": "wayland-0"}, ["libegl1"]),
    ],
)
def test_what_the_display_in_use_needs_is_looked_for(display, environment, missing):
    display(**environment)
    lacking = {"libEGL.so.1", "libxcb-cursor.so.0"}
    assert find_missing(lambda library: library not in lacking) == missing


def test_what_is_missing_is_one_sentence_with_the_line_to_install_it(command, display, monkeypatch):
    display(DISPLAY=":0")
    monkeypatch.setattr(window_libraries, "find_missing", lambda _can_load: ["libxcb-cursor0", "libxcb-shape0"])
    code, out, err = command()
    assert (code, out) == (2, "")
    assert err.startswith("routecheck: the window needs libraries that this system lacks. ")
    assert "apt-get install -y libxcb-cursor0 libxcb-shape0. " in err
    assert len(err.splitlines()) == 1


def test_the_libraries_are_those_of_the_readme(root):
    """A library that is looked for comes with what the README says to install, by itself or as a dependency."""
    readme = (root / "README.md").read_text("utf-8")
    for package in ("libglib2.0-0", "libgl1", "libegl1", "libdbus-1-3", "libxcb-cursor0", "libxcb-shape0"):
        assert package in readme
