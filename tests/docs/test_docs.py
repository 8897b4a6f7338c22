"""The README and DEVELOPERS.md against the program: what they promise is there."""

import importlib.util
import re
from pathlib import Path

from routecheck.cli.main import main

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text("utf-8")


def _updater():
    spec = importlib.util.spec_from_file_location("update_readme", Path(__file__).with_name("update_readme.py"))
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_the_table_of_checks_is_the_catalogue():
    assert _updater().with_checks(README) == README, "run tests/docs/update_readme.py"


def test_the_catalogue_that_explain_reads_is_what_the_checks_say():
    assert _updater().catalogue() == _updater().CATALOGUE.read_text("utf-8"), "run tests/docs/update_readme.py"


def test_every_local_link_leads_somewhere():
    for name in ("README.md", "DEVELOPERS.md"):
        for target in re.findall(r"\]\((?!http)([^)#]+)\)", (ROOT / name).read_text("utf-8")):
            assert (ROOT / target).exists(), f"{name}: {target}"


def test_ci_takes_the_test_command_from_the_readme():
    command = re.search(r"<!-- test command -->\n```sh\n(.*?)```\n<!-- end -->", README, re.DOTALL)
    assert command
    assert ".venv/bin/pytest" in command[1]
    assert "<!-- test command -->" in (ROOT / ".ci" / "run").read_text("utf-8")


def test_the_cautions_stand_in_the_readme():
    assert "not for navigation" in README
    assert "weather, notam, airspace and overflight" in README.lower()


def test_rooms_named_for_developers_exist():
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    for room in re.findall(r"^\| `([a-z_]+(?:/|\.py))`", text, re.MULTILINE):
        assert (ROOT / "routecheck" / room).exists() or (ROOT / room).exists(), room


def test_the_commands_of_the_readme_are_understood(capsys):
    assert main(["explain", "dogleg"]) == 0
    assert "Known false alarms" in capsys.readouterr().out
