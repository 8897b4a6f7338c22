"""The look into the built wheel, on wheels made up for it: each fault is found. The real wheel is built by .ci/run."""

import subprocess
import sys
import zipfile

import pytest
from wheel_contents import ROOT, expected_files, find_faults

LICENCE = (ROOT / "resources" / "LICENSE").read_bytes()


def made_up(folder, names, licence=LICENCE):
    path = folder / "made_up.whl"
    with zipfile.ZipFile(path, "w") as archive:
        for name in names:
            archive.writestr(name, "")
        archive.writestr("routecheck-1.dist-info/METADATA", "")
        if licence:
            archive.writestr("routecheck-1.dist-info/licenses/resources/LICENSE", licence)
    return path


def test_a_wheel_with_every_file_and_the_licence_is_right(tmp_path):
    assert find_faults(made_up(tmp_path, expected_files()), "adding 'routecheck/py.typed'\n") == []


@pytest.mark.parametrize(
    "name", ["routecheck/py.typed", "routecheck/model/text.py", "routecheck/resources/schema/result-1.json"]
)
def test_a_file_that_lacks_is_named(name, tmp_path):
    assert find_faults(made_up(tmp_path, expected_files() - {name}), "") == [f"lacks {name}"]


@pytest.mark.parametrize(
    "name",
    [
        "routecheck/resources/demo/make_region.py",
        "routecheck/resources/demo/chart.py",
        "routecheck/resources/outline/reduce_natural_earth.py",
        "routecheck/resources/__pycache__/__init__.cpython-311.pyc",
        "tests/conftest.py",
    ],
)
def test_what_does_not_belong_there_is_named(name, tmp_path):
    faults = find_faults(made_up(tmp_path, expected_files() | {name}), "")
    assert faults == [f"holds {name}, which does not belong there"]


@pytest.mark.parametrize("licence", [b"", LICENCE[:-1]])
def test_a_licence_that_lacks_or_is_not_whole_is_a_fault(licence, tmp_path):
    assert find_faults(made_up(tmp_path, expected_files(), licence), "") == ["does not hold the licence's text once"]


def test_complaints_of_the_build_are_faults(tmp_path):
    log = "WARNING Package 'x' is absent\nSetuptoolsDeprecationWarning: old\nwarning: byte-compiling is disabled\n"
    faults = find_faults(made_up(tmp_path, expected_files()), log)
    assert faults == [f"was built with the complaint: {line}" for line in log.splitlines()[:2]]


@pytest.mark.parametrize(("lacking", "code"), [(set(), 0), ({"routecheck/py.typed"}, 1)])
def test_the_command_fails_where_there_is_a_fault(lacking, code, tmp_path):
    log = tmp_path / "build.log"
    log.write_text("")
    wheel = made_up(tmp_path, expected_files() - lacking)
    command = [sys.executable, ROOT / "tests" / "wheel_contents.py", wheel, log]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr.strip()) == (code, "\n".join(f"the wheel lacks {name}" for name in lacking))


def test_the_licence_is_the_apache_licence():
    text = LICENCE.decode("ascii")
    assert "Apache License\n                           Version 2.0, January 2004" in text
    assert "END OF TERMS AND CONDITIONS" in text
