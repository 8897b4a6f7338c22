"""The headline in parts: verdict, coverage and what was lost are values, the sentence is made of them."""

import dataclasses
import datetime as dt
from collections.abc import Callable

import pytest

from routecheck.model import Assessment, RouteInput
from routecheck.navdata.database import NavDatabase
from routecheck.pipeline import assess
from routecheck.presentation.headline import Headline, LostPart, Verdict, headline
from routecheck.settings import Settings

Assess = Callable[..., Assessment]
CLEAN = "LENDU DCT PIKAR UM12 TOVIK DCT SARNO"


@pytest.mark.parametrize(
    ("route", "verdict"),
    [
        (CLEAN, Verdict.NOTHING_FOUND),
        ("LENDU DCT PIKOR UM12 TOVIK DCT SARNO", Verdict.WRONG),
        ("31S000E 31S002E 29S004E 31S006E 31S008E", Verdict.DOUBTFUL),
    ],
)
def test_the_verdict_is_the_weight_of_the_heaviest_finding(assessed: Assess, route: str, verdict: Verdict) -> None:
    assert headline(assessed(route)).verdict is verdict


def test_nothing_found_where_a_check_could_not_run_is_no_clean_verdict(assessed: Assess) -> None:
    broken = dataclasses.replace(assessed(CLEAN), could_not_run=(("dogleg", "ZeroDivisionError"),))
    head = headline(broken)
    assert head.verdict is Verdict.NOTHING_FOUND_IN_PART
    assert head.could_not_run == ("dogleg",)
    assert "Could not run (our mistake): dogleg." in head.sentence


def test_an_input_that_was_not_read_has_no_other_verdict(demo_library: NavDatabase) -> None:
    unread = RouteInput("", departure="XVAL", destination="XVOR", unread="no route column")
    assert headline(assess(unread, demo_library, Settings(), dt.date(2026, 12, 3))).verdict is Verdict.NOT_READ


def test_a_lost_part_has_its_ends_and_its_reason(assessed: Assess) -> None:
    (lost,) = headline(assessed("LENDU DCT PIKOR UM12 TOVIK DCT SARNO")).lost
    assert (lost.start, lost.end) == ("PIKOR", "TOVIK")
    assert "UM12" in lost.because


def test_a_sentence_names_three_lost_parts_and_counts_the_others() -> None:
    lost = tuple(LostPart(f"A{i}", f"B{i}", "no data") for i in range(5))
    said = Headline(Verdict.NOTHING_FOUND_IN_PART, "Checked 10 % of the route.", lost=lost).sentence
    assert said.startswith("Checked 10 % of the route. Not checked: A0–B0, no data; ")
    assert said.endswith("A2–B2, no data; and 2 more stretches.")
