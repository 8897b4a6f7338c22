"""How many coded airway courses °M meets within 3°, and how many the rule for uncoded ones does. Prints one table."""

import sys

import pytest
from charted_shares import measure_rule

from routecheck.navdata.database import NavDatabase

pytestmark = pytest.mark.bench


def test_the_rule_on_every_coded_course_of_the_country(country: NavDatabase, request: pytest.FixtureRequest) -> None:
    found = measure_rule(country)
    lines = [f"\n  {'':<10}{'segments':>10}{'°M within 3°':>16}{'rule answers':>16}{'of these within 3°':>20}"]
    for name, shares in sorted(found.items()):
        computed, answered = shares.computed_near / shares.segments, shares.answered / shares.segments
        right = shares.within_3 / shares.answered
        lines.append(f"\n  {name:<10}{shares.segments:>10,}{computed:>16.1%}{answered:>16.1%}{right:>20.1%}")
    with request.config.pluginmanager.getplugin("capturemanager").global_and_fixture_disabled():
        sys.stdout.write(f"\ncoded airway courses, the rule not seeing them{''.join(lines)}\n")
    whole = found["all"]
    assert whole.segments == 17_975
    assert {name for name, shares in found.items() if shares.within_3 / shares.answered < 0.92} == set()
    assert whole.answered / whole.segments >= 0.95
