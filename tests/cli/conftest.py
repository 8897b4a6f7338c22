"""What the tests of the command line share: a home of their own, the command in this process and in another."""

import logging
import os
import subprocess
import sys

import pytest

from routecheck.cli.main import main

# As for the tests of the window: a picture is drawn here without one, and Qt aborts where there is no display.
os.environ["QT_QPA_PLATFORM"] = "offscreen"

_FOLDERS = ("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME")


@pytest.fixture(autouse=True)
def own_home(monkeypatch, tmp_path):
    """No settings, data or log of the user are read or written; what was logged is closed again."""
    for name in _FOLDERS:
        folder = tmp_path / "home" / name.lower()
        folder.mkdir(parents=True)
        monkeypatch.setenv(name, str(folder))
    log = logging.getLogger("routecheck")
    before = log.handlers[:]
    log.handlers[:] = []
    yield
    for handler in log.handlers:
        handler.close()
    log.handlers[:] = before


@pytest.fixture
def command(capsys):
    """Run the command here: (exit code, standard output, standard error)."""

    def run(*arguments):
        code = main([str(argument) for argument in arguments])
        return code, *capsys.readouterr()

    return run


@pytest.fixture
def process(root):
    """Run it as a user does: (exit code, output, errors), with environment variables set, or taken out by None."""

    def run(*arguments, shell="", stdin=b"", **environment):
        env = {name: value for name, value in {**os.environ, **environment}.items() if value is not None}
        command = [sys.executable, "-m", "routecheck", *map(str, arguments)]
        if shell:
            command = ["bash", "-o", "pipefail", "-c", shell.replace("routecheck", f"{sys.executable} -m routecheck")]
        done = subprocess.run(command, cwd=root, env=env, input=stdin, capture_output=True, timeout=60, check=False)
        return done.returncode, done.stdout.decode("utf-8", "replace"), done.stderr.decode("utf-8", "replace")

    return run
