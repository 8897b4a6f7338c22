"""The planned profile held in the room: windows kept, top of descent moved, no climb in an arrival."""

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.vertical.profile import Profile
from routecheck.vertical.room import UNBOUNDED, Gradients, room_corners
from routecheck.vertical.windowed_profile import Limits, cut_at_ceiling, hold_in_room

USUAL, GREATEST = Gradients(250.0, 310.0), Gradients(400.0, 450.0)


def held(breaks, lengths, windows, **limits):
    along = [0.0, *itertools.accumulate(length or 20.0 for length in lengths)]
    return hold_in_room(
        Profile(tuple(breaks)),
        along,
        lengths,
        Limits(windows, usual=USUAL, greatest=limits.pop("greatest", GREATEST), **limits),
    )


def altitude(piece, nm):
    return Profile(piece).altitude_at(nm)


def test_without_windows_the_plan_stays():
    breaks = ((0.0, 0.0), (140.0, 35_000.0), (300.0, 35_000.0), (412.9, 0.0))
    (piece,) = held(breaks, [200.0, 212.9], [UNBOUNDED] * 3)
    for nm in (0.0, 70.0, 140.0, 250.0, 350.0, 412.9):
        assert altitude(piece, nm) == pytest.approx(Profile(breaks).altitude_at(nm))


def test_the_top_of_descent_moves_for_a_window():
    """FL240 or below 100 NM before the end, where the plain plan is at FL310: 11,000 ft at 310 ft/NM are 35.5 NM."""
    breaks = ((0.0, 35_000.0), (287.1, 35_000.0), (400.0, 0.0))
    (piece,) = held(breaks, [300.0, 100.0], [UNBOUNDED, (None, 24_000.0), UNBOUNDED], arrival_begins=300.0)
    assert altitude(piece, 300.0) == pytest.approx(24_000.0)
    top = max(nm for nm, feet in piece if feet == pytest.approx(35_000.0))
    assert top == pytest.approx(300.0 - 11_000.0 / 310.0)
    assert altitude(piece, 310.0) == pytest.approx(24_000.0), "once down, nobody climbs again"


def test_a_window_above_the_plan_keeps_it_up_and_one_in_the_climb_levels_it_off():
    (piece,) = held(((0.0, 35_000.0), (112.9, 0.0)), [80.0, 32.9], [UNBOUNDED, (12_000.0, None), (0.0, 0.0)])
    assert altitude(piece, 80.0) == pytest.approx(12_000.0)
    climb = ((0.0, 0.0), (100.0, 25_000.0))
    (piece,) = held(climb, [30.0, 70.0], [(0.0, 0.0), (None, 5_000.0), UNBOUNDED], departure_ends=40.0)
    assert altitude(piece, 30.0) == pytest.approx(5_000.0)
    assert max(feet for nm, feet in piece if nm <= 30.0) == pytest.approx(5_000.0), "never above and down again"


def test_where_the_usual_gradients_are_not_enough_the_greatest_are_flown():
    windows = [UNBOUNDED, (20_000.0, None), (None, 16_000.0), UNBOUNDED]
    (piece,) = held(((0.0, 18_000.0), (110.0, 18_000.0)), [50.0, 10.0, 50.0], windows)
    assert (altitude(piece, 50.0), altitude(piece, 60.0)) == pytest.approx((20_000.0, 16_000.0))


def test_where_there_is_no_room_there_is_no_plan():
    windows = [UNBOUNDED, (24_000.0, None), (None, 12_000.0), UNBOUNDED]
    before, after = held(((0.0, 18_000.0), (210.0, 18_000.0)), [100.0, 10.0, 100.0], windows)
    assert before[-1][0] < 100.0 < 110.0 < after[0][0]


def test_two_windows_in_conflict_ask_for_no_climb_elsewhere():
    """The symptom: behind "at 5,000 ft" the plan rose to 8,000 ft and came down again, for a window long passed."""
    windows = [UNBOUNDED, (24_000.0, None), (9_000.0, 12_000.0), (5_000.0, 5_000.0), (4_000.0, None), UNBOUNDED]
    lengths = [100.0, 18.0, 30.0, 20.0, 20.0]
    plan = ((0.0, 35_000.0), (70.0, 35_000.0), (188.0, 0.0))
    before, after = held(plan, lengths, windows, arrival_begins=60.0)
    assert before[-1][0] < 100.0 < 118.0 < after[0][0]
    for piece in (before, after):
        assert all(later <= earlier for (_, earlier), (_, later) in itertools.pairwise(piece))
    assert altitude(after, 148.0) == pytest.approx(5_000.0)
    assert 4_000.0 <= altitude(after, 168.0) <= 5_000.0


