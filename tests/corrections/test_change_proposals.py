"""Proposals beside the text: each kind on the demo region, each tried, silent where nothing tells one from another."""

from __future__ import annotations

import datetime as dt
import itertools
import timeit
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from routecheck.corrections import cases
from routecheck.corrections.candidate import Candidate, value_in_words, with_proposal
from routecheck.corrections.proposals import choose_best, propose
from routecheck.corrections.verify import Verified
from routecheck.model import AltitudeWindow, Assessment, FieldChange, Finding, Proposal, RouteInput, Weight
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
DEMO = demo_database()
JET = "Medium jet"
WHOLE = "LENDU1 LENDU UM12 TOVIK DCT SARNO SARNO2"
BARE = "LENDU DCT PIKAR UM12 TOVIK DCT SARNO DCT KEBUL DCT RIPAS"
OF_WINDOWS = {"window-error", "window-upside-down", "windows-conflict", "climb-in-arrival", "descent-in-departure"}


def said(route_input: RouteInput) -> Assessment:
    return assess(route_input, DEMO, Settings(), DAY)


def heavy(assessment: Assessment) -> list[Finding]:
    return [f for f in assessment.findings if f.weight is not Weight.NOTE]


def of(check: str, route_input: RouteInput) -> Finding:
    """The one finding of a check."""
    (found,) = (f for f in heavy(said(route_input)) if f.check == check)
    return found


def changes(proposal: Proposal) -> list[str]:
    """What a proposal changes, as short as can be: "27" in the text, "departure_runway 27" beside it."""
    text = [proposal.new] if proposal.span else []
    return text + [f"{one.field} {value_in_words(one.new)}" for one in proposal.beside]


def offered(check: str, route_input: RouteInput) -> list[list[str]]:
    return [changes(proposal) for proposal in of(check, route_input).likely_intended]


# ---- aerodromes that own a procedure


@pytest.mark.parametrize(
    ("route_input", "then"),
    [
        (RouteInput("RULPO1 RULPO DCT TOVIK DCT SARNO SARNO2", "XVAL", "XVOR"), [["departure XVMA"]]),
        (RouteInput("RULPO1 RULPO DCT TOVIK DCT SARNO SARNO2", "EGAA", "XVOR"), [["departure XVMA"]]),
        (RouteInput("XVAL RULPO1 RULPO DCT TOVIK DCT SARNO SARNO2 XVOR"), [["XVMA"]]),
        (RouteInput("XVAL RULPO1 RULPO DCT TOVIK DCT SARNO SARNO2", "XVAL", "XVOR"), [["XVMA", "departure XVMA"]]),
        (RouteInput("LENDU1 LENDU DCT VELOR VELOR1", "XVAL", "XVOR"), [["destination XVMA"]]),
    ],
)
def test_the_aerodrome_that_owns_the_procedure_is_proposed(route_input, then):
    assert offered("procedure-elsewhere", route_input) == then


def test_a_procedure_of_that_name_elsewhere_in_the_world_is_no_evidence():
    answer = said(RouteInput("RULPO1 ABCDE DCT SARNO SARNO2", "EGAA", "XVOR"))
    assert "procedure-elsewhere" not in {finding.check for finding in answer.findings}


# ---- runways and approaches


@pytest.mark.parametrize(
    ("text", "beside_it", "then"),
    [
        ("ULDET1 ULDET DCT SARNO", "09", [["departure_runway 27"]]),
        ("XVAL/09 ULDET1 ULDET DCT SARNO", "", [["27"]]),
        ("XVAL/09 ULDET1 ULDET DCT SARNO", "09", [["27", "departure_runway 27"]]),
    ],
)
def test_the_only_runway_served_is_put_where_the_other_is_stated(text, beside_it, then):
    route_input = RouteInput(text, "XVAL", "XVOR", departure_runway=beside_it)
    assert offered("runway-not-served", route_input) == then
    assert "ULDET1 is for no other" in of("runway-not-served", route_input).likely_intended[0].why


def test_of_several_runways_served_the_other_direction_goes_first_then_the_nearest():
    route_input = RouteInput("LENDU DCT SARNO SARNO2", "XVAL", "XVOR", destination_runway="04")
    assert offered("runway-not-served", route_input) == [["destination_runway 22"], ["destination_runway 09"]]


@pytest.mark.parametrize(
    ("stated", "then"),
    [
        ("72", [["departure_runway 27"]]),
        ("90", [["departure_runway 09"]]),
        ("28", [["departure_runway 27"]]),
        ("33", [["departure_runway 09"], ["departure_runway 27"]]),
        ("33L", []),
    ],
)
def test_an_unknown_runway_is_one_of_the_few_there_up_to_two_errors_away_the_likelier_first(stated, then):
    route_input = RouteInput("LENDU1 LENDU DCT SARNO", "XVAL", "XVOR", departure_runway=stated)
    assert offered("runway-unknown", route_input) == then


