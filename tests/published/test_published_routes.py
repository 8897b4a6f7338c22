"""Published routes measured: what their legs come to, and what a slip in them does to length and to the turns.

Figures were computed with another geodesic library for the project's list of published values; tolerance is half the
last digit printed.
"""

import itertools
import re

import pytest

from routecheck.earth import geo

POSITION = re.compile(r"(\d\d)(\d\d)?([NS])(\d\d\d)(\d\d)?([EW])")


def place(text):
    """(lat, lon) of `52N020W` or `2125S16300E`; read here on its own, not by the program's reader."""
    lat, lat_min, north, lon, lon_min, east = POSITION.fullmatch(text).groups("0")
    sign = {"N": 1, "S": -1, "E": 1, "W": -1}
    return sign[north] * (int(lat) + int(lat_min) / 60), sign[east] * (int(lon) + int(lon_min) / 60)


def legs(route):
    """(course, end course, NM) leg by leg."""
    return [geo.inverse(*a, *b) for a, b in itertools.pairwise(map(place, route.split()))]


def total(route):
    return sum(leg[2] for leg in legs(route))


def turns(route):
    return [geo.wrap180(after[0] - before[1]) for before, after in itertools.pairwise(legs(route))]


def largest_turn(route):
    return max(turns(route), key=abs)


ACA101 = "52N020W 52N030W 50N040W 49N050W"
"""Doc 4444, Appendix 3, 2.3.1: the message for ACA101, its ocean part."""
NAT_ATTACHMENT = "62N020W 63N030W 63N040W 62N050W 62N060W"
"""NAT Doc 007, 2010 edition, Attachment 4: the ocean part of the sample route."""
PACIFIC = (
    "2704N11627W 26N119W 2544N12000W 24N126W 22N133W 19N139W 16N144W 11N152W 06N159W 01N166W 01S169W "
    "0500S17435W 06S176W 12S176E 18S168E 2125S16300E"
)
"""Public sample message KDFW–YBBN over the 180th meridian, its latitudes and longitudes."""

LEGS = [
    (ACA101, 0, 370.5, 273.9, 266.1),
    (ACA101, 1, 397.2, 256.3, 248.6),
    (ACA101, 2, 395.4, 265.1, 257.5),
    (NAT_ATTACHMENT, 0, 284.4, 286.6, 277.7),
    (NAT_ATTACHMENT, 1, 273.3, 274.5, 265.5),
    (NAT_ATTACHMENT, 2, 284.4, 262.3, 253.4),
    (NAT_ATTACHMENT, 3, 282.6, 274.4, 265.6),
    ("06S176W 12S176E", 0, 594.8, 232.4, None),  # a change of hemisphere in the text that is right
]


@pytest.mark.parametrize(("route", "leg", "nm", "course", "end_course"), LEGS)
def test_legs(route, leg, nm, course, end_course):
    found_course, found_end, found_nm = legs(route)[leg]
    assert found_nm == pytest.approx(nm, abs=0.05)
    assert found_course == pytest.approx(course, abs=0.05)
    assert end_course is None or found_end == pytest.approx(end_course, abs=0.05)


@pytest.mark.parametrize(("route", "nm"), [(ACA101, 1163.2), (NAT_ATTACHMENT, 1124.8), (PACIFIC, 5521.0)])
def test_totals(route, nm):
    assert total(route) == pytest.approx(nm, abs=0.05)


@pytest.mark.parametrize(("route", "expected"), [(ACA101, [-9.7, 16.5]), (NAT_ATTACHMENT, [-3.3, -3.3, 21.0])])
def test_track_changes(route, expected):
    assert turns(route) == pytest.approx(expected, abs=0.05)


def test_the_pacific_sample_turns_little():
    assert len(legs(PACIFIC)) == 15
    assert abs(largest_turn(PACIFIC)) < 10


