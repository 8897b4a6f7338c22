"""What stands beside a route and fits nothing in it is named, each kind; what fits is not."""

import datetime as dt
from dataclasses import replace

import pytest

from routecheck.model import Accepted, AltitudeWindow, Change, Claim, InputKind, ReadAcross, ReadMark, RouteInput, Wind
from routecheck.pipeline import assess
from routecheck.presentation.comparison import over_comparison
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
GIVEN = RouteInput("N0430F350 LENDU DCT PIKAR UM12 RULPO DCT SARNO", "XVAL", "XVOR")


@pytest.fixture
def unused(demo):
    """What is not used of the route with some values beside it, as (kind, name, reason)."""

    def find(**beside):
        assessment = assess(replace(GIVEN, **beside), demo, Settings(), DAY)
        return [
            (one.what, " of ".join(filter(None, (one.name, one.where))), one.because) for one in assessment.not_used
        ]

    return find


CLAIM, WINDOW, WIND = InputKind.CLAIM, InputKind.WINDOW, InputKind.WIND
PIKOR = "the route has no point PIKOR"
MISFITS = [
    ({"claims": (Claim("PIKOR", lat=1.0, lon=1.0),)}, [(CLAIM, "claim 1", PIKOR)]),
    ({"claims": (Claim("PIKAR"), Claim("", distance_nm=64.0))}, [(CLAIM, "claim 2", "it names no point (to)")]),
    ({"claims": (Claim("PIKAR", lat=-31.5),)}, [(CLAIM, "lat of claim 1", "a position is lat and lon")]),
    (
        {"claims": (Claim("PIKAR", lat=-31.5, lon=2.0), Claim("PIKAR", distance_nm=64.0))},
        [(CLAIM, "claim 2", "the route does not go by PIKAR behind the point of the claim before it")],
    ),
    (
        {"windows": (AltitudeWindow("PIKOR", 5_000.0, None),)},
        [(WINDOW, "altitude window PIKOR", "the route has no such point")],
    ),
    ({"wind": (Wind(280.0, 45.0, to="PIKOR"),)}, [(WIND, "wind to PIKOR", "no leg ends there")]),
    (
        {"wind": (Wind(280.0, 45.0),), "isa_deviation_c": 5.0, "route": "LENDU DCT PIKAR"},
        [(WIND, name, "no leg has a time that it could change") for name in ("wind", "isa_deviation_c")],
    ),
    (
        {"alternate": ("XVMA", "XVZZ")},
        [(InputKind.ALTERNATE, "alternate XVZZ", "in neither the loaded data nor the list of the world's airports")],
    ),
    (
        {"alternate_route": "SARNO"},
        [(InputKind.ALTERNATE, "alternate_route", "no alternate is stated that it leads to")],
    ),
    (
        {"read_across": ReadAcross((ReadMark("PIKOR 146°M 196.6 NM", is_same=True),))},
        [(InputKind.READ_ROW, "row read across “PIKOR 146°M 196.6 NM”", "no row reads so now")],
    ),
    (
        {"accepted": (Accepted("dogleg", "PIKAR", "as cleared", "AB"),)},
        [(InputKind.ACCEPTANCE, "accepted 1", "there is no finding dogleg at “PIKAR”")],
    ),
    (
        {"accepted": (Accepted("dog-leg", "PIKAR", "as cleared", "AB"),)},
        [(InputKind.ACCEPTANCE, "accepted 1", "there is no check “dog-leg”")],
    ),
    (
        {"changed": (Change("PIKOR", "PIKUR", 14),)},
        [(InputKind.CHANGE, "changed 1", "“PIKUR” does not stand in the route")],
    ),
    (
        {"changed": (Change("XVMA", "XVQZ", field="departure"),)},
        [(InputKind.CHANGE, "changed 1", "departure is “XVAL”")],
    ),
]


@pytest.mark.parametrize(("beside", "expected"), MISFITS)
def test_what_fits_nothing_is_named(unused, beside, expected):
    assert unused(**beside) == expected


FITS = [
    {},
    {"claims": (Claim("PIKAR", lat=-31.5, lon=2.0), Claim("UVAGI", distance_nm=40.0), Claim("XVOR"))},
    {"windows": (AltitudeWindow("PIKAR", 5_000.0, None),)},
    {"wind": (Wind(280.0, 45.0),), "isa_deviation_c": 5.0},
    {"wind": (Wind(280.0, 45.0, to="UVAGI"),)},
    {"changed": (Change("PIKOR", "PIKAR", 14), Change("XVMA", "XVAL", field="departure"), Change("DCT", "", 3))},
    {
        "windows": (AltitudeWindow("PIKAR", 5_000.0, None),),
        "changed": (Change("PIKAR at or above 8,000 ft", "PIKAR at or above 5,000 ft", field="windows"),),
    },
]


@pytest.mark.parametrize("beside", FITS)
def test_what_fits_is_not_named(unused, beside):
    assert unused(**beside) == []


def test_an_acceptance_of_a_finding_is_used(demo):
    given = RouteInput("LENDU DCT PIKER DCT UVAGI", "XVAL", "XVOR")
    finding = assess(given, demo, Settings(), DAY).findings[0]
    accepted = Accepted(finding.check, "PIKER", "as cleared", "AB", finding="it said something else")
    assert assess(replace(given, accepted=(accepted,)), demo, Settings(), DAY).not_used == ()


def test_the_position_of_a_point_inside_an_airway_is_compared(demo):
    given = replace(GIVEN, claims=(Claim("UVAGI", lat=-30.0, lon=2.0),))
    (finding,) = [f for f in assess(given, demo, Settings(), DAY).findings if f.check == "position-disagrees"]
    assert finding.spans == ((26, 30),)
    assert finding.message.startswith("UVAGI is stated at ")


def test_claims_of_a_point_flown_twice_are_each_compared(demo):
    twice = replace(GIVEN, route="LENDU DCT PIKAR DCT UVAGI DCT PIKAR DCT SARNO")
    right = assess(twice, demo, Settings(), DAY).route.points[2].place
    claims = (Claim("PIKAR", lat=right.lat, lon=right.lon), Claim("PIKAR", lat=-30.0, lon=2.0))
    assessment = assess(replace(twice, claims=claims), demo, Settings(), DAY)
    found = [f.points for f in assessment.findings if f.check == "position-disagrees"]
    assert (found, assessment.not_used) == ([(4,)], ())


def test_what_fits_nothing_in_the_other_version_is_named(demo):
    other = RouteInput("LENDU DCT PIKAR", "XVAL", "XVOR", claims=(Claim("NOWHR", distance_nm=10.0),))
    given = RouteInput("LENDU DCT PIKAR", "XVAL", "XVOR", other=other)
    answer = assess(given, demo, Settings(), dt.date(2026, 12, 3))
    assert answer.not_used == ()
    assert [one.label for one in answer.other.not_used] == ["claim 1"]
    said = over_comparison(answer.comparison, answer.other.not_used)
    assert said.endswith("Of the other version 1 value not used: claim 1.")
