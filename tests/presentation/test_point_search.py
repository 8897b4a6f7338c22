"""Names and positions that are looked for, and where the found places lie from the route."""

from collections.abc import Callable

import pytest

from routecheck.earth import geo
from routecheck.model import Assessment
from routecheck.navdata.database import NavDatabase
from routecheck.presentation.point_search import describe_search, find_points

Assess = Callable[..., Assessment]

ROUTE = "LENDU DCT PIKAR UM12 TOVIK DCT SARNO"


@pytest.mark.parametrize(
    ("text", "kinds", "where"),
    [
        ("tovik", ["fix", "fix"], "on the route"),
        ("ERDAM", ["fix"], "46.6 NM 164°T from PIKAR–UVAGI"),
        ("XVMA", ["airport"], "59.4 NM 359°T from TOVIK–SARNO"),
        ("3100S00200E", ["typed position"], "43.1 NM 168°T from UVAGI"),
        ("31°00.0′S 002°00.0′E", ["typed position"], "43.1 NM 168°T from UVAGI"),
        ("4550N", ["typed position"], "5,245 NM 329°T from XVAL"),
    ],
)
def test_found_points_say_where_they_lie_from_the_route(
    assessed: Assess, demo_library: NavDatabase, text: str, kinds: list[str], where: str
) -> None:
    found = find_points(text, demo_library, assessed(ROUTE).route)
    assert [point.place.kind.value for point in found] == kinds
    assert found[0].where == where
    away = [point.from_route_nm for point in found]
    assert away == sorted(away)  # type: ignore[type-var]


def test_every_way_off_the_route_is_measured_square_to_it(assessed: Assess, demo_library: NavDatabase) -> None:
    """Against the library's cross-track distance to the one leg."""
    route = assessed("DCT").route
    a, b = (point.place for point in (route.points[0], route.points[-1]))
    assert a is not None
    assert b is not None
    cross, _ = geo.cross_track(a.lat, a.lon, b.lat, b.lon, -31.0, 2.0)
    assert find_points("31S002E", demo_library, route)[0].from_route_nm == pytest.approx(abs(cross), abs=0.01)


@pytest.mark.parametrize("text", ["XYZZY", "95N010W", "", " ", "A" * 500, "31S"])
def test_what_is_no_point_is_said(demo_library: NavDatabase, text: str) -> None:
    assert find_points(text, demo_library, None) == ()
    assert describe_search(text, ()).startswith("Not found")
