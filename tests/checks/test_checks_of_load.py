"""Weights and fuel: entry errors planted in a plan that adds up are named, and the published reserve rules hold."""

import datetime as dt
from dataclasses import replace

import pytest

from routecheck.model import AircraftSheet, Claim, Load, PlanTotals, RouteInput, Weight
from routecheck.pipeline import assess
from routecheck.presentation.load_view import load_lines
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
PLAN = Load(
    "kg",
    basic_operating_weight=43_120.0,
    passengers=120.0,
    passenger_weight=84.0,
    baggage=1_800.0,
    payload=11_880.0,
    zero_fuel_weight=55_000.0,
    taxi_fuel=230.0,
    trip_fuel=5_130.0,
    contingency_fuel=257.0,
    alternate_fuel=1_340.0,
    final_reserve_fuel=1_180.0,
    extra_fuel=0.0,
    block_fuel=8_137.0,
    take_off_weight=62_907.0,
    landing_weight=57_777.0,
    landing_fuel=2_777.0,
)
OWN = AircraftSheet("own", cruise_fuel_kg_h=2_400.0, holding_fuel_kg_h=2_000.0)


@pytest.fixture
def ask(demo):
    """What the checks of weights and fuel say of a plan: (check, weight, sentence) and what was not checked."""

    def find(load=None, **beside):
        given = RouteInput("LENDU DCT PIKAR UM12 TOVIK", "XVAL", "XVOR", load=load, **beside)
        assessment = assess(given, demo, Settings(), DAY)
        names = {"weights-chain", "fuel-chain", "weight-error", "over-limit", "landing-fuel", "speeds-order"}
        found = [(one.check, one.weight, one.message) for one in assessment.findings if one.check in names]
        return found, {one.check: one.because for one in assessment.not_checked if one.check in names}

    return find


def test_a_plan_that_adds_up_is_quiet_and_never_called_sufficient(ask):
    found, unchecked = ask(PLAN)
    assert found == []
    assert unchecked["over-limit"].startswith("no Aircraft sheet is chosen")
    assert unchecked["landing-fuel"] == "fuel is judged by no rule: none is chosen"
    assert not unchecked.keys() & {"weights-chain", "fuel-chain"}


def test_with_typical_figures_nothing_is_judged(ask):
    found, unchecked = ask(replace(PLAN, reserve_rule="121.639"), aircraft_sheet="Medium jet")
    assert found == []
    assert unchecked["landing-fuel"] == "fuel not judged: typical figures only. The plan's own arithmetic adds up"
    assert "typical figures only" in unchecked["over-limit"]


def test_a_figure_that_is_not_given_is_not_checked(ask):
    found, unchecked = ask(replace(PLAN, extra_fuel=None, baggage=None))
    assert found == []
    assert unchecked["fuel-chain"] == "block fuel is not added up: extra fuel is not stated"
    assert unchecked["weights-chain"] == "payload is not added up: baggage is not stated"


def test_without_weights_nothing_is_checked(ask):
    found, unchecked = ask()
    assert found == []
    assert len(unchecked) == 6


PLANTED = [
    # The pound is 0.45359237 kg (yard and pound agreement of 1959).
    ({"trip_fuel": 11_310.0, "landing_fuel": None, "landing_weight": None}, "trip fuel 11,310 is wrong, it is in lb"),
    ({"passenger_weight": 185.19}, "it is in lb, not in kg"),
    ({"take_off_weight": 138_686.0}, "TOW 138,686 is wrong, it is in lb, not in kg: 62,907 fits."),
    ({"take_off_weight": 28_534.0}, "turned from lb into kg, and was in kg before: 62,907 fits."),
    ({"zero_fuel_weight": 550_000.0, "take_off_weight": None}, "it has a digit too many: 55,000 fits."),
    ({"landing_weight": 75_777.0}, "Perhaps LW 75,777 is wrong, two digits are exchanged: 57,777 fits."),
    # As at Auckland on 12 March 2003 (TAIC 03-003) and Melbourne on 20 March 2009 (ATSB AO-2009-012): one digit.
    ({"take_off_weight": 52_907.0}, "10,000 kg less. Perhaps TOW 52,907 is wrong, one digit is another: 62,907 fits."),
    ({"take_off_weight": 55_000.0}, "Perhaps TOW 55,000 is wrong, ZFW stands in its place."),
    # As at Gimli on 23 July 1983: a volume for a mass; here litres, at 0.80 kg a litre.
    ({"block_fuel": 10_171.0, "take_off_weight": None, "landing_fuel": None}, "it was stated in litres"),
]  # fmt: skip


@pytest.mark.parametrize(("slip", "named"), PLANTED)
def test_a_planted_error_is_named(ask, slip, named):
    found, _ = ask(replace(PLAN, **slip))
    assert [weight for _, weight, _ in found] == [Weight.WRONG]
    assert named in found[0][2]


def test_figures_in_pounds_are_turned_the_other_way(ask):
    pounds = Load("lb", zero_fuel_weight=121_000.0, block_fuel=18_000.0, taxi_fuel=500.0, take_off_weight=62_823.0)
    (found,), _ = ask(pounds)
    assert found[2].endswith("it is in kg, not in lb: 138,501 fits.")


def test_what_the_aircraft_unit_shows_is_compared(ask):
    (found,), _ = ask(replace(PLAN, zero_fuel_weight_entered=62_907.0))
    expected = "ZFW is entered as 62,907 kg; the plan has 55,000 kg. Perhaps the TOW was entered in its place."
    assert found == ("weight-error", Weight.DOUBTFUL, expected)


