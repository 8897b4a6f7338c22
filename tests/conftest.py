"""What every test may ask for: data, routes of the demo region, and one fixed hypothesis profile. No tests here."""

import datetime as dt
import pathlib
from collections.abc import Iterator

import pytest
from hypothesis import settings

from routecheck.geometry.legs import compute_routes
from routecheck.model import Place, PlaceKind, RouteInput
from routecheck.navdata.database import NavDatabase, demo_database, load_navdata
from routecheck.reading.route_text import read_route
from routecheck.resolution.resolve import resolve

ROOT = pathlib.Path(__file__).resolve().parents[1]
DAY = dt.date(2026, 12, 3)

settings.register_profile("house", deadline=None, max_examples=60, derandomize=True)
settings.load_profile("house")


def pytest_make_parametrize_id(val: object, argname: str) -> str | None:
    """Name a file's content by its length: a packed file holds the time of day, and two processes must agree."""
    return f"{argname} of {len(val)} bytes" if isinstance(val, bytes) else None


@pytest.fixture(scope="session", autouse=True)
def nothing_of_the_user(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Data, settings and logs go to a folder of this run: no test reads or writes the user's own."""
    folder = tmp_path_factory.mktemp("user")
    with pytest.MonkeyPatch.context() as patch:
        for name in ("XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME"):
            patch.setenv(name, str(folder / name.lower()))
        yield


@pytest.fixture(scope="session")
def root() -> pathlib.Path:
    """The top of the repository."""
    return ROOT


@pytest.fixture(scope="session")
def test_data(root: pathlib.Path) -> pathlib.Path:
    """The committed data of the tests."""
    return root / "tests" / "data"


@pytest.fixture(scope="session")
def shared_data(root: pathlib.Path) -> pathlib.Path:
    """The folder of large data beside the repository; the test is skipped, saying so, where there is none."""
    folder = root.parent / "shared" / "data"
    if not folder.is_dir():
        pytest.skip("no folder shared/data beside the repository: the large data is not committed")
    return folder


@pytest.fixture(scope="session")
def country(shared_data: pathlib.Path) -> NavDatabase:
    """The whole-country file, cycle 2301, read once."""
    return load_navdata([shared_data / "faa_cifp_2301.txt.xz"])


@pytest.fixture(scope="session")
def northeast(test_data: pathlib.Path) -> NavDatabase:
    """The committed excerpt of it: 36–44.5N 69–79W."""
    return load_navdata([test_data / "faa_cifp_2301_northeast.txt.xz"])


@pytest.fixture(scope="session")
def demo():
    return demo_database()


@pytest.fixture(scope="session")
def resolved(demo):
    """A route text to stops and links, by default from XVAL to XVOR on the demo region."""

    def made(route, departure="XVAL", destination="XVOR", *, database=demo, date=DAY):
        return resolve(read_route(RouteInput(route, departure, destination)), database, date)

    return made


@pytest.fixture(scope="session")
def flown(resolved):
    """The same to points, legs and totals."""

    def made(route, departure="XVAL", destination="XVOR", *, date=DAY, **more):
        return compute_routes([resolved(route, departure, destination, date=date, **more)], [date])[0]

    return made


@pytest.fixture(scope="session")
def spot():
    """A typed position as a place."""

    def made(lat, lon, ident=""):
        return Place(ident or f"{lat}/{lon}", lat, lon, PlaceKind.TYPED)

    return made
