"""Declination against the official test values of WMM2025 (NOAA NCEI / British Geological Survey, public domain)."""

import datetime as dt

import numpy as np
import pytest

from routecheck.earth import magnetic

ROUNDING = 1e-6
"""Half a last digit is the tolerance; a value that lies on the half itself may fall to either side."""


def rows(path):
    return np.loadtxt(path, comments="#")


def longitude(east):
    return east - 360 if east > 180 else east


def check(year, altitude, lat, lon, declination, horizontal, horizontal_off):
    found = magnetic.declination_in_year(lat, longitude(lon), year, altitude)
    assert found.declination_deg == pytest.approx(declination, abs=0.005 + ROUNDING)
    assert found.horizontal_nt == pytest.approx(horizontal, abs=horizontal_off)


def test_the_twelve_values_of_the_report(test_data):
    """WMM2025 report, Table 6; declination printed to 0.01 degrees, horizontal intensity to 0.1 nT."""
    table = rows(test_data / "wmm2025_test_values.txt")
    assert len(table) == 12
    for row in table:
        year, altitude, lat, lon = row[:4]
        check(year, altitude, lat, lon, row[10], row[7], 0.05 + ROUNDING)


def test_the_hundred_values_beside_it(test_data):
    """WMM2025 test values published with the coefficients: all over the globe, half of them in the air."""
    table = rows(test_data / "wmm2025_test_values_100.txt")
    assert len(table) == 100
    for year, altitude, lat, lon, declination, _, horizontal, *_ in table:
        check(year, altitude, lat, lon, declination, horizontal, 1e-3)


TABLE_6_AT_SEA_LEVEL = [
    # year, lat, lon, declination, horizontal intensity
    (2025.0, 80, 0, 1.28, 6523.2),
    (2025.0, 0, 120, -0.16, 39677.9),
    (2025.0, -80, 240, 68.78, 16898.1),
    (2027.5, 80, 0, 2.59, 6507.5),
    (2027.5, 0, 120, -0.24, 39702.0),
    (2027.5, -80, 240, 68.49, 16908.3),
]


@pytest.mark.parametrize(("year", "lat", "lon", "declination", "horizontal"), TABLE_6_AT_SEA_LEVEL)
def test_sea_level_is_the_default(year, lat, lon, declination, horizontal):
    """The rows of Table 6 at 0 km, written out, so that a slip in reading the file cannot hide."""
    found = magnetic.declination_in_year(lat, longitude(lon), year)
    assert found.declination_deg == pytest.approx(declination, abs=0.005 + ROUNDING)
    assert found.horizontal_nt == pytest.approx(horizontal, abs=0.05 + ROUNDING)


def test_the_first_day_of_a_year_is_its_decimal_year(test_data):
    """2026.0 and 2029.0 are the first of January: the door that takes a date gives the published value too."""
    table = rows(test_data / "wmm2025_test_values_100.txt")
    whole_years = table[table[:, 0] % 1 == 0]
    assert len(whole_years) == 50
    for year, altitude, lat, lon, declination, *_ in whole_years:
        found = magnetic.declination(lat, longitude(lon), dt.date(int(year), 1, 1), altitude)
        assert found.declination_deg == pytest.approx(declination, abs=0.005 + ROUNDING)
