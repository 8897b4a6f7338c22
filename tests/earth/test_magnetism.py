"""Declination: the years of the model, what is refused, how sure it is, and that threads do not spoil each other."""

import datetime as dt
import math
import sys
from concurrent.futures import ThreadPoolExecutor

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.earth import magnetic
from routecheck.earth.geo import ImpossiblePositionError

DAY = dt.date(2026, 12, 3)


@pytest.mark.parametrize(
    ("day", "covered"),
    [
        (dt.date(2024, 12, 31), False),
        (dt.date(2025, 1, 1), True),
        (dt.date(2028, 2, 29), True),
        (dt.date(2029, 12, 31), True),
        (dt.date(2030, 1, 1), False),
        (dt.date(1, 1, 1), False),
        (dt.date(9999, 12, 31), False),
    ],
)
def test_the_model_is_never_stretched(day, covered):
    assert magnetic.wmm_covers(day) is covered
    assert (magnetic.declination(45.0, 10.0, day) is not None) is covered


@pytest.mark.parametrize(
    ("lat", "lon"), [(90.1, 0), (-91, 0), (0, 180.1), (0, 240), (math.nan, 0), (0, math.nan), (math.inf, 0)]
)
def test_impossible_positions_are_refused_even_outside_the_years(lat, lon):
    for day in (DAY, dt.date(2040, 1, 1)):
        with pytest.raises(ImpossiblePositionError):
            magnetic.declination(lat, lon, day)


@given(st.floats(-90, 90), st.floats(-180, 180), st.dates(dt.date(2025, 1, 1), dt.date(2029, 12, 31)))
def test_every_place_and_day_of_the_model_has_an_answer(lat, lon, day):
    found = magnetic.declination(lat, lon, day)
    assert -180 <= found.declination_deg <= 180
    assert 0 < found.horizontal_nt < 45_000
    assert math.isfinite(found.uncertainty_deg)
    assert found.uncertainty_deg >= 0.26


@pytest.mark.parametrize(("horizontal", "sigma"), [(40_000, 0.293), (16_900, 0.413), (6_500, 0.873)])
def test_uncertainty(horizontal, sigma):
    """WMM2025 report, error model: sqrt(0.26^2 + (5417/H)^2), worked out for three intensities."""
    assert magnetic.uncertainty_deg(horizontal) == pytest.approx(sigma, abs=5e-4)


def test_both_names_of_the_date_line_have_one_declination():
    east, west = (magnetic.declination(10.0, lon, DAY) for lon in (180.0, -180.0))
    assert east.declination_deg == pytest.approx(west.declination_deg, abs=1e-9)


@pytest.mark.parametrize("pole", [90.0, -90.0])
def test_the_poles_are_answered_like_their_neighbourhood(pole):
    at, beside = (magnetic.declination(lat, 15.0, DAY) for lat in (pole, pole * (1 - 1e-9)))
    assert at.declination_deg == pytest.approx(beside.declination_deg, abs=1e-3)


def test_the_field_moves_with_the_years():
    early, late = (magnetic.declination(80.0, 0.0, dt.date(year, 1, 1)) for year in (2025, 2029))
    assert late.declination_deg - early.declination_deg == pytest.approx(4 * 0.52, abs=0.1)  # Table 6: 0.52°/year


def test_the_same_question_is_computed_once(monkeypatch):
    computed, real = [], magnetic.declination_in_year
    monkeypatch.setattr(magnetic, "declination_in_year", lambda *asked: computed.append(asked) or real(*asked))
    first, again = (magnetic.declination(12.52525, 34.54545, DAY) for _ in range(2))
    assert first == again
    assert len(computed) == 1


@pytest.fixture
def hasty_threads():
    """Threads take turns as often as they can, so that a race shows."""
    usual = sys.getswitchinterval()
    sys.setswitchinterval(1e-6)
    yield
    sys.setswitchinterval(usual)


def test_threads_do_not_spoil_each_other(hasty_threads):
    """pygeomag writes its working table on the model object."""
    asked = [(lat / 2, lon, 2026.5) for lat in range(-100, 100, 7) for lon in range(-170, 170, 31)]
    alone = [magnetic.declination_in_year(*a) for a in asked]
    with ThreadPoolExecutor(8) as pool:
        together = list(pool.map(lambda a: magnetic.declination_in_year(*a), asked))
    assert together == alone
