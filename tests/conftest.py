"""What every test may ask for: data, routes of the demo region, one fixed hypothesis profile, the mark `fast`."""

import csv
import datetime as dt
import gc
import pathlib
import sys
from collections.abc import Iterator

import byte_code  # noqa: F401
import pytest
from hypothesis import settings

from routecheck.garbage import collect_garbage_seldom
from routecheck.geometry.legs import compute_routes
from routecheck.model import Assessment, Place, PlaceKind, RouteInput
from routecheck.navdata.database import NavDatabase, demo_database, load_navdata
from routecheck.pipeline import assess_many
from routecheck.reading.route_text import read_route
from routecheck.resolution.resolve import resolve
from routecheck.settings import Settings

ROOT = pathlib.Path(__file__).resolve().parents[1]
DAY = dt.date(2026, 12, 3)
FLOWN = dt.date(2023, 2, 1)
"""Inside cycle 2301, from which the data of the country is."""

settings.register_profile("house", deadline=None, max_examples=60, derandomize=True)
settings.load_profile("house")
settings.register_profile("fast", parent=settings.get_profile("house"), max_examples=15)
"""For `pytest -m fast`, which is run after every few lines; the whole suite draws them all."""


SLOW_FOLDERS = {"gui", "bench"}
SLOW_MODULES = {"subprocess", "multiprocessing"}
SLOW_FIXTURES = {"shared_data", "test_data", "process"}
REAL_DATA = (str(ROOT / "tests" / "data"), str(ROOT.parent / "shared"))
STARTS_A_PROCESS = {"subprocess.Popen", "os.fork", "os.forkpty", "os.posix_spawn", "os.system"}
WATCHED = {"fast": False}


@pytest.hookimpl(tryfirst=True)
def pytest_cmdline_main(config: pytest.Config) -> None:
    """Measure without a second process beside it."""
    if config.option.markexpr == "bench":
        config.option.numprocesses = 0


def pytest_configure(config: pytest.Config) -> None:
    """Draw fewer examples where only what is fast is run; collect garbage seldom, as the data stays to the end."""
    gc.set_threshold(10_000, 20, 20)
    if config.option.markexpr == "fast":
        settings.load_profile("fast")


def pytest_ignore_collect(collection_path: pathlib.Path, config: pytest.Config) -> bool | None:
    """Where only what is fast is run, do not even import what never is: Qt takes as long as a hundred tests."""
    return True if config.option.markexpr == "fast" and collection_path.name in SLOW_FOLDERS else None


def is_fast(item: pytest.Function) -> bool:
    """Whether a test needs no Qt, no real data, no other process and no clock, as far as can be seen from outside."""
    return not (
        SLOW_FOLDERS & set(item.path.relative_to(ROOT).parts)
        or SLOW_FIXTURES & set(item.fixturenames)
        or SLOW_MODULES & set(vars(item.module))
        or "time" in item.function.__code__.co_names
        or item.get_closest_marker("real_data")
        or item.get_closest_marker("slow")
    )


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Function]) -> None:
    """Mark what is fast before tests are chosen by marks. Tests on the whole country come first, in one process."""
    for item in items:
        if is_fast(item):
            item.add_marker(pytest.mark.fast)
    items.sort(key=lambda item: "country" not in item.fixturenames)


@pytest.hookimpl(hookwrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Iterator[None]:
    """Hold a test to its mark: one that is marked fast and starts a process or reads real data fails."""
    WATCHED["fast"] = item.get_closest_marker("fast") is not None
    yield
    WATCHED["fast"] = False


def hold_to_the_mark(event: str, arguments: tuple[object, ...]) -> None:
    """Raise in a fast test that does what only others may do."""
    if not WATCHED["fast"]:
        return
    if event in STARTS_A_PROCESS or (event == "open" and str(arguments[0]).startswith(REAL_DATA)):
        raise AssertionError(f"a test marked fast must not do this: {event} {arguments[0]}")
    if event == "import" and str(arguments[0]).partition(".")[0] == "PySide6":
        raise AssertionError("a test marked fast must not load Qt")
    if event == "import" and str(arguments[0]).startswith("multiprocessing.popen"):
        raise AssertionError("a test marked fast must not start processes")


sys.addaudithook(hold_to_the_mark)


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
def published(shared_data: pathlib.Path) -> list[RouteInput]:
    """The 5,025 published routes."""
    with (shared_data / "faa_preferred_routes_2023_part.csv").open(encoding="utf-8") as file:
        rows = csv.DictReader(file)
        return [RouteInput(row["route"], row["departure"], row["destination"], off_block=FLOWN) for row in rows]


@pytest.fixture(scope="session")
def assessed(country: NavDatabase, published: list[RouteInput]) -> list[Assessment]:
    """Their assessments, made once."""
    with collect_garbage_seldom():
        return list(assess_many(published, country, Settings(), dt.date(2026, 11, 25)))


@pytest.fixture(scope="session")
def northeast(test_data: pathlib.Path) -> NavDatabase:
    """The committed excerpt of it: 36–44.5N 69–79W."""
    return load_navdata([test_data / "faa_cifp_2301_northeast.txt.xz"])


@pytest.fixture(scope="session")
def demo():
    return demo_database()


@pytest.fixture(scope="session")
def resolved(demo):
    """A route text resolved, by default from XVAL to XVOR on the demo region."""

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