def test_parallels_are_about_equal_and_both_named():
    route_input = RouteInput("RULPO1 RULPO DCT SARNO", "XVMA", "XVOR", departure_runway="12C")
    assert offered("runway-unknown", route_input) == [["departure_runway 12L"], ["departure_runway 12R"]]


def test_silence_among_more_than_can_be_named_says_why():
    route_input = RouteInput("RULPO1 RULPO DCT SARNO", "XVMA", "XVOR", departure_runway="32")
    finding = of("runway-unknown", route_input)
    assert finding.likely_intended == ()
    parallels = "departure runway 12L, departure runway 12R, departure runway 30L and departure runway 30R"
    why = f"none named: {parallels} are about equally likely"
    assert [fact.value for fact in finding.facts if fact.name == "likely intended"] == [why]


def test_runways_exchanged_between_the_ends_are_one_proposal_for_both():
    route_input = RouteInput("LENDU DCT SARNO", "XVAL", "XVSU", departure_runway="18", destination_runway="27")
    found = [f for f in heavy(said(route_input)) if f.check == "runway-unknown"]
    assert len(found) == 2
    for finding in found:
        assert changes(finding.likely_intended[0]) == ["departure_runway 27", "destination_runway 18"]


def test_text_and_plan_differ_and_both_hold_so_both_are_named():
    route_input = RouteInput("XVAL/09 LENDU1 LENDU DCT SARNO", "XVAL", "XVOR", departure_runway="27")
    assert offered("runways-differ", route_input) == [["27"], ["departure_runway 09"]]


def test_text_and_plan_differ_and_the_procedure_is_for_one_of_them():
    route_input = RouteInput("XVAL/09 ULDET1 ULDET DCT SARNO", "XVAL", "XVOR", departure_runway="27")
    assert offered("runways-differ", route_input) == [["27"]]


def test_the_runway_of_the_approach():
    route_input = RouteInput("LENDU DCT SARNO SARNO2", "XVAL", "XVOR", destination_runway="27", approach="R09")
    assert offered("runways-differ", route_input) == [["destination_runway 09"]]


@pytest.mark.parametrize(
    ("approach", "runway", "then"),
    [
        ("R90", "", [["approach R09"]]),
        ("R08", "", [["approach R09"]]),
        ("I27", "09", [["approach R09"]]),
        ("I27", "", []),
    ],
)
def test_an_approach_one_letter_off_or_the_only_one_for_the_runway(approach, runway, then):
    route_input = RouteInput("LENDU DCT SARNO SARNO2", "XVAL", "XVOR", destination_runway=runway, approach=approach)
    assert offered("unknown-procedure", route_input) == then


# ---- joints


@pytest.mark.parametrize(
    ("route", "then"),
    [
        ("LENDU1 LENDU UM12 TOVIK DCT HADRU SARNO2", [["TEMGU"], ["SARNO"]]),
        ("LENDU1 SEBRO DCT SARNO SARNO2", [["PIKAR"]]),
    ],
)
def test_another_transition_or_the_point_of_the_procedure(route, then):
    assert offered("join-gap", RouteInput(route, "XVAL", "XVOR")) == then


def test_what_another_finding_explained_so_far_is_not_raised_by_clearing_that():
    """The window of RIPAS, a tenth of the coded one, is of the word SARNO2, which the gap is of too."""
    windows = (AltitudeWindow("RIPAS", 900.0, 1_200.0),)
    route_input = RouteInput("LENDU1 LENDU UM12 TOVIK DCT HADRU SARNO2", "XVAL", "XVOR", level="F350", windows=windows)
    assert "window-error" not in {finding.check for finding in heavy(said(route_input))}
    assert offered("join-gap", route_input) == [["TEMGU"], ["SARNO"]]
    assert offered("window-error", replace(route_input, route=WHOLE)) == [["windows RIPAS 9,000 ft to 12,000 ft"]]


def test_beside_what_the_best_edit_proposes_another_transition_stands_second():
    """IPRAS is one letter off RIPAS, a point of SARNO2."""
    first, second = of(
        "join-gap", RouteInput("LENDU1 LENDU UM12 TOVIK DCT IRPAS SARNO2", "XVAL", "XVOR")
    ).likely_intended
    assert "letters swapped" in first.why
    assert "a transition of SARNO2" in second.why
    assert first.route != second.route


def test_what_the_best_edit_proposes_already_is_not_said_twice():
    finding = of("join-gap", RouteInput("LENDU1 OPSIN UM12 TOVIK DCT SARNO SARNO2", "XVAL", "XVOR"))
    assert finding.likely_intended
    assert all("on the airway than meant" in proposal.why for proposal in finding.likely_intended)


