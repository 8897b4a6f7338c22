"""Weights and fuel in lines of text: of a plan that is pasted, and as typed in one line."""

import pytest

from routecheck.model import InputKind, Load, Use
from routecheck.reading.inputs import read_input
from routecheck.reading.load import read_load_line

LOG = """ALL WEIGHTS IN KG
ZFW 54,200   TOW 63100  LW 58600
TRIP 4500   TAXI 200  CONT 5PCT 225  ALTN XVMA 1100
FINAL RESERVE 1200  EXTRA 75  BLOCK 9100  ADDITIONAL NOTHING
V1 132 VR 135 V2 141

FIX     AWY   DIST  TIME
XVAL    -     0     0
LENDU   DCT   66.0  12
PIKAR   DCT   64.0  10
XVOR    DCT   60.0  12
"""
EXPECTED = Load(
    "kg", zero_fuel_weight=54_200.0, take_off_weight=63_100.0, landing_weight=58_600.0, trip_fuel=4_500.0,
    taxi_fuel=200.0, contingency_fuel=225.0, alternate_fuel=1_100.0, final_reserve_fuel=1_200.0, extra_fuel=75.0,
    block_fuel=9_100.0, v1_kt=132.0, vr_kt=135.0, v2_kt=141.0,
)  # fmt: skip
MESSAGE = "(FPL-XY12-IS-B738/M-SDE2FGHIRWXY/LB1-XVAL1200-N0430F350 LENDU DCT PIKAR-XVOR0130-DOF/261203)"


def read(text):
    (given,) = read_input(text.encode(), "pasted")
    return given


def test_a_nav_log_with_weights_and_fuel():
    given = read(LOG)
    assert given.load == EXPECTED
    assert [claim.to for claim in given.claims] == ["XVAL", "LENDU", "PIKAR", "XVOR"]
    texts = {LOG[part.span.start : part.span.end]: part.use for part in given.pasted.parts}
    assert texts["ALTN XVMA 1100"] is Use.USED
    assert texts["ADDITIONAL NOTHING"] is Use.AROUND


@pytest.mark.parametrize(
    "text", [f"{MESSAGE}\nZFW 54200 KG\nBLOCK 9100", "Hello crew,\nZFW 54200 KG, block: 9100.\nRoute: LENDU DCT PIKAR"]
)
def test_a_message_or_a_page_with_weights_and_fuel(text):  # fmt: skip
    assert read(text).load == Load("kg", zero_fuel_weight=54_200.0, block_fuel=9_100.0)


def test_two_units_are_said_and_neither_is_taken():
    given = read(f"{MESSAGE}\nZFW 54200 KG BLOCK 20000 LB")
    assert given.load.unit == ""
    assert "Weights and fuel are stated in kg and in lb: neither is taken for all." in given.remarks


def test_what_is_stated_twice_is_named():
    (not_used,) = read(f"{MESSAGE}\nZFW 54200 BLOCK 9100\nZFW 45200").not_used
    assert (not_used.what, not_used.because) == (InputKind.ITEM, "ZFW is stated twice, differently; the first is taken")


def test_one_number_with_a_label_is_no_plan():
    given = read(f"{MESSAGE}\nTAXI 10")
    assert given.load is None
    assert given.not_used


@pytest.mark.parametrize(
    "text", ["kg ZFW 54,200 BLOCK 9100", "ZFW 54200 KG BLOCK 9100 KGS", "zfw: 54200, block fuel = 9100 kg"]
)
def test_one_line(text):  # fmt: skip
    assert read_load_line(text) == (Load("kg", zero_fuel_weight=54_200.0, block_fuel=9_100.0), "")


@pytest.mark.parametrize("text", ["ZFW 54200 KG BLOCK 20000 LB", "ZFW", "heavy", "ZFW 54200 and more"])
def test_a_line_that_is_not_all_understood_is_none(text):
    load, why = read_load_line(text)
    assert load is None
    assert why
    assert why[-1] != "."
