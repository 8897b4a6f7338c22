"""What the data has about a view: near enough only, a class whole or not at all, never what the route draws itself."""

import datetime as dt
from collections.abc import Callable

import numpy as np
import pytest

from routecheck.earth.projection import Projection
from routecheck.model import NAVAIDS, Assessment, PlaceKind, RouteInput
from routecheck.navdata.database import NavDatabase
from routecheck.pipeline import assess
from routecheck.presentation.map_scene import draw_picture
from routecheck.presentation.nearby_fixes import MOST_PLACES, WIDEST_NM, find_nearby_fixes
from routecheck.settings import Settings

Assess = Callable[..., Assessment]
NEW_YORK = (40.64, -73.78)


def around(x: float, y: float, half: float) -> tuple[float, float, float, float]:
    return x - half, y - half, x + half, y + half


@pytest.fixture
def york(northeast: NavDatabase) -> Callable[[float], object]:
    route = assess(
        RouteInput("MERIT DCT PUT", departure="KJFK", destination="KBOS"),
        northeast,
        Settings(),
        dt.date(2023, 2, 1),
    ).route
    projection = Projection(41.0, -73.0)
    x, y = projection.place(*NEW_YORK)
    return lambda half: find_nearby_fixes(northeast, route, projection, around(x, y, half))


def test_places_stand_where_they_are_without_the_route(assessed: Assess, demo_library: NavDatabase) -> None:
    assessment = assessed("LENDU DCT PIKAR")
    projection = draw_picture(assessment).projection
    x, y = projection.place(-31.0, 0.0)
    found = find_nearby_fixes(demo_library, assessment.route, projection, around(x, y, 60.0))
    assert found is not None
    assert "LENDU" not in found.names
    assert "FINAR" in found.names
    for place, (px, py) in zip(found.fixes, found.places, strict=True):
        assert projection.place(place.lat, place.lon) == pytest.approx((px, py))
    assert len(found.fixes) == len(found.names) == len(found.symbols) == len(found.places)


def test_nothing_is_shown_from_far_away(assessed: Assess, demo_library: NavDatabase) -> None:
    route, projection = assessed("LENDU").route, Projection(-31.0, 2.0)
    assert find_nearby_fixes(demo_library, route, projection, around(0, 0, WIDEST_NM)) is None
    assert find_nearby_fixes(demo_library, route, projection, around(0, 0, WIDEST_NM / 2)) is not None


def test_beyond_the_rim_of_the_globe_there_is_nothing(assessed: Assess, demo_library: NavDatabase) -> None:
    assert (
        find_nearby_fixes(demo_library, assessed("LENDU").route, Projection(0.0, 0.0), around(20000.0, 0, 20)) is None
    )


@pytest.mark.parametrize("half", [8.0, 20.0, 40.0, 80.0, 150.0])
def test_a_class_is_shown_whole_or_not_at_all(york: Callable[[float], object], half: float) -> None:
    found = york(half)
    assert len(found.fixes) <= MOST_PLACES  # type: ignore[attr-defined]
    kinds = {place.kind for place in found.fixes}  # type: ignore[attr-defined]
    assert kinds & NAVAIDS
    if half > 60:
        assert not kinds & {PlaceKind.AIRPORT, PlaceKind.TERMINAL_FIX}


def test_close_in_terminal_fixes_and_airports_are_shown(york: Callable[[float], object]) -> None:
    kinds = {place.kind for place in york(8.0).fixes}  # type: ignore[attr-defined]
    assert {PlaceKind.AIRPORT, PlaceKind.TERMINAL_FIX, PlaceKind.FIX} <= kinds


def test_airways_are_lines_with_breaks_and_a_name_each(york: Callable[[float], object]) -> None:
    found = york(40.0)
    lines = found.lines  # type: ignore[attr-defined]
    assert np.isnan(lines[2::3]).all()
    assert not np.isnan(lines[0::3]).any()
    names = found.airways  # type: ignore[attr-defined]
    assert len(set(names)) == len(names) == len(found.airway_spots)  # type: ignore[attr-defined]
    assert {"J42", "V16"} & set(names)


def test_it_holds_for_views_inside_it_at_about_its_scale(york: Callable[[float], object]) -> None:
    found = york(40.0)
    west, south, east, north = found.box  # type: ignore[attr-defined]
    middle = (west + east) / 2, (south + north) / 2
    covers, projection = found.covers, found.projection  # type: ignore[attr-defined]
    assert covers(projection, around(*middle, 40.0))
    assert covers(projection, around(middle[0] + 10.0, middle[1] - 5.0, 40.0))
    assert not covers(projection, around(middle[0] + 30.0, middle[1], 40.0))
    assert not covers(projection, around(*middle, 10.0))
    assert not covers(Projection(1.0, 1.0), around(*middle, 40.0))
