"""One cause, one finding: the table of which check explains which, what the runner does by it, and every example."""

import datetime as dt
from dataclasses import replace

import pytest
from examples import DEMO, answer_to

from routecheck.checks.catalogue import collect
from routecheck.checks.causes import EXPLAINED_ANYWHERE_BY, EXPLAINED_BY, LIGHTER_CAUSES, Causes, may_explain
from routecheck.checks.runner import run_checks
from routecheck.model import Finding, Outcome, RouteInput, Weight
from routecheck.pipeline import assess
from routecheck.settings import Settings

EXAMPLES = {(check.name, i): case for check in collect() for i, case in enumerate(check.flagged)}
EXPLAINED = dict.fromkeys(
    [
        ("zigzag", 0),
        ("zigzag", 1),
        ("dogleg", 1),
        ("doubling-back", 0),
        ("sharp-turn", 0),
        ("crosses-itself", 0),
        ("leg-too-long", 0),
        ("steep", 1),
        ("airways-apart", 2),
        ("unlike-known", 0),
    ],
    "best-edit",
)
"""The flagged examples, by their place in the file of the check, that another finding explains when all checks run."""
SAME_CORRECTION = {("airways-apart", 2)}
"""Those for which the table does not say so: the proposals do, because the same correction clears both findings."""


# ---- the table


def test_the_table_names_checks_that_exist_each_once():
    names = {check.name for check in collect()}
    assert EXPLAINED_BY.keys() <= names
    for stronger in EXPLAINED_BY.values():
        assert set(stronger) <= names
        assert len(set(stronger)) == len(stronger)


def test_the_table_is_one_order():
    """What explains a check stands above it, so that no two explain each other, and strongest first in its row."""
    order = {name: rank for rank, name in enumerate(EXPLAINED_BY)}
    for name, stronger in EXPLAINED_BY.items():
        ranks = [order[one] for one in stronger if one in order]
        assert ranks == sorted(ranks), name
        assert all(rank < order[name] for rank in ranks), name


@pytest.mark.parametrize("place", EXAMPLES, ids=str)
def test_an_example_keeps_its_finding_among_all_checks_or_the_table_explains_it(place):
    check, case = place[0], EXAMPLES[place]
    answer = answer_to(case)
    explained = {n.explained_by for n in answer.not_checked if n.check == check and n.explained_by}
    if place not in EXPLAINED:
        assert check in {finding.check for finding in answer.findings}
        assert not explained
        return
    assert explained == {EXPLAINED[place]}
    assert EXPLAINED[place] in {finding.check for finding in answer.findings}
    assert (EXPLAINED[place] in EXPLAINED_BY.get(check, ())) is (place not in SAME_CORRECTION)


TABLES = (EXPLAINED_BY, EXPLAINED_ANYWHERE_BY)
PAIRS = sorted({(check, cause) for table in TABLES for check, causes in table.items() for cause in causes})
HEAVIER = {Weight.DOUBTFUL: (Weight.WRONG,), Weight.NOTE: (Weight.WRONG, Weight.DOUBTFUL)}


def test_nothing_hides_what_is_heavier_unless_the_table_says_why():
    """A Doubtful, a level of no table, took a Wrong off the list: that it is above the ceiling of the sheet."""
    for check, cause in PAIRS:
        for light, heavier in HEAVIER.items():
            for weight in heavier:
                findings = {check: [Finding((), "", weight)], cause: [Finding((), "", light, check=cause)]}
                hidden = not Causes(findings, EXPLAINED_BY).unexplained_findings(findings[check])
                exception = LIGHTER_CAUSES.get((check, cause))
                assert not hidden or (exception and exception.why), (check, cause, light, weight)


def test_every_exception_is_a_row_and_hides_something_heavier():
    assert LIGHTER_CAUSES.keys() <= set(PAIRS)
    for (check, cause), exception in LIGHTER_CAUSES.items():
        assert may_explain(Finding((), "", exception.lightest, check=cause), check, Weight.WRONG)
    note = Finding((), "", Weight.NOTE, check="unknown-name")
    assert not may_explain(note, "best-edit", Weight.DOUBTFUL)


# ---- what the runner does by it


def flagging(name, *words, weight=Weight.DOUBTFUL):
    """A check that flags these words, whatever the route."""

    def function(route, limit):
        spans = tuple(w.span for w in route.parsed.words if w.text in words)
        yield Finding(spans, f"{name}.", weight)

    return replace(collect()[0], name=name, function=function, citations=(), applies_to=None, requires=())


def outcome_of(*checks, table=None):
    answer = assess(RouteInput("LENDU DCT PIKAR DCT UVAGI", "XVAL", "XVOR"), DEMO, Settings(), dt.date(2026, 12, 3))
    return run_checks(answer.route, checks, {}, table or {"weak": ("strong",)})


def test_a_finding_at_the_same_words_steps_aside_and_says_for_what():
    answer = outcome_of(flagging("weak", "PIKAR", "UVAGI"), flagging("strong", "LENDU", "PIKAR"))
    assert [f.check for f in answer.findings] == ["strong"]
    assert [(n.check, n.because, n.explained_by) for n in answer.not_checked] == [
        ("weak", "explained by strong", "strong")
    ]
    assert dict(answer.outcomes) == {"weak": Outcome.NOT_CHECKED, "strong": Outcome.FINDINGS}


def test_a_finding_at_other_words_stands():
    answer = outcome_of(flagging("weak", "UVAGI"), flagging("strong", "LENDU", "PIKAR"))
    assert {f.check for f in answer.findings} == {"weak", "strong"}
    assert answer.not_checked == ()


def test_findings_about_the_whole_route_explain_no_word():
    answer = outcome_of(flagging("weak", "UVAGI"), flagging("strong"))
    assert [f.check for f in answer.findings] == ["weak", "strong"]


@pytest.mark.parametrize("words", [("PIKAR", "PIKAR"), ("PIKAR", "UVAGI"), ("UVAGI", "PIKAR")])
def test_of_several_that_explain_a_finding_the_first_in_its_row_is_named(words):
    """Whatever the order in which the checks run, and at whichever of the words it stands."""
    weak = flagging("weak", "PIKAR", "UVAGI")
    first, second = (flagging(name, word) for name, word in zip(("first", "second"), words, strict=True))
    for checks in ((first, second, weak), (weak, second, first)):
        answer = outcome_of(*checks, table={"weak": ("first", "second")})
        assert [n.explained_by for n in answer.not_checked] == ["first"]


def test_what_explains_and_is_explained_itself_is_not_named():
    """The reader must find on the list what is said to explain a finding."""
    checks = [flagging("weakest", "PIKAR"), flagging("weak", "PIKAR"), flagging("strong", "PIKAR")]
    answer = outcome_of(*checks, table={"weak": ("strong",), "weakest": ("weak",)})
    assert [f.check for f in answer.findings] == ["strong"]
    assert [(n.check, n.explained_by) for n in answer.not_checked] == [("weakest", "strong"), ("weak", "strong")]


def test_findings_stand_in_route_order_the_heavier_first_and_the_whole_route_last():
    checks = [
        flagging("all"),
        flagging("b", "UVAGI"),
        flagging("a", "LENDU"),
        flagging("w", "UVAGI", weight=Weight.WRONG),
    ]
    assert [f.check for f in outcome_of(*checks).findings] == ["a", "w", "b", "all"]
