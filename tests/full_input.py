"""A route with every value that can be given beside it, as tests of the doors need it.

A field with an example in its row has it here as well; one that is no line of text has its value below.
"""

from dataclasses import replace

from routecheck.model import (
    Accepted,
    AltitudeWindow,
    Change,
    Claim,
    ElapsedTime,
    Load,
    PlanTotals,
    ReadAcross,
    ReadMark,
    Role,
    RouteInput,
    Wind,
)
from routecheck.reading.input_fields import INPUT_FIELDS, read_texts

_EXAMPLES = read_texts((field, field.example) for field in INPUT_FIELDS if field.example and not field.kind.is_chosen)

FULL_INPUT = replace(
    RouteInput(**_EXAMPLES.values),
    title="From one island to the other",
    role=Role.CLEARED,
    alternate=("XVMA", "XVQZ"),
    wind=(Wind(280.0, 45.0, "F350"), Wind(270.0, 30.0, to="PIKAR")),
    aircraft_sheet="Medium jet",
    expect=("dogleg: PIKOR",),
    isa_deviation_c=5.5,
    claims=(Claim("PIKAR", distance_nm=93.9, lat=-31.5, precision_deg=0.05),),
    equipment="SDE2FGHIRWXY",
    pbn="A1B1",
    stated_totals=PlanTotals(distance_nm=412.5, time_min=70.0, fuel_kg=4_200.0, endurance_min=190.0),
    load=Load(
        "kg",
        reserve_rule="91.167",
        basic_operating_weight=41_300.0,
        passengers=120.0,
        passenger_weight=84.5,
        zero_fuel_weight=54_200.0,
        block_fuel=9_100.0,
        v1_kt=132.0,
        halves=(("zero_fuel_weight", 0.05),),
    ),
    elapsed=(ElapsedTime("XVFR", 20.0), ElapsedTime("20E", 61.0)),
    delays=(ElapsedTime("PIKAR", 10.0),),
    columns="fix=1,distance=4",
    windows=(AltitudeWindow("PIKAR", 9_000.0, None),),
    read_across=ReadAcross(
        (
            ReadMark("LENDU 091°M 101.2 NM", is_same=True),
            ReadMark("PIKAR 097°M 94.0 NM", is_same=False, shown="PIKOR 146"),
        ),
        by="AB, CD",
        at="2026-12-03T14:30:00Z",
    ),
    accepted=(Accepted("dogleg", "PIKAR", "as cleared", "AB", at="2026-12-03T14:30:00Z"),),
    changed=(Change("09", "27", field="departure_runway"),),
    other=RouteInput(
        "LENDU DCT PIKOR UM12 TOVIK",
        departure="XVAL",
        role=Role.FILED,
        windows=(AltitudeWindow("PIKOR", None, 9_000.0),),
    ),
)
