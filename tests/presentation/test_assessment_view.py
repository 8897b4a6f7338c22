"""What the window says: everything that was not checked is said, and folded where it is long."""

from collections.abc import Callable

import pytest

from routecheck.model import Assessment, Fact
from routecheck.presentation.assessment_view import view_assessment
from routecheck.presentation.finding_details import finding_details, known_false_alarms
from routecheck.presentation.finding_rows import fact_text

Assess = Callable[..., Assessment]


def test_all_checked(assessed: Assess) -> None:
    said = view_assessment(assessed("LENDU DCT PIKAR UM12 TOVIK DCT SARNO"))
    assert said.headline.coverage.startswith("Checked: all")
    assert said.headline.verdict_line == "Nothing found in all that can be checked."
    assert said.how_much == said.headline.coverage
    assert said.offer_data


def test_a_short_reason_stands_in_full(assessed: Assess) -> None:
    said = view_assessment(assessed("LENDU DCT PIKOR UM12 TOVIK DCT SARNO"))
    assert said.headline.coverage.startswith("Checked ")
    assert said.headline.verdict_line.startswith("Wrong: PIKOR is not on UM12")
    assert said.headline.verdict_line.endswith("PIKAR fits.")
    assert "Lost: PIKOR–TOVIK, PIKOR is not on UM12." in said.how_much


def test_long_reasons_are_folded_but_never_lost(assessed: Assess) -> None:
    said = view_assessment(
        assessed("QQQQQ DCT 31S002E DCT WWWWW DCT LENDU DCT 99S002E DCT TOVIK DCT $$ DCT PIKAR DCT EEEEE")
    )
    assert len(said.how_much) < 300
    folded = " ".join(f"{what}: {why}" for what, why in said.reasons)
    for word in ("QQQQQ", "WWWWW", "99S002E", "$", "EEEEE"):
        assert word in folded


def test_evidence_has_facts_sources_and_false_alarms(assessed: Assess) -> None:
    rows = dict(finding_details(assessed("31S000E 31S002E 29S004E 31S006E 31S008E").findings[0]))
    assert rows["detour"].endswith(" NM")
    assert "Karney" in rows["rests on"]
    assert "overshoot" in rows["known false alarms"]
    assert rows["how this was reckoned"] == "by the check dogleg"
    assert known_false_alarms("no-such-check") == ""


@pytest.mark.parametrize(("degrees", "said"), [(-83.1, "83.1° left"), (120.0, "120° right"), (0.0, "0° right")])
def test_a_turn_says_its_side(degrees: float, said: str) -> None:
    assert fact_text(Fact("turn", degrees, "°", is_turn=True)) == said
    assert fact_text(Fact("limit", 90.0, "°")) == "90°"


def test_the_foot_line_says_the_time_with_its_ends_and_its_wind(assessed: Assess) -> None:
    timed = view_assessment(assessed("N0430F350 LENDU DCT PIKAR UM12 TOVIK DCT SARNO"))
    assert timed.totals_line.split("; ")[-1].endswith("overhead to overhead, no wind given")
    assert timed.totals_line.split("; ")[-1].startswith("1:")
    assert "wind" not in view_assessment(assessed("LENDU DCT PIKAR UM12 TOVIK DCT SARNO")).totals_line
