"""The world list of airports, as the airportsdata package has it."""

import re

import airportsdata
import pytest

from routecheck.navdata.database import empty_database

WORLD = empty_database()


@pytest.mark.parametrize(
    ("ident", "lat", "lon"),
    [
        # Positions: U.S. FAA CIFP cycle 2301, airport records, whole minutes.
        ("KABE", 40.65, -75.44),
        ("F70", 33.57, -117.13),
        ("L18", 33.35, -117.25),
        ("00AK", 59.95, -151.69),
    ],
)
def test_by_icao_code_and_by_location_identifier(ident: str, lat: float, lon: float) -> None:
    place = WORLD.airport(ident)
    assert place is not None
    assert place.ident == ident
    assert (place.lat, place.lon) == (pytest.approx(lat, abs=0.01), pytest.approx(lon, abs=0.01))
    assert place.elevation_ft is None
    assert place.source == "airportsdata"


@pytest.mark.parametrize("ident", ["ABE", "JFK", "LHR", "KF70", "KL18", "", "XVAL", "egll", "AU-0001", "EGLL "])
def test_nothing_by_passenger_code_nor_by_made_up_codes(ident: str) -> None:
    assert WORLD.airport(ident) is None


@pytest.mark.slow
def test_every_entry_is_on_earth() -> None:
    idents = {*airportsdata.load("ICAO"), *airportsdata.load("LID")}
    found = {ident: place for ident in idents if (place := WORLD.airport(ident))}
    assert len(found) >= 27_000
    assert sum(len(ident) == 4 and ident.isalpha() for ident in found) >= 17_000
    assert all(-90 <= place.lat <= 90 and -180 <= place.lon <= 180 for place in found.values())
    assert not any(len(ident) == 3 and ident.isalpha() for ident in found)


@pytest.mark.slow
def test_each_is_what_the_package_says() -> None:
    codes, identifiers = airportsdata.load("ICAO"), airportsdata.load("LID")
    by_code = {code: route_input for code, route_input in codes.items() if re.fullmatch("[A-Z]{4}", code)}
    by_identifier = {
        lid: route_input for lid, route_input in identifiers.items() if re.fullmatch("(?=.*[0-9])[A-Z0-9]{3,4}", lid)
    }
    assert len(by_code) + len(by_identifier) >= 27_000
    for ident, route_input in {**by_identifier, **by_code}.items():
        place = WORLD.airport(ident)
        assert place is not None
        assert (place.lat, place.lon, place.name) == (route_input["lat"], route_input["lon"], route_input["name"])
