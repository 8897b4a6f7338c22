"""The headline in parts: verdict, coverage and what was lost are values, the sentence is made of them."""

import dataclasses
import datetime as dt
from collections.abc import Callable

import pytest

from routecheck.model import Assessment, RouteInput, Weight
from routecheck.navdata.database import NavDatabase
from routecheck.pipeline import assess
from routecheck.presentation.headline import Headline, LostPart, headline, totals_line
from routecheck.presentation.verdict import Verdict, count_by_weight, is_fully_checked
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
    said = Headline(Verdict.NOTHING_FOUND_IN_PART, "Nothing found.", "Checked 10 % of the route.", lost=lost).sentence
    assert said.startswith("Nothing found. Checked 10 % of the route. Lost: A0–B0, no data; ")
    assert said.endswith("A2–B2, no data; and 2 more stretches.")


def test_line_one_is_the_heaviest_finding_with_its_cure(assessed: Assess) -> None:
    head = headline(assessed("LENDU DCT PIKER UM12 TOVIK DCT SARNO"))
    assert head.verdict_line == ("Wrong: PIKER is not in the loaded data, which covers its neighbourhood. PIKAR fits.")
    assert head.sentence.startswith(head.verdict_line)


@pytest.mark.parametrize(
    ("route", "ending"),
    [
        ("LENDU DCT PIKAR DCT PIKAR UM12 TOVIK DCT SARNO", "PIKAR alone fits."),
        ("LENDU DCT PIKAR UM12 TOVIK DCT TEMGU SARNO4", "SARNO2 fits."),
    ],
)
def test_a_cure_is_said_in_the_words_of_the_route(assessed: Assess, route: str, ending: str) -> None:
    assert headline(assessed(route)).verdict_line.endswith(ending)


def test_the_cure_of_a_value_beside_the_text_names_the_value(assessed: Assess) -> None:
    line = headline(assessed("ULDET1 ULDET DCT LENDU", departure_runway="09")).verdict_line
    assert line.startswith("Wrong: ULDET1 is not for runway 09")
    assert line.endswith("Departure runway 27 fits.")


def test_what_is_open_by_design_is_told_from_what_was_lost(assessed: Assess) -> None:
    route, ends = "LENDU1 LENDU DCT PIKAR UM12 TOVIK DCT TEMGU SARNO2", {"departure_runway": "09"}
    whole = headline(assessed(route, **ends, destination_runway="27"))
    assert whole.verdict is Verdict.NOTHING_FOUND
    assert whole.verdict_line == "Nothing found in all that can be checked."
    assert whole.coverage.startswith("Checked: all of the route that can be (")
    assert whole.lost == ()
    assert "Published without a fixed path: " in whole.how_much
    part = assessed(route, **ends)
    assert headline(part).verdict_line == "Nothing found in what was checked."
    assert "Lost: HUNSA–XVOR, the branches of SARNO2 differ" in headline(part).how_much
    assert not is_fully_checked(part)
    totals = part.route.totals
    assert {stretch.is_open_by_design for stretch in totals.lost} == {False}
    assert {stretch.is_open_by_design for stretch in totals.open_by_design} == {True}


def test_a_route_of_which_nothing_could_be_checked_says_so(assessed: Assess) -> None:
    assert headline(assessed("PIKAR/1", "ZZZZ", "ZZZZ")).verdict is not Verdict.NOTHING_FOUND
    assert headline(assessed("", "XVAL", "XVOR")).verdict_line.startswith("Wrong: ")


def test_before_anything_is_given_that_is_said_and_nothing_is_called_lost(assessed: Assess) -> None:
    head = headline(assessed("", "", ""))
    assert (head.verdict_line, head.verdict) == ("No route is given.", Verdict.NOTHING_FOUND_IN_PART)
    assert (head.how_much, head.is_in_order) == (
        "Nothing is checked until there is a route with its departure and destination.",
        False,
    )


def test_only_notes_have_a_plural() -> None:
    assert count_by_weight({Weight.NOTE: 2, Weight.WRONG: 2}) == "2 Wrong, 2 Notes"
    assert count_by_weight({Weight.DOUBTFUL: 3, Weight.NOTE: 1}) == "3 Doubtful, 1 Note"


def test_a_total_with_gaps_is_never_below_direct(assessed: Assess) -> None:
    answer = assessed("QQQQQ DCT LENDU")
    totals = answer.route.totals
    assert totals.direct_nm is not None
    assert totals.distance_nm < totals.direct_nm <= totals.least_nm
    assert totals_line(answer).startswith(f"at least {totals.least_nm:,.0f} NM")


def test_only_a_route_without_anything_heavy_or_lost_is_in_order(assessed: Assess) -> None:
    route, ends = "LENDU1 LENDU DCT PIKAR UM12 TOVIK DCT TEMGU SARNO2", {"departure_runway": "09"}
    assert headline(assessed(route, **ends, destination_runway="27")).is_in_order
    assert not headline(assessed(route, **ends)).is_in_order
    assert not headline(assessed("31S000E 31S002E 29S004E 31S006E 31S008E")).is_in_order