# ---- windows


def windowed(*windows: AltitudeWindow, route: str = BARE, **given: str) -> RouteInput:
    return RouteInput(route, "XVAL", "XVOR", windows=windows, **given)


LENDU, SARNO = AltitudeWindow("LENDU", 9_000, None), AltitudeWindow("SARNO", 20_000, 24_000)


@pytest.mark.parametrize("typed", [140_000, 1_400, 140])
def test_ten_times_a_tenth_and_a_level_typed_as_feet(typed):
    route_input = windowed(LENDU, AltitudeWindow("PIKAR", typed, typed), SARNO)
    assert offered("window-error", route_input) == [["windows PIKAR at 14,000 ft"]]


def test_two_digits_swapped_against_the_coded_window():
    route_input = windowed(AltitudeWindow("RIPAS", 9_000, 21_000), route=WHOLE, level="F350")
    assert offered("window-error", route_input) == [["windows RIPAS 9,000 ft to 12,000 ft"]]


def test_two_windows_wrong_inside_one_procedure_are_each_put_right_by_themselves():
    route_input = windowed(
        AltitudeWindow("KEBUL", 1_100, None), AltitudeWindow("RIPAS", 900, 1_200), route=WHOLE, level="F350"
    )
    found = [f for f in heavy(said(route_input)) if f.check == "window-error"]
    assert [[changes(p) for p in f.likely_intended] for f in found] == [
        [["windows KEBUL at or above 11,000 ft"]],
        [["windows RIPAS 9,000 ft to 12,000 ft"]],
    ]


def test_lowest_and_highest_exchanged():
    route_input = windowed(AltitudeWindow("PIKAR", 12_000, 9_000))
    assert offered("window-upside-down", route_input) == [["windows PIKAR 9,000 ft to 12,000 ft"]]
    route_input = windowed(AltitudeWindow("PIKAR", 9_000, None), AltitudeWindow("PIKAR", None, 8_000))
    first = ["windows PIKAR at or above 8,000 ft", "windows PIKAR at or below 9,000 ft"]
    assert offered("window-upside-down", route_input)[0] == first


def test_a_climb_in_the_arrival_by_a_zero_too_many():
    route_input = windowed(AltitudeWindow("KEBUL", None, 12_000), AltitudeWindow("RIPAS", 60_000, None), level="F350")
    assert offered("climb-in-arrival", route_input) == [["windows RIPAS at or above 6,000 ft"]]


def test_windows_that_cannot_be_met_where_either_may_be_turned_are_both_named():
    route_input = windowed(
        AltitudeWindow("KEBUL", 24_000, None), AltitudeWindow("RIPAS", None, 6_000), level="F350", aircraft_sheet=JET
    )
    assert offered("windows-conflict", route_input) == [
        ["windows KEBUL at or below FL240"],
        ["windows RIPAS at or above 6,000 ft"],
    ]


# ---- levels


@pytest.mark.parametrize(
    ("check", "route", "speed", "level", "sheet", "then"),
    [
        ("above-ceiling", "N0450F530 LENDU DCT PIKAR", "", "", JET, [["N0450F350"]]),
        ("above-ceiling", "LENDU DCT PIKAR", "N0450", "F530", JET, [["level F350"]]),
        ("level-size", "N0115A085 LENDU/N0115A850 DCT PIKAR", "", "", "Piston single", [["N0115A085"]]),
        ("above-ceiling", "LENDU DCT PIKAR", "", "F530", JET, []),
    ],
)
def test_a_level_at_which_the_speed_can_be_flown_or_nothing(check, route, speed, level, sheet, then):
    route_input = RouteInput(route, "XVAL", "XVOR", speed=speed, level=level, aircraft_sheet=sheet)
    assert offered(check, route_input) == then


@pytest.mark.parametrize("speed", ["N0180", "N0430"])
def test_no_level_is_proposed_at_which_the_speed_is_too_slow_or_too_fast(speed):
    assert offered("level-unknown", RouteInput("LENDU DCT PIKAR", "XVAL", "XVOR", speed=speed, level="F503")) == []


def test_a_level_of_no_table_that_no_swap_mends_gets_none():
    assert offered("level-unknown", RouteInput("N0450F385 LENDU DCT PIKAR", "XVAL", "XVOR", aircraft_sheet=JET)) == []


# ---- what holds of all


