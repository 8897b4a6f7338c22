"""What other programs may call: imported when asked for, and the example of the README runs."""

import datetime as dt
import re
import subprocess
import sys

import pytest

import routecheck

TODAY = dt.date(2026, 12, 3)


@pytest.fixture(scope="module")
def demo():
    return routecheck.load_navdata()


def test_a_route_as_text(demo):
    answer = routecheck.assess(
        "LENDU UM12 PIKOR DCT SARNO", departure="XVAL", destination="XVOR", navdata=demo, today=TODAY
    )
    assert isinstance(answer, routecheck.Assessment)
    assert "off-airway" in [finding.check for finding in answer.findings]
    assert answer.route.date == TODAY


def test_many_routes_in_their_order(demo):
    texts = ["LENDU DCT PIKAR", "LENDU DCT SARNO"]
    inputs = (routecheck.RouteInput(text, "XVAL", "XVOR") for text in texts)
    answers = routecheck.assess_many(inputs, navdata=demo, settings=routecheck.Settings(), today=TODAY)
    assert [answer.route.route_input.route for answer in answers] == texts


def test_files_of_navigation_data_are_read(test_data):
    northeast = routecheck.load_navdata(test_data / "faa_cifp_2301_northeast.txt.xz")
    assert northeast.sources[0].cycle == "2301"


def test_known_routes_are_compared_with(demo, root):
    assert routecheck.load_known() is None
    known = routecheck.load_known(root / "sample_routes" / "known" / "demo-region.csv", navdata=demo, today=TODAY)
    route = {"departure": "XVAL", "destination": "XVOR", "navdata": demo, "today": TODAY}
    plain, compared = (routecheck.assess("LENDU UM12 UVAGI DCT SARNO", known=one, **route) for one in (None, known))
    assert "best-edit" not in [finding.check for finding in plain.findings]
    assert "best-edit" in [finding.check for finding in compared.findings]
    assert compared.route.usage.nearest.differences == (("UVAGI", "TOVIK"),)


def test_changed_limits_hold(demo):
    strict = routecheck.Settings(limits={"sharp-turn": {"note_deg": 1.0}})
    route = {"departure": "XVAL", "destination": "XVOR", "navdata": demo, "today": TODAY}
    plain, changed = (
        routecheck.assess("LENDU DCT UVAGI DCT SARNO DCT RIPAS", settings=settings, **route)
        for settings in (routecheck.Settings(), strict)
    )
    assert "sharp-turn" not in [finding.check for finding in plain.findings]
    assert "sharp-turn" in [finding.check for finding in changed.findings]


def test_the_example_of_the_readme_runs(root, capsys):
    (code,) = re.findall(r"<!-- example -->\n```python\n(.*?)```", (root / "README.md").read_text("utf-8"), re.DOTALL)
    assert len([line for line in code.splitlines() if line.strip()]) <= 10
    exec(compile(code, "README.md", "exec"), {})
    assert "PIKOR is not on UM12" in capsys.readouterr().out


def test_nothing_is_imported_before_it_is_asked_for():
    code = "import sys, routecheck; dir(routecheck); print(routecheck.__version__, 'numpy' in sys.modules)"
    answer = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert answer.stdout == f"{routecheck.__version__} False\n"


def test_another_name_is_said_to_be_missing():
    with pytest.raises(AttributeError, match="has no attribute 'plan'"):
        routecheck.plan  # noqa: B018
