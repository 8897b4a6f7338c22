"""Real navigation data: the committed excerpt, and the whole-country file where it lies beside the repository.

Source of the counts and bounds: counted and measured once on the U.S. FAA CIFP, cycle 2301 (public domain).
"""

import datetime as dt
import pathlib
from collections.abc import Iterator

import numpy as np
import pytest
from numpy.typing import NDArray

from routecheck.earth import geo
from routecheck.model import Airway, AirwaySegment, Place, PlaceKind
from routecheck.navdata.coverage import RecordKind
from routecheck.navdata.database import NavDatabase

pytestmark = pytest.mark.real_data

OFF_BY_MORE = {("CAHYO", "TNUGE"): 0.41}
"""Segments whose coded distance departs more than 0.2 NM from the geodesic, and by how much."""


@pytest.fixture(scope="session", params=["northeast", "country"])
def data(request: pytest.FixtureRequest) -> NavDatabase:
    """The excerpt always, the whole country where it is there."""
    database: NavDatabase = request.getfixturevalue(request.param)
    return database


def all_airways(database: NavDatabase) -> Iterator[Airway]:
    for designator in sorted({designator for designator, _ in database.records.airways}):
        yield from database.airways(designator)


def all_segments(database: NavDatabase) -> list[tuple[Place, Place, AirwaySegment]]:
    return [
        (airway.places[i], airway.places[i + 1], segment)
        for airway in all_airways(database)
        for i, segment in enumerate(airway.segments)
    ]


def geodesics(database: NavDatabase) -> tuple[NDArray[np.float64], ...]:
    ends = np.array([(a.lat, a.lon, b.lat, b.lon) for a, b, _ in all_segments(database)])
    return geo.inverse_many(*ends.T)


def alignment(place: Place) -> float:
    known = place.declination_deg if place.declination_deg is not None else place.variation_deg
    assert known is not None
    return known


# Counts


def test_counts_of_the_country(country: NavDatabase) -> None:
    (source,) = country.sources
    assert dict(source.counts) == {
        "enroute fixes": 30_339,
        "terminal fixes": 36_443,
        "VHF navaids": 1_169,
        "NDBs": 574 + 232,
        "airway records": 19_707,
        "airports": 13_281,
        "runways": 15_291,
        "SID records": 32_971,
        "STAR records": 39_743,
        "approach records": 128_856 - 6_584,  # the rest are continuations
        "localizers": 1_292,
        "grid MORA rows": 235,
        "other records": 193_525 - 128_856 + 6_584 - 1_292,
        "rejected": 0,
    }
    assert sum(dict(source.counts).values()) + 5 == 383_515  # five header lines


def test_kinds_of_the_vhf_navaids(country: NavDatabase) -> None:
    kinds = [place.kind for key, place in country.records.places.items() if key[0] == "VHF navaid"]
    assert {kind: kinds.count(kind) for kind in set(kinds)} == {
        PlaceKind.VOR_DME: 1_169 - 255 - 34,
        PlaceKind.DME: 255,
        PlaceKind.VOR: 34,
    }


def test_cycle_and_dates(data: NavDatabase) -> None:
    (source,) = data.sources
    assert (source.cycle, source.effective, source.until) == ("2301", dt.date(2023, 1, 26), dt.date(2023, 2, 23))
    assert not source.invented
    assert source.rejected == ()


def test_the_excerpt_says_what_the_country_says(northeast: NavDatabase, country: NavDatabase) -> None:
    for ident in ("ABE", "DNY", "LVZ"):
        assert {(p.lat, p.lon, p.kind) for p in northeast.places(ident)} <= {
            (p.lat, p.lon, p.kind) for p in country.places(ident)
        }
    assert northeast.runways("KJFK") == country.runways("KJFK") != ()
    assert northeast.procedure_names("KJFK", "STAR") == country.procedure_names("KJFK", "STAR") != ()


# Airways


def test_every_fix_of_every_airway_is_found(data: NavDatabase) -> None:
    for (designator, _), segments in data.records.airways.items():
        for segment in segments:
            assert {segment.start, segment.end} <= data.records.places.keys(), designator


def test_airways_of_several_areas_and_pieces(country: NavDatabase) -> None:
    areas: dict[str, int] = {}
    for designator, _ in country.records.airways:
        areas[designator] = areas.get(designator, 0) + 1
    assert sum(number > 1 for number in areas.values()) == 84
    assert max(len(country.airways(designator)) for designator in areas) == 4
    assert len(all_segments(country)) == 17_975


def test_coded_distances_are_those_of_the_geodesic(data: NavDatabase) -> None:
    _, _, distances_nm = geodesics(data)
    far = {}
    for (a, b, segment), distance_nm in zip(all_segments(data), distances_nm, strict=True):
        assert segment.distance_nm is not None
        if abs(segment.distance_nm - distance_nm) > 0.2:
            far[a.ident, b.ident] = round(abs(segment.distance_nm - float(distance_nm)), 2)
    assert far.items() <= OFF_BY_MORE.items()
    if len(distances_nm) == 17_975:
        assert far == OFF_BY_MORE


def test_coded_courses_belong_to_their_ends(data: NavDatabase) -> None:
    """Outbound at the first fix, inbound at the second: 99 % within 9° by the alignment there, all within 18°."""
    courses, end_courses, _ = geodesics(data)
    off = []
    for (a, b, segment), course, end_course in zip(all_segments(data), courses, end_courses, strict=True):
        assert segment.course_deg is not None
        assert segment.inbound_course_deg is not None
        off.append(abs(geo.wrap180(segment.course_deg + alignment(a) - course)))
        off.append(abs(geo.wrap180(segment.inbound_course_deg + alignment(b) - end_course)))
    assert np.percentile(off, 99) < 9
    assert max(off) < 18