RUNWAYS = ["", "09", "27", "90", "12L", "04", "22", "33", "9", "RW27"]
HEIGHTS = [None, 500.0, 1_100.0, 5_000.0, 9_000.0, 12_000.0, 21_000.0, 24_000.0, 110_000.0]
POINTS = ["LENDU", "SARNO", "KEBUL", "RIPAS", "PIKAR"]
windows = st.lists(
    st.builds(AltitudeWindow, st.sampled_from(POINTS), st.sampled_from(HEIGHTS), st.sampled_from(HEIGHTS)), max_size=3
).map(tuple)
route_inputs = st.builds(
    RouteInput,
    st.sampled_from(
        [
            WHOLE,
            BARE,
            "XVAL/09 ULDET1 ULDET UN21 TIBOK TIBOK1",
            "LENDU1 HADRU DCT SARNO SARNO2 XVOR/27",
            "N0450F530 LENDU1 LENDU UM12 TOVIK DCT OPSIN SARNO2",
            "FINAR2 FINAR DCT SARNO SARNO2",
        ]
    ),
    st.sampled_from(["XVAL", "XVAL", "XVMA"]),
    st.just("XVOR"),
    departure_runway=st.sampled_from(RUNWAYS),
    destination_runway=st.sampled_from(RUNWAYS),
    approach=st.sampled_from(["", "", "R09", "R90", "I27"]),
    speed=st.sampled_from(["", "N0450", "N0115"]),
    level=st.sampled_from(["", "F350", "F530", "F035"]),
    aircraft_sheet=st.sampled_from(["", JET, "Piston single"]),
    windows=windows,
)
RANK = {Weight.NOTE: 1, Weight.DOUBTFUL: 2, Weight.WRONG: 3}


def keys(assessment: Assessment) -> dict[tuple[str, tuple[str, ...]], Weight]:
    text = assessment.route.route_input.route
    return {(f.check, tuple(text[s.start : s.end] for s in f.spans)): f.weight for f in heavy(assessment)}


@pytest.mark.slow
@settings(max_examples=25)
@given(route_inputs)
def test_no_proposal_leaves_its_finding_or_raises_a_heavier_one(route_input):
    answer = said(route_input)
    assert answer.could_not_run == ()
    text = route_input.route
    hidden = {(n.check, tuple(text[s.start : s.end] for s in n.spans)) for n in answer.not_checked}
    before = keys(answer).keys() | hidden
    for finding in answer.findings:
        offers = finding.likely_intended
        assert len(offers) <= 3
        assert not offers or finding.weight is not Weight.NOTE
        for proposal in offers:
            after = said(with_proposal(route_input, proposal))
            assert after.route.route_input.route == proposal.route
            assert finding.check in proposal.clears
            assert after.route.totals.distance_nm == pytest.approx(proposal.distance_nm, abs=0.05)
            if finding.check in cases.GENERATORS and proposal.beside:
                same = [f for f in heavy(after) if (f.check, f.message) == (finding.check, finding.message)]
                assert same == []
                raised = [weight for key, weight in keys(after).items() if key not in before]
                assert all(RANK[weight] <= RANK[finding.weight] for weight in raised)


@settings(max_examples=30)
@given(route_inputs)
@pytest.mark.slow
def test_what_changes_is_said_with_what_stands_there(route_input):
    for finding in said(route_input).findings:
        for proposal in finding.likely_intended:
            for one in proposal.beside:
                stands = (
                    route_input.windows if isinstance(one.new, AltitudeWindow) else (getattr(route_input, one.field),)
                )
                assert one.old in stands
                assert one.new != one.old
                assert value_in_words(one.new) in proposal.why


def test_windows_of_one_value_are_changed_one_by_one():
    route_input = windowed(LENDU, SARNO)
    change = FieldChange("windows", SARNO, replace(SARNO, low_ft=2_000))
    then = with_proposal(
        route_input, Proposal(None, "", route_input.route, why="", clears=(), distance_nm=0.0, beside=(change,))
    )
    assert then.windows == (LENDU, AltitudeWindow("SARNO", 2_000, 24_000))


def test_a_route_without_such_findings_costs_next_to_nothing():
    answer = said(windowed(LENDU, SARNO, level="F350"))
    assert not [f for f in answer.findings if f.check in cases.GENERATORS]

    def never(_: object) -> list[Assessment]:
        pytest.fail("tried")

    def proposed() -> Assessment:
        return propose(answer, cases.finding_cases(answer, DEMO), never)

    assert proposed() is answer
    seconds = min(timeit.repeat(proposed, number=2_000, repeat=5)) / 2_000
    assert seconds < 5e-6


def test_more_than_can_be_named_and_none_ahead_is_silence():
    held = [Verified(Candidate("", cost), frozenset(), 0, 0.0) for cost in (1.0, 1.1, 1.2, 1.3)]
    assert choose_best(held, cases.CHANGES) == []
    assert [one.candidate.cost for one in choose_best(held[:3], cases.CHANGES)] == [1.0, 1.1, 1.2]
    assert choose_best(held[:2], cases.LEVELS) == []
    for a, b in itertools.pairwise(choose_best(held[1:], cases.CHANGES)):
        assert a.candidate.cost <= b.candidate.cost
