"""Accept with reason: it holds for what was read, stays on the record, and takes nothing out of any count."""

import datetime as dt
from collections.abc import Callable
from dataclasses import replace

import pytest

from routecheck.model import Accepted, Assessment, RouteInput
from routecheck.navdata.database import NavDatabase
from routecheck.pipeline import assess
from routecheck.presentation import acceptance
from routecheck.presentation.assessment_view import view_assessment
from routecheck.presentation.headline import outcomes_line
from routecheck.report import text
from routecheck.settings import Settings

Assess = Callable[..., Assessment]
PLANTED = "LENDU DCT PIKOR UM12 TOVIK DCT SARNO"
AT = dt.datetime(2026, 12, 3, 15, 30, tzinfo=dt.timezone(dt.timedelta(hours=1)))


@pytest.fixture
def again(demo_library: NavDatabase) -> Callable[[RouteInput], Assessment]:
    return lambda route_input: assess(route_input, demo_library, Settings(), dt.date(2026, 12, 3))


def test_an_accepted_finding_stays_and_is_counted(assessed: Assess, again: Callable[[RouteInput], Assessment]) -> None:
    before = assessed(PLANTED)
    after = again(acceptance.accept_finding(before, 0, " cleared so ", "AB", AT))
    assert [f.message for f in after.findings] == [f.message for f in before.findings]
    assert outcomes_line(after) == outcomes_line(before)
    said = view_assessment(after)
    assert said.accepted == {0}
    assert said.acceptance_sentences[0] == "Accepted by AB, 03 DEC 2026 14:30 UTC: cleared so"
    assert said.headline.verdict == view_assessment(before).headline.verdict
    assert said.headline.how_much == view_assessment(before).headline.how_much
    assert said.headline.verdict_line == "All that is Wrong or Doubtful was accepted with reason."
    assert said.findings_line == f"{view_assessment(before).findings_line} (1 accepted with reason)"


def test_it_is_kept_with_check_words_and_sentence(assessed: Assess) -> None:
    before = assessed(PLANTED)
    finding = before.findings[0]
    route_input = acceptance.accept_finding(before, 0, "why", "AB", AT)
    assert route_input.accepted == (
        Accepted(
            finding.check,
            acceptance.flagged_words(route_input, finding),
            "why",
            "AB",
            at="2026-12-03T14:30:00Z",
            finding=finding.message,
        ),
    )


def test_it_does_not_hold_for_what_reads_otherwise(assessed: Assess, again: Callable[[RouteInput], Assessment]) -> None:
    route_input = acceptance.accept_finding(assessed(PLANTED), 0, "why", "AB", AT)
    other = replace(route_input, accepted=(replace(route_input.accepted[0], finding="PIKOR is 3 NM off."),))
    said = view_assessment(again(other))
    assert said.accepted == frozenset()
    assert said.acceptance_sentences[0].startswith(
        "Not accepted as it reads now. AB, 03 DEC 2026 14:30 UTC accepted “PIKOR is 3 NM"
    )
    assert "accepted with reason" not in said.findings_line


def test_one_without_its_sentence_holds_for_the_words(
    assessed: Assess, again: Callable[[RouteInput], Assessment]
) -> None:
    route_input = acceptance.accept_finding(assessed(PLANTED), 0, "why", "AB", AT)
    bare = replace(route_input, accepted=(replace(route_input.accepted[0], finding="", at=""),))
    assert view_assessment(again(bare)).acceptance_sentences[0] == "Accepted by AB: why"


def test_another_word_is_not_accepted_with_it(assessed: Assess, again: Callable[[RouteInput], Assessment]) -> None:
    route_input = acceptance.accept_finding(assessed("XXXXX DCT LENDU"), 0, "why", "AB", AT)
    moved = again(replace(route_input, route="YYYYY DCT LENDU"))
    assert moved.findings
    assert acceptance.valid_acceptances(moved) == {}
    assert moved.route.route_input.accepted == route_input.accepted


def test_it_can_be_taken_back_and_given_anew(assessed: Assess, again: Callable[[RouteInput], Assessment]) -> None:
    once = again(acceptance.accept_finding(assessed(PLANTED), 0, "why", "AB", AT))
    twice = again(acceptance.accept_finding(once, 0, "better", "CD", AT))
    assert [a.by for a in twice.route.route_input.accepted] == ["CD"]
    assert acceptance.withdraw_acceptance(twice, 0).accepted == ()


def test_the_printed_answer_says_who_answers_for_what(
    assessed: Assess, again: Callable[[RouteInput], Assessment]
) -> None:
    accepted = again(acceptance.accept_finding(assessed(PLANTED), 0, "cleared so", "AB", AT))
    lines = text.describe_route(accepted).splitlines()
    finding = next(i for i, line in enumerate(lines) if line.startswith("■ 1 "))
    told = " ".join(" ".join(lines[finding : finding + 4]).split())
    assert "Accepted by AB, 03 DEC 2026 14:30 UTC: cleared so" in told
    assert "Accepted" not in text.describe_route(assessed(PLANTED))