def test_minima_are_mostly_known(country: NavDatabase) -> None:
    known = [segment.minimum_ft is not None for _, _, segment in all_segments(country)]
    assert sum(known) / len(known) == pytest.approx(0.948, abs=0.0005)
    assert all(not segment.one_way for _, _, segment in all_segments(country))


# Stations, runways, airports, grid


def test_every_vhf_station_has_its_declination(data: NavDatabase) -> None:
    stations = [place for key, place in data.records.places.items() if key[0] == "VHF navaid"]
    assert all(place.declination_deg is not None and abs(place.declination_deg) <= 24 for place in stations)
    assert all(place.variation_deg is None for place in stations)


def test_runways_stand_at_the_height_of_their_airport(data: NavDatabase) -> None:
    """The ellipsoid height beside the elevation, read by mistake, would be some 30 m off and in tenths of a metre."""
    apart = []
    for code, runways in data.records.runways.items():
        airport = data.airport(code)
        assert airport is not None
        assert airport.elevation_ft is not None
        for runway in runways.values():
            assert runway.elevation_ft is not None
            apart.append(abs(runway.elevation_ft - airport.elevation_ft))
    assert max(apart) <= 305
    assert np.percentile(apart, 95) < 60


def test_runways_of_new_york(data: NavDatabase) -> None:
    # Source: U.S. FAA CIFP cycle 2301, records RW04L and RW31L of KJFK: length, bearing, threshold elevation.
    runways = {runway.ident: runway for runway in data.runways("KJFK")}
    assert list(runways) == ["04L", "04R", "13L", "13R", "22L", "22R", "31L", "31R"]
    given = [(runways[i].length_ft, runways[i].bearing_magnetic_deg, runways[i].elevation_ft) for i in ("04L", "31L")]
    assert given == [(12079.0, 44.0, 12.0), (14511.0, 314.0, 13.0)]


def test_grid_mora_lies_above_every_airport(data: NavDatabase) -> None:
    above = []
    for airport in data.records.airports.values():
        mora_ft = data.mora_ft(airport.lat, airport.lon)
        if mora_ft is not None and airport.elevation_ft is not None:
            above.append(mora_ft - airport.elevation_ft)
    assert min(above) > 700
    assert np.percentile(above, 0.05) > 1_000


def test_one_name_far_apart(country: NavDatabase) -> None:
    # In cycle 2301 PERSN is both a terminal and an enroute fix, 886 NM apart.
    enroute, terminal = country.places("PERSN")
    assert (enroute.kind, terminal.kind) == (PlaceKind.FIX, PlaceKind.TERMINAL_FIX)
    assert geo.inverse(enroute.lat, enroute.lon, terminal.lat, terminal.lon)[2] == pytest.approx(886, abs=0.5)


def test_star_names_are_shared(country: NavDatabase) -> None:
    # In cycle 2301 282 of 683 STAR names are shared by airports.
    stars: dict[str, int] = {}
    for procedures in country.records.procedures.values():
        for kind, name in procedures:
            stars[name] = stars.get(name, 0) + (kind == "STAR")
    shared = [name for name, number in stars.items() if number > 1]
    assert (len(shared), sum(number > 0 for number in stars.values())) == (282, 683)
    assert len(country.procedure_airports(shared[0])) == stars[shared[0]]


def test_covered_at_home_and_not_over_europe(data: NavDatabase) -> None:
    for kind in (RecordKind.FIX, RecordKind.VHF_NAVAID, RecordKind.AIRWAY, RecordKind.AIRPORT):
        assert data.covers(kind, 40.6, -75.4)
        assert not data.covers(kind, 48.0, 11.0)
        assert not data.covers(kind, -40.0, -75.4)


def test_the_whole_file_is_near_somewhere(country: NavDatabase) -> None:
    records = country.records
    assert sum(1 for _ in country.places_within(0.0, 0.0, 11_000)) == len(records.places) + len(records.airports)


def _explained_by(piece: Airway, index: int, limit_deg: float) -> bool:
    """Whether a coded course fits the geodesic by the variation of an end or the declination of a navaid beside it."""
    a, b, segment = piece.places[index], piece.places[index + 1], piece.segments[index]
    course, _, _ = geo.inverse(a.lat, a.lon, b.lat, b.lon)
    before = next((p for p in reversed(piece.places[: index + 1]) if p.declination_deg is not None), None)
    after = next((p for p in piece.places[index + 1 :] if p.declination_deg is not None), None)
    turned = [p.variation_deg for p in (a, b)] + [p.declination_deg for p in (before, after) if p is not None]
    assert segment.course_deg is not None
    off = [abs(geo.wrap180(segment.course_deg + v - course)) for v in turned if v is not None]
    return min(off, default=180.0) <= limit_deg


def test_coded_courses_fit_an_end_or_a_neighbouring_navaid(country: NavDatabase, test_data: pathlib.Path) -> None:
    """Within 3° of any of {variation of either end, declination of the navaid before or after}: 99.2 %, rest listed."""
    pieces = [piece for name in country.airway_names() for piece in country.airways(name)]
    spots = [(piece, i) for piece in pieces for i, s in enumerate(piece.segments) if s.course_deg is not None]
    off = {(p.designator, p.places[i].ident, p.places[i + 1].ident) for p, i in spots if not _explained_by(p, i, 3.0)}
    lines = (test_data / "airway_courses_off_2301.txt").read_text("utf-8").splitlines()
    listed = {tuple(line.split()) for line in lines if not line.startswith("#")}
    assert len(spots) > 17_000
    assert off == listed
    assert 1 - len(off) / len(spots) >= 0.9919