def test_trip_fuel_in_the_other_unit_by_the_own_sheet(ask):
    own = replace(Settings().sheet("Medium jet"), name="own", typical=False)
    route = {"speed": "N0430", "level": "F350"}
    pounds = 4_310.0 / 0.45359237
    (found,), _ = ask(Load("kg", trip_fuel=round(pounds)), sheet=own, **route)
    assert found[:2] == ("weight-error", Weight.DOUBTFUL)
    assert "it is in lb, not in kg" in found[2]
    assert ask(Load("kg", trip_fuel=4_310.0), sheet=own, **route)[0] == []
    assert ask(Load("kg", trip_fuel=round(pounds)), aircraft_sheet="Medium jet", **route)[0] == []


def test_what_the_nav_log_leaves_at_the_destination(ask):
    claims = (Claim("XVOR", fuel_left_kg=2_000.0),)
    (found,), _ = ask(Load("kg", alternate_fuel=1_100.0, final_reserve_fuel=1_200.0), claims=claims)
    assert found[2].startswith("At the destination 2,000 kg are left (by the nav log); alternate fuel 1,100 +")


def test_limits_come_from_the_own_sheet_alone(ask):
    sheet = AircraftSheet("own", take_off_kg=60_000.0)
    assert [one[0] for one in ask(PLAN, sheet=sheet)[0]] == ["over-limit"]
    assert ask(PLAN, sheet=replace(sheet, typical=True))[0] == []
    assert ask(replace(PLAN, unit=""), sheet=sheet)[1]["over-limit"].startswith("it is not said")


# Least block fuel by rule, for trip fuel 4,500 and alternate fuel 1,100 kg in 120 minutes, with 2,400 kg an hour at
# cruise and 2,000 holding, taxi fuel 200 added. 14 CFR 91.151 (a): 30 minutes by day, 45 by night, no alternate; 91.167
# (a): alternate and 45 minutes, helicopters 30; 121.639: the same 45; 121.645 (b): a tenth of the time,
# alternate and 30 minutes holding at 1,500 ft; Annex 6 Part I 4.3.6: 5 % of the trip or 5 minutes holding, then
# 30 minutes holding for turbines, 45 minutes for piston engines.
RULES = [
    ("91.151 day", 200 + 4_500 + 1_200),
    ("91.151 night", 200 + 4_500 + 1_800),
    ("91.167", 200 + 4_500 + 1_100 + 1_800),
    ("91.167 helicopter", 200 + 4_500 + 1_100 + 1_200),
    ("121.639", 200 + 4_500 + 1_100 + 1_800),
    ("121.645", 200 + 4_500 + 480 + 1_100 + 1_000),
    ("Annex 6 turbine", 200 + 4_500 + 225 + 1_100 + 1_000),
    ("Annex 6 piston", 200 + 4_500 + 225 + 1_100 + 1_800),
]


@pytest.mark.parametrize(("rule", "block"), RULES)
def test_the_published_reserves(ask, rule, block):
    load = Load("kg", reserve_rule=rule, taxi_fuel=200.0, trip_fuel=4_500.0, alternate_fuel=1_100.0, block_fuel=block)
    beside = {"sheet": OWN, "stated_totals": PlanTotals(time_min=120.0)}
    found, unchecked = ask(load, **beside)
    assert found == []
    assert "landing-fuel" not in unchecked
    (found,), _ = ask(replace(load, block_fuel=block - 2.0), **beside)
    assert found[2].startswith(f"{rule} asks for {block - 200:,} kg at take-off: trip fuel 4,500 + ")


def test_five_minutes_of_holding_are_the_least_contingency(ask):
    """ICAO Annex 6 Part I, 4.3.6: 5 % of the trip fuel, but no less than 5 minutes holding."""
    load = Load("kg", reserve_rule="Annex 6 turbine", taxi_fuel=0.0, trip_fuel=1_000.0, alternate_fuel=500.0)
    assert ask(replace(load, block_fuel=1_000.0 + 167.0 + 500.0 + 1_000.0), sheet=OWN)[0] == []
    assert ask(replace(load, block_fuel=1_000.0 + 165.0 + 500.0 + 1_000.0), sheet=OWN)[0] != []


def test_a_reserve_that_lacks_a_figure_is_not_judged(ask):
    load = Load("kg", reserve_rule="91.167", taxi_fuel=200.0, trip_fuel=4_500.0, block_fuel=6_700.0)
    found, unchecked = ask(load, sheet=OWN)
    assert found == []
    assert unchecked["landing-fuel"] == "fuel is not judged by 91.167: the alternate fuel is not stated"
    (found,), _ = ask(replace(load, block_fuel=6_000.0), sheet=OWN)
    assert "asks for at least 6,300 kg" in found[2]


def test_the_endurance_of_a_message(ask):
    totals = PlanTotals(time_min=120.0, endurance_min=160.0)
    assert ask(stated_totals=totals)[0] == []
    (found,), _ = ask(Load(reserve_rule="91.151 night"), stated_totals=totals)
    assert found[2] == "The endurance is 2:40; the flight 2:00 + the reserve of 91.151 night 0:45 make 2:45."


def test_the_text_shows_the_arithmetic(demo):
    given = RouteInput("LENDU", "XVAL", "XVOR", load=replace(PLAN, reserve_rule="91.151 day"), sheet=OWN)
    lines = "\n".join(load_lines(assess(given, demo, Settings(), DAY).route))
    assert "TOW  62,907  computed 62,907  (ZFW 55,000 + block fuel 8,137 − taxi fuel 230)" in lines
    assert (
        "91.151 day at take-off: trip fuel 5,130 + 30 min of cruise at 2,400 an hour 1,200 = 6,330 kg; on board"
        in lines
    )
    assert lines.endswith("does not say that fuel or weights are sufficient.")
