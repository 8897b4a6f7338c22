"""A route with every value that can be given beside it, as tests of the doors need it. A new field is added here."""

import datetime as dt

from routecheck.model import Accepted, AltitudeWindow, Change, Claim, ElapsedTime, PlanTotals, Role, RouteInput, Wind

FULL_INPUT = RouteInput(
    "LENDU DCT PIKAR UM12 TOVIK",
    title="From one island to the other",
    role=Role.CLEARED,
    departure="XVAL",
    departure_runway="09",
    destination="XVOR",
    destination_runway="27",
    approach="I27",
    alternate=("XVMA", "XVQZ"),
    date=dt.date(2026, 12, 3),
    speed="N0430",
    level="F350",
    rules="I",
    wind=(Wind(280.0, 45.0, "F350"), Wind(270.0, 30.0, to="PIKAR")),
    aircraft_sheet="Medium jet",
    expect=("dogleg: PIKOR",),
    isa_deviation_c=5.5,
    claims=(Claim("PIKAR", distance_nm=93.9, lat=-31.5, precision_deg=0.05),),
    equipment="SDE2FGHIRWXY",
    pbn="A1B1",
    stated_totals=PlanTotals(distance_nm=412.5, time_min=70.0, fuel_kg=4_200.0, endurance_min=190.0),
    elapsed=(ElapsedTime("XVFR", 20.0), ElapsedTime("20E", 61.0)),
    delays=(ElapsedTime("PIKAR", 10.0),),
    columns="fix=1,distance=4",
    windows=(AltitudeWindow("PIKAR", 9_000.0, None),),
    accepted=(Accepted("dogleg", "PIKAR", "as cleared", "AB", at="2026-12-03T14:30:00Z"),),
    changed=(Change("09", "27", field="departure_runway"),),
)
