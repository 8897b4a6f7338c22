"""Every sample route gives exactly the findings its file states, and what was meant by a planted one stays quiet."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from sample_files import FOLDER, assessed, fields, meant, route_input

from routecheck.model import Assessment, Outcome, Weight
from routecheck.reading.route_file import read_route_file

if TYPE_CHECKING:
    from pathlib import Path

CLEAN = sorted((FOLDER / "clean").glob("*.route.toml"))
PLANTED = [*sorted((FOLDER / "planted").glob("*.route.toml")), FOLDER / "demo.route.toml"]
CANNOT_BE_WHOLE = {
    "sid-and-star": "no runway says which",
    "across-the-date-line": "no departure given",
    "runway-to-runway": "heading 091°M to 700 ft, then direct to TILBU",
}
"""Clean samples of which a part cannot be checked, and the reason that must be said."""


def name(path: Path) -> str:
    return path.name.removesuffix(".route.toml")


def heavier_than_note(assessment: Assessment) -> list[str]:
    """Findings as the files write them: "check: WORD WORD", or the check alone where it flags the whole route."""
    text = assessment.route.route_input.route
    heavy = [f for f in assessment.findings if f.weight is not Weight.NOTE]
    return [": ".join(filter(None, (f.check, " ".join(text[s.start : s.end] for s in f.spans)))) for f in heavy]


@pytest.mark.parametrize("path", [*CLEAN, *PLANTED], ids=name)
def test_gives_exactly_what_its_file_expects(path: Path) -> None:
    sample = fields(path)
    assessment = assessed(sample)
    assert heavier_than_note(assessment) == sample["expect"]
    assert assessment.could_not_run == ()


@pytest.mark.parametrize("path", CLEAN, ids=name)
def test_a_clean_route_expects_nothing_and_is_checked_in_full_or_says_why(path: Path) -> None:
    assert fields(path)["expect"] == []
    totals = assessed(fields(path)).route.totals
    if name(path) not in CANNOT_BE_WHOLE:
        assert totals.checked_share == 1.0
        assert totals.not_checked == ()
    else:
        assert totals.checked_share != 1.0
        assert any(CANNOT_BE_WHOLE[name(path)] in stretch.because for stretch in totals.not_checked)


@pytest.mark.parametrize("path", PLANTED, ids=name)
def test_a_planted_route_holds_one_error_and_is_quiet_without_it(path: Path) -> None:
    sample = fields(path)
    corrected = meant(path)
    assert len(sample["expect"]) == 1
    assert corrected != sample
    assert heavier_than_note(assessed(corrected)) == []


@pytest.mark.parametrize("path", [*CLEAN, *PLANTED], ids=name)
def test_a_route_file_uses_all_of_it(path: Path) -> None:
    read = read_route_file(path.read_text("utf-8"), name(path))
    assert (read.unread, read.not_used) == ("", ())
    mine = route_input(fields(path))
    for key in ("route", "departure_runway", "destination_runway", "approach", "level", "aircraft_sheet", "windows"):
        assert getattr(read, key) == getattr(mine, key)


def test_there_are_as_many_as_asked_for_and_no_two_alike() -> None:
    assert len(CLEAN) >= 8
    assert len(PLANTED) - 1 >= 12
    routes = [fields(path)["route"] for path in (*CLEAN, *PLANTED)]
    assert len({str(route_input(fields(path))) for path in (*CLEAN, *PLANTED)}) == len(routes)


def test_planted_routes_reach_most_checks_of_those_that_speak_up() -> None:
    struck = {fields(path)["expect"][0].partition(":")[0] for path in PLANTED}
    assert struck == {
        "unread-word", "impossible-position", "speed-or-level-form", "misplaced-word", "unknown-name", "same-name",
        "unknown-airway", "off-airway", "airway-broken", "airways-apart", "unknown-procedure", "procedure-elsewhere",
        "repeated-point", "dogleg", "best-edit", "ends-exchanged", "data-not-current",
        "runway-not-served", "join-gap", "window-error", "windows-conflict", "level-never-reached", "airway-level",
        "fuel-chain",
    }  # fmt: skip


def test_the_demo_route_is_all_placed_and_its_outcomes_are_told() -> None:
    demo = assessed(fields(FOLDER / "demo.route.toml"))
    assert all(point.place is not None for point in demo.route.points)
    outcomes = dict(demo.outcomes)
    assert outcomes["off-airway"] is Outcome.FINDINGS
    assert set(outcomes.values()) <= set(Outcome)
    assert demo.route.totals.gaps == 1