def test_a_parallel_flown_in_ten_degree_steps_turns_at_every_point():
    """Along 57 N: 8.4 degrees at each point, right going west, left going east, and nothing is wrong with it."""
    assert turns("57N010W 57N020W 57N030W 57N040W") == pytest.approx([8.4, 8.4], abs=0.05)
    assert turns("57N040W 57N030W 57N020W 57N010W") == pytest.approx([-8.4, -8.4], abs=0.05)


SLIPS = [
    ("one degree of latitude", "52N020W 52N030W 51N040W 49N050W", 1154.9, -8.3, 1.2),
    ("a point left out", "52N020W 50N040W 49N050W", 1160.4, -2.8, 11.8),
    ("half a degree", "52N020W 5230N03000W 50N040W 49N050W", 1170.5, 7.3, 20.7),
    ("ten degrees of longitude", "52N020W 52N030W 50N030W 49N050W", 1272.9, 109.7, 93.3),
    ("two points swapped", "52N020W 50N040W 52N030W 49N050W", 1946.6, 783, 175.3),
    ("the other hemisphere", "52N020W 52N030E 50N040W 49N050W", 4763.1, 3600, 173.9),
]


@pytest.mark.parametrize(("slip", "route", "nm", "change", "turn"), SLIPS)
def test_what_a_slip_does(slip, route, nm, change, turn):
    assert total(route) == pytest.approx(nm, abs=0.05)
    assert total(route) - total(ACA101) == pytest.approx(change, abs=0.5 if change == round(change) else 0.05)
    assert abs(largest_turn(route)) == pytest.approx(turn, abs=0.05)


def test_a_one_degree_slip_shows_only_in_the_course():
    """Course at 30 W 264.8 with the slip, 256.3 without: the total and the turns say nothing."""
    assert legs(SLIPS[0][1])[1][0] == pytest.approx(264.8, abs=0.05)
    assert legs(ACA101)[1][0] == pytest.approx(256.3, abs=0.05)


def test_a_point_left_out_shows_only_in_the_leg():
    assert legs(SLIPS[1][1])[0][2] == pytest.approx(765, abs=0.5)
    assert max(leg[2] for leg in legs(ACA101)) <= 400


# --- FF-ICE/R1 manual, Appendix E-3.7, as restated by FIXM: V268 from Hagerstown, with a reversal that is right -----

FF_ICE = {
    "KHGR": (39.70861111, -77.72638889),
    "HGR": (39.69777778, -77.85583333),
    "KEMAR": (39.5625, -77.26722222),
    "EMI": (39.495, -76.97861111),
    "KBWI": (39.17583333, -76.66888889),
}
FF_ICE_LEGS = [geo.inverse(*a, *b) for a, b in itertools.pairwise(FF_ICE.values())]


CUMULATIVE = [(1, 6.12, 6.029), (2, 34.48, 34.495), (3, 48.67, 48.491), (4, 72.47, 72.449)]


@pytest.mark.parametrize(("points", "published", "geodesic"), CUMULATIVE)
def test_ff_ice_cumulative_distances(points, published, geodesic):
    """The manual's two tables differ by up to 0.18 NM from each other: 0.25 NM is what it can be held to."""
    along = sum(leg[2] for leg in FF_ICE_LEGS[:points])
    assert along == pytest.approx(published, abs=0.25)
    assert along == pytest.approx(geodesic, abs=5e-4)


def test_ff_ice_courses_and_its_rightful_reversal():
    assert [leg[0] for leg in FF_ICE_LEGS] == pytest.approx([263.86, 106.37, 106.71, 142.90], abs=5e-3)
    at_hgr = geo.wrap180(FF_ICE_LEGS[1][0] - FF_ICE_LEGS[0][1])
    assert abs(at_hgr) == pytest.approx(157.4, abs=0.05)
    between_starts = geo.wrap180(FF_ICE_LEGS[1][0] - FF_ICE_LEGS[0][0])  # as the published 157.5 was reckoned
    assert abs(between_starts) == pytest.approx(157.5, abs=0.05)
