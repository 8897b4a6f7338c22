"""The room along legs, corner by corner, against the room reckoned at many points in between."""

import itertools
import math
import random

import pytest

from routecheck.vertical.room import UNBOUNDED, Bounds, Corner, Gradients, find_room, room_corners

GRADIENTS = Gradients(300.0, 450.0)


def between(leg: tuple[Corner, ...], nm: float) -> tuple[float, float]:
    for (a, low_a, high_a), (b, low_b, high_b) in itertools.pairwise(leg):
        if a <= nm <= b and b > a:
            share = (nm - a) / (b - a)
            low = low_a if math.isinf(low_a) else low_a + (low_b - low_a) * share
            return low, high_a if math.isinf(high_a) else high_a + (high_b - high_a) * share
    raise AssertionError(nm)


def any_window(dice: random.Random) -> Bounds:
    low, high = sorted((dice.uniform(0, 39_000), dice.uniform(0, 39_000)))
    return dice.choice([UNBOUNDED, (low, None), (None, high), (low, high), (low, low)])


@pytest.mark.parametrize("seed", range(60))
def test_lines_between_corners_are_the_room_at_every_place(seed: int) -> None:
    """With a point put in at any place, no window at it, the room there is what the corners say."""
    dice = random.Random(seed)
    lengths = [dice.choice([None, dice.uniform(1.0, 60.0), dice.uniform(1.0, 60.0)]) for _ in range(6)]
    windows = [any_window(dice) for _ in range(7)]
    found = room_corners(lengths, windows, GRADIENTS)
    for leg, length in enumerate(lengths):
        if length is None:
            assert found[leg] == ()
            continue
        for share in (0.05, 0.3, 0.5, 0.77, 0.95):
            cut = [*lengths[:leg], length * share, length * (1 - share), *lengths[leg + 1 :]]
            band = find_room(cut, [*windows[: leg + 1], UNBOUNDED, *windows[leg + 1 :]], GRADIENTS).bands[leg + 1]
            low, high = between(found[leg], length * share)
            if band is None:
                assert low > high
            else:
                assert (None if math.isinf(low) else low) == (band[0] and pytest.approx(band[0]))
                assert (None if math.isinf(high) else high) == (band[1] and pytest.approx(band[1]))


def test_a_closed_stretch_begins_and_ends_with_a_corner() -> None:
    """FL240 or above, 10 NM later 12,000 ft or below, at 450 ft/NM: 7,500 ft are lacking."""
    (before, leg, after) = room_corners(
        [100.0, 10.0, 100.0], [UNBOUNDED, (24_000, None), (None, 12_000), UNBOUNDED], GRADIENTS
    )
    assert [nm for nm, low, high in before if low > high] == [100.0]
    assert all(low - high == pytest.approx(7_500) for _, low, high in leg)
    opens = [nm for nm, low, high in after if low == pytest.approx(high)]
    assert opens == [pytest.approx(7_500 / (300.0 + 450.0))]


def test_unfit_lengths_are_refused() -> None:
    with pytest.raises(ValueError, match="2 legs have 3 points"):
        room_corners([1.0, 2.0], [UNBOUNDED, UNBOUNDED], GRADIENTS)