def test_the_room_has_its_corner_where_the_slope_meets_the_ceiling():
    """The symptom: up to 650 NM of room were cut off by a straight line from a window to the ceiling."""
    (leg,) = room_corners([700.0], [(0.0, 0.0), (0.0, 0.0)], GREATEST)
    cut = cut_at_ceiling(leg, 38_000.0)
    at_ceiling = [nm for nm, _, high in cut if high == pytest.approx(38_000.0)]
    assert at_ceiling[0] == pytest.approx(38_000.0 / 400.0)
    assert at_ceiling[-1] == pytest.approx(700.0 - 38_000.0 / 450.0)
    assert [cut[0], cut[-1]] == [(0.0, 0.0, 0.0), (700.0, 0.0, 0.0)]


lengths_nm = st.floats(0.0, 150.0).map(lambda nm: round(nm, 6))
"""To two millimetres: nothing on Earth is measured finer."""
feet = st.integers(0, 400).map(lambda hundreds: hundreds * 100.0)
windows_of_all_kinds = st.one_of(
    st.just(UNBOUNDED),
    feet.map(lambda low: (low, None)),
    feet.map(lambda high: (None, high)),
    st.tuples(feet, feet).map(lambda pair: (min(pair), max(pair))),
)


@st.composite
def flights(draw):
    lengths = draw(st.lists(st.one_of(st.none(), lengths_nm), min_size=1, max_size=6))
    windows = draw(st.lists(windows_of_all_kinds, min_size=len(lengths) + 1, max_size=len(lengths) + 1))
    whole = sum(length or 20.0 for length in lengths)
    inner = draw(
        st.lists(
            st.tuples(st.integers(1, 99).map(lambda percent: percent / 100.0), feet),
            max_size=4,
            unique_by=lambda pair: pair[0],
        )
    )
    breaks = [(0.0, draw(feet)), *sorted((share * whole, ft) for share, ft in inner), (max(whole, 1.0), draw(feet))]
    ends = sorted((draw(st.floats(0.0, 1.0)) * whole, draw(st.floats(0.0, 1.0)) * whole))
    return lengths, windows, breaks, ends


@given(flights(), st.sampled_from([math.inf, 30_000.0]), st.sampled_from([GREATEST, None]))
def test_the_plan_lies_inside_the_room_wherever_there_is_room(flight, ceiling, greatest):
    lengths, windows, breaks, (departed, arriving) = flight
    pieces = held(
        breaks,
        lengths,
        windows,
        ceiling_ft=ceiling,
        greatest=greatest,
        departure_ends=departed,
        arrival_begins=arriving,
    )
    begins = 0.0
    for leg, corners in enumerate(room_corners(lengths, windows, greatest or USUAL)):
        length = lengths[leg]
        for share in (0.0, 0.13, 0.5, 0.77, 1.0) if corners and length else ():
            low, high = bounds(cut_at_ceiling(corners, ceiling), share * length)
            there = [piece for piece in pieces if piece[0][0] <= begins + share * length <= piece[-1][0]]
            if high - low > 1.0:
                assert there, "where there is room a plan is drawn"
            for piece in there:
                if high >= low:
                    assert low - 0.01 <= altitude(piece, begins + share * length) <= high + 0.01
        begins += length or 20.0


def bounds(corners, nm):
    for a, b in itertools.pairwise(corners):
        if a[0] <= nm <= b[0] and b[0] > a[0]:
            share = (nm - a[0]) / (b[0] - a[0])
            return tuple(x if math.isinf(x) else x + (y - x) * share for x, y in zip(a[1:], b[1:], strict=True))
    return corners[-1][1:]


@given(flights())
def test_in_an_arrival_nobody_climbs_unless_a_window_asks_for_it(flight):
    lengths, windows, breaks, (_, arriving) = flight
    for piece in held(breaks, lengths, [(None, high) for _, high in windows], arrival_begins=arriving):
        flown = [ft for nm, ft in piece if nm >= arriving]
        assert all(later <= earlier + 0.01 for earlier, later in itertools.pairwise(flown))
