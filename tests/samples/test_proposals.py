"""The planted samples again: what was meant is among the proposals of the finding, first where it can be told."""

from __future__ import annotations

import datetime as dt

import pytest
from sample_files import FOLDER, fields, meant, route_input

from routecheck.corrections.candidate import with_proposal
from routecheck.drill.planters import ENDS, PLANTERS
from routecheck.model import AltitudeWindow, Finding, RouteInput, Weight
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.settings import Settings

FIRST = {
    "airway-digits-swapped", "demo", "digit-changed", "digits-swapped", "ends-exchanged", "entry-too-early",
    "exit-beyond-the-break", "exit-on-the-neighbour", "half-a-degree-off", "latitude-for-longitude",
    "look-alike-airport", "look-alike-name", "misspelt-name", "neighbours-swapped", "other-hemisphere",
    "point-repeated", "points-exchanged", "runway-not-served", "superseded-star", "transition-that-does-not-join",
    "window-a-tenth", "blank-in-the-group", "hemisphere-first", "letter-for-digit",
}  # fmt: skip
NOT_FIRST = {"minutes-75": "00057E, two digits swapped, is the likelier error and lies as near the line as 00045E"}
ANOTHER_FIRST = {
    "hemisphere-flipped": "a point typed twice is the likelier error, and drops out with nothing longer",
    "windows-that-cannot-be-met": "the window that the data codes is the likelier one to be meant",
}
"""Where another error explains the text so much better that what was meant is not named beside it."""
NOT_TRIED = {
    "day-swapped": "the date is not in the text",
    "joint-of-two": "both joints are named by the finding: which was meant cannot be told",
    "level-below-the-airway": "the level is not in the text",
    "level-never-reached": "of no level one such error away can the speed be flown",
    "level-alone": "what the speed was cannot be told",
    "point-of-another-route": "a point that is extra is no error of a word",
    "points-between-left-out": "what was left out cannot be told",
    "reciprocal-radial": "radials are not corrected",
    "same-name-without-its-airway": "the same name at another place: both are listed by the finding",
    "trip-fuel-in-pounds": "the finding says what was meant; weights are not changed here",
    "sid-of-another-airport": "another procedure, not another number",
    "star-not-last": "a word that is extra is no error of a word",
}


def sample(name: str) -> tuple[RouteInput, RouteInput]:
    """What was meant, and what was typed."""
    path = FOLDER / f"{name}.route.toml" if name == "demo" else FOLDER / "planted" / f"{name}.route.toml"
    return route_input(meant(path)), route_input(fields(path))


def the_finding(route_input: RouteInput) -> Finding:
    answer = assess(route_input, demo_database(), Settings(), dt.date(2026, 11, 25))
    (finding,) = (f for f in answer.findings if f.weight is not Weight.NOTE)
    return finding


SHOWS = {
    "letter to a known name": "look-alike-name", "letter to an unknown name": "misspelt-name",
    "points exchanged": "points-exchanged", "point repeated": "point-repeated",
    "airway number": "airway-digits-swapped", "exit too far": "exit-beyond-the-break",
    "entry too far": "entry-too-early", "procedure number": "superseded-star", "position digit": "digit-changed",
    "position digits swapped": "digits-swapped", "position hemisphere": "other-hemisphere",
    "latitude and longitude exchanged": "latitude-for-longitude", "half degree": "half-a-degree-off",
    "ends exchanged": "ends-exchanged", "airport letter": "look-alike-airport",
}  # fmt: skip
"""Which sample shows each kind of entry error that is measured."""


def test_each_kind_of_entry_error_is_shown_with_what_was_meant_proposed_first() -> None:
    assert set(SHOWS) == {*PLANTERS, *ENDS}
    assert set(SHOWS.values()) <= FIRST


def test_every_planted_sample_is_told_of_here() -> None:
    there = {path.name.removesuffix(".route.toml") for path in (FOLDER / "planted").glob("*.route.toml")} | {"demo"}
    told = [*FIRST, *NOT_FIRST, *ANOTHER_FIRST, *NOT_TRIED]
    assert len(told) == len(set(told))
    assert set(told) == there


@pytest.mark.parametrize("name", sorted(FIRST))
def test_what_was_meant_is_proposed_first(name: str) -> None:
    intended, typed = sample(name)
    assert with_proposal(typed, the_finding(typed).likely_intended[0]) == intended


@pytest.mark.parametrize("name", sorted(NOT_FIRST))
def test_what_was_meant_is_among_three(name: str) -> None:
    intended, typed = sample(name)
    proposed = [with_proposal(typed, proposal) for proposal in the_finding(typed).likely_intended]
    assert intended in proposed[1:], NOT_FIRST[name]


def test_the_likelier_error_stands_alone() -> None:
    intended, typed = sample("hemisphere-flipped")
    (proposal,) = the_finding(typed).likely_intended
    assert proposal.route != intended.route, ANOTHER_FIRST["hemisphere-flipped"]
    assert proposal.route == typed.route.removeprefix("33S001E ")


def test_the_coded_window_goes_first() -> None:
    intended, typed = sample("windows-that-cannot-be-met")
    first = with_proposal(typed, the_finding(typed).likely_intended[0])
    assert first != intended, ANOTHER_FIRST["windows-that-cannot-be-met"]
    assert first.windows == (AltitudeWindow("KEBUL", 11_000.0, None),)


@pytest.mark.parametrize("name", sorted(NOT_TRIED.keys() - {"reciprocal-radial"}))
def test_an_error_of_no_kind_that_is_tried_gets_no_proposal(name: str) -> None:
    _, typed = sample(name)
    assert the_finding(typed).likely_intended == (), NOT_TRIED[name]
