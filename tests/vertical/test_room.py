"""The room against flown profiles, a brute-force search on a grid, and cases worked by hand."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.vertical.room import (
    UNBOUNDED,
    Gradients,
    WindowPair,
    find_room,
    highest_altitude_ft,
    is_upside_down,
    reset_lengths,
    steep_pairs,
    steepest_without_overlap,
)

SHEET = Gradients(400.0, 450.0)


def test_the_pair_that_binds_is_named_with_the_gradient_it_needs():
    """11,000 ft, then 6,000 ft 8.0 NM later, needs 625 ft/NM down."""
    found = find_room([30.0, 8.0, 20.0], [(20_000.0, 24_000.0), (11_000.0, None), (None, 6_000.0), UNBOUNDED], SHEET)
    assert found.conflicts == (WindowPair(1, 2, 11_000.0, 6_000.0, 8.0),)
    assert found.conflicts[0].needed_ft_nm == 625.0
    assert not found.conflicts[0].climbs


def test_the_room_closes_where_it_is_empty_and_opens_again():
    found = find_room([8.0, 1.0, 20.0], [(11_000.0, None), (None, 6_000.0), UNBOUNDED, UNBOUNDED], SHEET)
    assert found.bands == (None, None, None, (-2_050.0, 14_400.0))


def test_the_pair_is_not_always_one_of_neighbours():
    windows = [(20_000.0, None), (10_000.0, None), (None, 30_000.0), (None, 8_000.0)]
    found = find_room([10.0, 5.0, 5.0], windows, SHEET)
    assert found.conflicts == (WindowPair(0, 3, 20_000.0, 8_000.0, 20.0),)
    assert found.conflicts[0].needed_ft_nm == 600.0


@pytest.mark.parametrize(
    ("windows", "blamed"),
    [
        ([(10_000.0, None), (7_000.0, None), (None, 3_000.0)], WindowPair(1, 2, 7_000.0, 3_000.0, 10.0)),
        ([(None, 3_000.0), (None, 7_000.0), (11_500.0, None)], WindowPair(1, 2, 7_000.0, 11_500.0, 10.0)),
    ],
)
def test_of_two_bounds_that_come_to_the_same_the_later_is_blamed(windows, blamed):
    """Down at 300 (up at 400) for 10 NM the first leads exactly to the second: the nearer one needs the steeper way."""
    assert find_room([10.0, 10.0], windows, Gradients(400.0, 300.0)).conflicts == (blamed,)


def test_a_climb_that_cannot_be_made():
    found = find_room([10.0], [(None, 5_000.0), (10_000.0, None)], SHEET)
    assert found.conflicts == (WindowPair(0, 1, 5_000.0, 10_000.0, 10.0),)
    assert found.conflicts[0].climbs


def test_a_single_mistyped_window_is_in_both_pairs_and_no_others():
    windows = [(3_000.0, 3_000.0), (41_000.0, 41_000.0), (5_000.0, 5_000.0), (6_000.0, 6_000.0)]
    found = find_room([10.0, 10.0, 10.0], windows, SHEET)
    assert [(p.first, p.last) for p in found.conflicts] == [(0, 1), (1, 2)]


def test_two_windows_on_one_spot():
    (pair,) = find_room([0.0], [(11_000.0, None), (None, 6_000.0)], SHEET).conflicts
    assert math.isinf(pair.needed_ft_nm)


@pytest.mark.parametrize("lengths", [[None], reset_lengths([8.0], {1})])
def test_nothing_carries_over_a_gap_or_a_reset(lengths):
    found = find_room(lengths, [(11_000.0, None), (None, 6_000.0)], SHEET)
    assert found.conflicts == ()
    assert found.bands == ((11_000.0, None), (None, 6_000.0))


def test_without_any_window_everything_is_open():
    assert find_room([10.0, None], [UNBOUNDED] * 3, SHEET).bands == (UNBOUNDED,) * 3


def test_from_field_to_field():
    found = find_room([20.0, 100.0, 10.0], [(100.0, 100.0), UNBOUNDED, UNBOUNDED, (1_000.0, 1_000.0)], SHEET)
    assert found.bands == ((100.0, 100.0), (-8_900.0, 8_100.0), (-3_000.0, 5_500.0), (1_000.0, 1_000.0))
    assert found.conflicts == ()


def test_a_window_upside_down_is_taken_as_open():
    assert is_upside_down((12_000.0, 9_000.0))
    assert not is_upside_down((9_000.0, 9_000.0))
    found = find_room([1.0], [(5_000.0, 5_000.0), (12_000.0, 9_000.0)], SHEET)
    assert found.bands == ((5_000.0, 5_000.0), (4_550.0, 5_400.0))


@pytest.mark.parametrize(
    "ask", [find_room, highest_altitude_ft, lambda *given: list(steep_pairs(given[0], given[1], 1.0))]
)
def test_sequences_of_unfit_length_are_refused(ask):
    with pytest.raises(ValueError, match="1 legs have 2 points"):
        ask([1.0], [UNBOUNDED], SHEET)


# ---- the greatest height on the way


def test_the_top_of_a_short_flight_lies_between_its_points():
    """Up at 400 and down at 450 over 85 NM: 45 NM up to 18,000 ft and 40 NM down."""
    assert highest_altitude_ft([85.0], [(0.0, 0.0), (0.0, 0.0)], SHEET) == pytest.approx(18_000.0)


def test_a_window_on_the_way_holds_the_top_down():
    """Up at 400 for 37.1 of 60 NM, then down at 450 to the 4,500 ft from which the last 10 NM reach the field."""
    windows = [(0.0, 0.0), (None, 5_000.0), (0.0, 0.0)]
    assert highest_altitude_ft([60.0, 10.0], windows, SHEET) == pytest.approx(400 * 31_500 / 850)
    assert highest_altitude_ft([60.0, 10.0], windows, SHEET) < highest_altitude_ft(
        [60.0, 10.0], [windows[0], UNBOUNDED, UNBOUNDED], SHEET
    )


def test_there_is_no_top_beyond_a_gap():
    assert highest_altitude_ft([10.0, None], [(0.0, 0.0), UNBOUNDED, (0.0, 0.0)], SHEET) == math.inf
    assert highest_altitude_ft([10.0], [(0.0, 0.0), UNBOUNDED], SHEET) == 4_000.0


# ---- steep pairs


def test_pairs_that_need_more_than_a_gradient():
    windows = [(24_000.0, 24_000.0), (11_000.0, None), UNBOUNDED, (None, 5_000.0)]
    found = list(steep_pairs([50.0, 10.0, 8.0], windows, 300.0))
    assert found == [WindowPair(1, 3, 11_000.0, 5_000.0, 18.0)]
    assert list(steep_pairs([50.0, None, 8.0], windows, 300.0)) == []
    assert [(p.first, p.last) for p in steep_pairs([50.0, 10.0, 8.0], windows, 270.0)] == [(0, 3), (1, 3)]


def test_of_pairs_that_overlap_the_steepest_is_named():
    wide, inner, apart = (
        WindowPair(0, 3, 24_000, 5_000, 68),
        WindowPair(1, 3, 11_000, 5_000, 18),
        WindowPair(3, 4, 5_000, 4_000, 3),
    )
    assert steepest_without_overlap([wide, apart, inner]) == [inner, apart]


# ---- properties

LENGTHS = st.floats(0.0, 200.0)
HEIGHTS = st.floats(-1_000.0, 45_000.0)
GRADIENTS = st.builds(Gradients, st.floats(50, 1_000), st.floats(50, 1_000))


@st.composite
def flown(draw):
    """A profile inside the gradients, and windows around it that are open, one-sided or as narrow as the profile."""
    gradients = draw(GRADIENTS)
    height, lengths, heights = draw(HEIGHTS), [], []
    heights.append(height)
    for _ in range(draw(st.integers(0, 8))):
        length = draw(LENGTHS)
        height += length * draw(st.floats(-gradients.descent_ft_nm, gradients.climb_ft_nm))
        lengths.append(length)
        heights.append(height)
    below, above = st.none() | st.floats(0, 5_000), st.none() | st.floats(0, 5_000)
    slacks = [(draw(below), draw(above)) for _ in heights]
    windows = [
        (None if low is None else h - low, None if high is None else h + high)
        for h, (low, high) in zip(heights, slacks, strict=True)
    ]
    return lengths, windows, gradients, heights


@given(flown())
def test_a_profile_flown_inside_the_gradients_never_conflicts(case):
    lengths, windows, gradients, heights = case
    found = find_room(lengths, windows, gradients)
    assert found.conflicts == ()
    for band, height in zip(found.bands, heights, strict=True):
        assert band is not None
        assert band[0] is None or band[0] <= height + 0.01
        assert band[1] is None or band[1] >= height - 0.01
    assert highest_altitude_ft(lengths, windows, gradients) >= max(heights) - 0.01
    steepest = max(gradients.climb_ft_nm, gradients.descent_ft_nm)
    assert not [p for p in steep_pairs(lengths, windows, steepest * 1.001 + 0.1) if abs(p.last_ft - p.first_ft) > 0.01]


def windows_of(count):
    bound = st.none() | HEIGHTS
    return st.lists(st.tuples(bound, bound).filter(lambda w: not is_upside_down(w)), min_size=count, max_size=count)


ROUTES = st.integers(1, 7).flatmap(
    lambda n: st.tuples(st.lists(st.none() | LENGTHS, min_size=n - 1, max_size=n - 1), windows_of(n), GRADIENTS)
)


@given(ROUTES, st.data())
@pytest.mark.slow
def test_tightening_a_window_never_widens_the_room(case, data):
    lengths, windows, gradients = case
    before = find_room(lengths, windows, gradients)
    chosen = data.draw(st.integers(0, len(windows) - 1))
    (tighter,) = data.draw(windows_of(1))
    low, high = (_tighter(max, windows[chosen][0], tighter[0]), _tighter(min, windows[chosen][1], tighter[1]))
    if is_upside_down((low, high)):
        return
    after = find_room(lengths, [*windows[:chosen], (low, high), *windows[chosen + 1 :]], gradients)
    for narrow, wide in zip(after.bands, before.bands, strict=True):
        if narrow is not None:
            assert wide is not None
            assert (-math.inf if wide[0] is None else wide[0]) <= (-math.inf if narrow[0] is None else narrow[0]) + 0.01
            assert (math.inf if wide[1] is None else wide[1]) >= (math.inf if narrow[1] is None else narrow[1]) - 0.01
    if before.conflicts:
        assert after.conflicts


def _tighter(choose, one, other):
    given = [bound for bound in (one, other) if bound is not None]
    return choose(given) if given else None


@given(ROUTES)
def test_the_room_is_empty_somewhere_exactly_where_two_windows_conflict(case):
    lengths, windows, gradients = case
    found = find_room(lengths, windows, gradients)
    assert bool(found.conflicts) == (None in found.bands)
    for pair in found.conflicts:
        assert found.bands[pair.first] is None
        assert found.bands[pair.last] is None
        assert None not in lengths[pair.first : pair.last]
        allowed = gradients.climb_ft_nm if pair.climbs else gradients.descent_ft_nm
        assert pair.needed_ft_nm > allowed
        assert pair.distance_nm == pytest.approx(sum(lengths[pair.first : pair.last]))
        bounds = (windows[pair.first][1], windows[pair.last][0]), (windows[pair.first][0], windows[pair.last][1])
        assert (pair.first_ft, pair.last_ft) == bounds[not pair.climbs]


@given(ROUTES)
def test_flown_the_other_way_round_the_room_is_the_same(case):
    lengths, windows, gradients = case
    there = find_room(lengths, windows, gradients)
    back = find_room(lengths[::-1], windows[::-1], Gradients(gradients.descent_ft_nm, gradients.climb_ft_nm))
    assert [_rounded(b) for b in back.bands[::-1]] == [_rounded(b) for b in there.bands]
    assert bool(back.conflicts) == bool(there.conflicts)


def _rounded(band):
    return band and tuple(None if bound is None else pytest.approx(bound, abs=0.01) for bound in band)


# ---- brute force: every profile on a grid of 1,000 ft, with lengths and gradients that keep to the grid

GRID = range(13)
SMALL = st.integers(1, 5).flatmap(
    lambda n: st.tuples(
        st.lists(st.none() | st.integers(0, 4), min_size=n - 1, max_size=n - 1),
        st.lists(
            st.tuples(st.none() | st.integers(0, 12), st.none() | st.integers(0, 12)).filter(
                lambda w: not is_upside_down(w)
            ),
            min_size=n,
            max_size=n,
        ),
        st.integers(1, 3),
        st.integers(1, 3),
    )
)


def searched(lengths, windows, up, down):
    """For every point the set of grid heights that some whole profile flies, by trying them one after the other."""

    def allowed(point):
        low, high = windows[point]
        return {h for h in GRID if (low is None or h >= low) and (high is None or h <= high)}

    def sweep(points, steps):
        sets = [allowed(points[0])]
        for (_, point), (leg, climb, drop) in zip(pairwise(points), steps, strict=True):
            length = lengths[leg]
            reach = allowed(point) if length is None and sets[-1] is not None else set()
            if length is not None:
                reach = {h for h in allowed(point) if any(-drop * length <= h - g <= climb * length for g in sets[-1])}
            sets.append(reach)
        return sets

    count = len(windows)
    ahead = sweep(list(range(count)), [(leg, up, down) for leg in range(count - 1)])
    behind = sweep(list(range(count))[::-1], [(leg, down, up) for leg in reversed(range(count - 1))])[::-1]
    return [a & b for a, b in zip(ahead, behind, strict=True)]


@given(SMALL)
def test_a_search_on_a_grid_agrees(case):
    lengths, windows, up, down = case
    feet = [tuple(None if b is None else b * 1_000.0 for b in window) for window in windows]
    found = find_room([None if n is None else float(n) for n in lengths], feet, Gradients(up * 1_000.0, down * 1_000.0))
    sets = searched(lengths, windows, up, down)
    if all(sets):
        assert found.conflicts == ()
        for band, heights in zip(found.bands, sets, strict=True):
            assert band is not None
            low, high = band
            assert max(low if low is not None else 0.0, 0.0) == min(heights) * 1_000.0
            assert min(high if high is not None else 12_000.0, 12_000.0) == max(heights) * 1_000.0
    else:
        assert found.conflicts
