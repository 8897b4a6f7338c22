"""Every check against the examples in its own file, and the catalogue against the rules of the house."""

import json
import re
import subprocess
import sys
from dataclasses import replace

import pytest
from examples import DAY, answer_to, flagged, known_routes, route_input

from routecheck import checks
from routecheck.checks.catalogue import Case, Check, Family, collect
from routecheck.checks.runner import run_checks
from routecheck.citations import REGISTER, cite
from routecheck.corrections.best_edits import best_edits
from routecheck.corrections.scoring import AS_SHIPPED
from routecheck.geometry.legs import compute_routes
from routecheck.model import Outcome, Weight
from routecheck.navdata.database import demo_database
from routecheck.performance.alternates import alternate_inputs
from routecheck.presentation.finding_details import known_false_alarms
from routecheck.reading.route_text import read_route
from routecheck.report.check_descriptions import describe_check, tabulate_checks
from routecheck.resolution.resolve import resolve
from routecheck.vertical.minima import add_minima

ALL = collect()
FIRES = [pytest.param(check, case, id=f"{check.name}-{i}") for check in ALL for i, case in enumerate(check.flagged)]
CLEAN = [pytest.param(check, case, id=f"{check.name}-{i}") for check in ALL for i, case in enumerate(check.quiet)]


@pytest.fixture(scope="session")
def demo():
    return demo_database()


def draw(given, day, demo):
    resolved = resolve(read_route(given), demo, day)
    drawn = add_minima(compute_routes([resolved], [day])[0], demo)
    return replace(drawn, alternates=tuple(draw(onward, day, demo) for onward in alternate_inputs(drawn)))


def alone(check: Check, case: Case, demo):
    drawn = draw(route_input(case), case.given.date or DAY, demo)
    known = known_routes(case, demo)
    drawn = replace(drawn, usage=known and known.find_usage(drawn.resolved))
    return run_checks(replace(drawn, best_edits=best_edits(drawn, demo, AS_SHIPPED)), [check], {})


@pytest.mark.parametrize(("check", "case"), FIRES)
def test_fires_at_exactly_the_words_marked(check, case, demo):
    found = alone(check, case, demo).findings
    assert found, "nothing was found"
    assert {(s.start, s.end) for f in found for s in f.spans} == flagged(case)
    if case.whole:
        assert any(not f.spans for f in found)
    for finding in found:
        speaks_plainly(finding)


def speaks_plainly(finding):
    assert finding.message[-1] in ".?"
    assert "  " not in finding.message
    assert finding.weight in Weight
    assert not re.search(r"\b(nan|None|inf)\b", finding.message)


@pytest.mark.parametrize(("check", "case"), CLEAN)
def test_stays_quiet(check, case, demo):
    answer = alone(check, case, demo)
    assert not answer.findings
    assert answer.outcomes[0][1] in (Outcome.NOTHING_FOUND, Outcome.NOT_CHECKED)


@pytest.mark.parametrize("check", ALL, ids=lambda c: c.name)
def test_says_what_it_is(check):
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", check.name)
    assert len(check.quiet) >= 2
    assert check.flagged
    for text in (check.sentence, check.explanation, check.false_alarms):
        assert text.endswith(".")
        assert text.isprintable()
        assert "  " not in text
    assert check.function.__module__ == f"{checks.__name__}.{check.family.name.lower()}.{check.name.replace('-', '_')}"
    assert {limit.citation for limit in check.limits} | set(check.citations) <= REGISTER.keys()
    for limit in check.limits:
        assert limit.lowest <= limit.default <= limit.highest


def test_every_family_has_checks_and_no_two_checks_share_a_name_or_a_text():
    assert {check.family for check in ALL} == set(Family)
    for texts in ("name", "sentence", "explanation"):
        assert len({getattr(check, texts) for check in ALL}) == len(ALL), texts


@pytest.mark.parametrize("key", REGISTER)
def test_no_document_that_a_user_signs_for_is_cited_from_memory(key):
    assert "memory" not in str(cite(key))


@pytest.mark.parametrize("check", ALL, ids=lambda check: check.name)
def test_no_example_reads_the_same_as_another(check):
    """Of field-unread six of ten read “LENDU DCT PIKAR”, some as found and some as quiet."""
    described = describe_check(check)
    examples = [f"{one['route']} [{one['beside']}]" for one in (*described["flagged"], *described["quiet"])]
    assert len(set(examples)) == len(examples)


def test_a_check_without_docstrings_says_the_same():
    """Python leaves docstrings out under -OO, where the texts of a check must stand all the same."""
    code = """if True:
        import json, sys
        from routecheck.checks.catalogue import collect
        from routecheck.presentation.finding_details import known_false_alarms
        from routecheck.report.check_descriptions import describe_check, tabulate_checks
        told = [[describe_check(check), known_false_alarms(check.name)] for check in collect()]
        json.dump([tabulate_checks(collect()), told, tabulate_checks.__doc__], sys.stdout)
        """
    told = subprocess.run([sys.executable, "-OO", "-c", code], capture_output=True, check=True, timeout=60)
    without = json.loads(told.stdout)
    assert without == [
        tabulate_checks(ALL),
        [[describe_check(check), known_false_alarms(check.name)] for check in ALL],
        None,
    ]
    assert all(check.sentence in tabulate_checks(ALL) or check.sentence[:-1] in tabulate_checks(ALL) for check in ALL)


def test_the_four_counts_add_up_whatever_is_typed():
    for check in ALL:
        for case in (*check.flagged, *check.quiet):
            answer = answer_to(case)
            assert [name for name, _ in answer.outcomes] == [c.name for c in ALL]
            assert not answer.could_not_run
            assert not answer.route.own_mistakes
