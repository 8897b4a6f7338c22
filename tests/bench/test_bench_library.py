"""What loading, compiling and reopening the whole-country file cost, against reading it line by line and slicing it.

All figures of one run are printed as one table. Bounds, our choice: compiled within five times the slicing, reopened
within 0.3 s and 300 MB.
"""

import lzma
import pathlib
import random
import subprocess
import sys
import time
from collections.abc import Callable, Iterator

import pytest

from routecheck.navdata import store
from routecheck.navdata.database import NavDatabase, load_navdata

pytestmark = pytest.mark.bench

# The fields of an enroute fix, a usual record: every column belongs to one.
ENDS = (1, 4, 6, 10, 12, 13, 18, 19, 21, 22, 26, 29, 30, 31, 32, 41, 51, 74, 79, 84, 87, 95, 98, 123, 128, 132)
FIELDS = tuple(zip((0, *ENDS), ENDS, strict=False))
Say = Callable[[str, str], None]


@pytest.fixture(scope="module")
def plain(shared_data: pathlib.Path, tmp_path_factory: pytest.TempPathFactory) -> pathlib.Path:
    path = tmp_path_factory.mktemp("country") / "country.txt"
    path.write_bytes(lzma.decompress((shared_data / "faa_cifp_2301.txt.xz").read_bytes()))
    return path


@pytest.fixture(scope="module")
def say(request: pytest.FixtureRequest) -> Iterator[Say]:
    """Takes the rows of the table, which is printed when all is measured."""
    rows: list[tuple[str, str]] = []
    yield lambda what, figure: rows.append((what, figure))
    table = "".join(f"\n  {what:<64}{figure:>16}" for what, figure in rows)
    with request.config.pluginmanager.getplugin("capturemanager").global_and_fixture_disabled():
        sys.stdout.write(f"\nlibrary, whole-country file{table}\n")


@pytest.fixture(scope="module")
def bare(plain: pathlib.Path, say: Say) -> float:
    seconds = best_of_three(lambda: sliced(plain))
    say("reading line by line and slicing every field", f"{seconds:.2f} s")
    return seconds


@pytest.fixture(scope="module")
def added(plain: pathlib.Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """The whole-country file in a store of its own."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_DATA_HOME", str(tmp_path_factory.mktemp("user")))
        store.add_file(plain)
        yield


def sliced(path: pathlib.Path) -> None:
    with path.open(encoding="latin-1") as lines:
        for line in lines:
            for start, end in FIELDS:
                line[start:end]


def seconds_of(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def best_of_three(work: Callable[[], object]) -> float:
    return min(seconds_of(work) for _ in range(3))


def reopened() -> NavDatabase:
    database = store.open_store()
    assert database is not None
    return database


def test_loading_takes_at_most_five_times_the_slicing(plain: pathlib.Path, bare: float, say: Say) -> None:
    loading = best_of_three(lambda: load_navdata([plain]))
    say("loaded into memory, times the slicing", f"{loading / bare:.1f} x")
    assert loading <= 5 * bare, f"slicing {bare:.2f} s, loading {loading:.2f} s"


def test_compiling_takes_at_most_five_times_the_slicing(
    added: None, plain: pathlib.Path, bare: float, say: Say
) -> None:
    compiling = best_of_three(lambda: store.add_file(plain))
    say("added: read, copied, compiled, on the disk; times the slicing", f"{compiling / bare:.1f} x")
    size = sum(path.stat().st_size for path in store.folder().iterdir())
    say("on the disk", f"{size / 1e6:.1f} MB")
    assert compiling <= 5 * bare, f"slicing {bare:.2f} s, compiling {compiling:.2f} s"


def test_reopening_takes_at_most_a_third_of_a_second(added: None, say: Say) -> None:
    opening = best_of_three(reopened)
    with_names = best_of_three(lambda: "MERIT" in reopened().names())
    say("opened again", f"{opening * 1e3:.0f} ms")
    say("opened again and every name at hand", f"{with_names * 1e3:.0f} ms")
    assert with_names <= 0.3


_PEAK = """
import pathlib, re
from routecheck.navdata import store
from routecheck.navdata.coverage import RecordKind
def peak():
    return re.search(r"VmHWM:\\s+(\\d+) kB", pathlib.Path("/proc/self/status").read_text())[1]
before = peak()
library = store.open_store()
opened = peak()
for name in library.names():
    library.places(name)
for name in library.airway_names():
    library.airways(name)
list(library.places_within(0.0, 0.0, 11_000))
library.covers(RecordKind.FIX, 0.0, 0.0)
print(before, opened, peak())
"""


def test_the_peak_of_memory(added: None, say: Say) -> None:
    if not pathlib.Path("/proc/self/status").exists():
        pytest.skip("this system does not tell the peak of memory of one program")
    done = subprocess.run([sys.executable, "-c", _PEAK], capture_output=True, text=True, check=True)
    before, opened, all_asked = (int(figure) / 1024 for figure in done.stdout.split())
    say("peak memory before opening (the program itself)", f"{before:.0f} MB")
    say("peak memory with the store open", f"{opened:.0f} MB")
    say("peak memory after every name, airway and place was asked for", f"{all_asked:.0f} MB")
    assert opened <= 300
    assert all_asked <= 300


def test_names_and_neighbourhoods_are_quick(added: None, country: NavDatabase, say: Say) -> None:
    stored = reopened()
    names = stored.names()
    candidates = [*random.Random(1).sample(sorted(names), 15), *(f"QQ{n:03d}" for n in range(100))]
    member = best_of_three(lambda: [candidate in names for candidate in candidates])
    say("115 candidates looked up among the names", f"{member * 1e6:.0f} us")
    assert member < 100e-6
    cold = seconds_of(lambda: list(stored.places_within(40.6, -73.8, 60.0)))
    found = len(list(stored.places_within(40.6, -73.8, 60.0)))
    warm, in_memory = (best_of_three(lambda x=x: list(x.places_within(40.6, -73.8, 60.0))) for x in (stored, country))
    say(f"60 NM round New York ({found:,} places), first time", f"{cold * 1e3:.1f} ms")
    say("the same again", f"{warm * 1e3:.1f} ms")
    say("the same in memory", f"{in_memory * 1e3:.1f} ms")
    assert warm < 2 * in_memory


_BATCH = """
import csv, datetime as dt, pathlib, sys, time
from routecheck.pipeline import assess_many
from routecheck.navdata import store
from routecheck.navdata.database import NavDatabase, load_navdata
from routecheck.model import RouteInput
from routecheck.settings import Settings
day = dt.date(2023, 2, 1)
with open(sys.argv[1], encoding="utf-8") as rows:
    rows = csv.DictReader(rows)
    routes = [RouteInput(row["route"], row["departure"], row["destination"], off_block=day) for row in rows]
if sys.argv[2:]:
    loaded = load_navdata([pathlib.Path(sys.argv[2])])
    opened = lambda: NavDatabase(loaded.records, loaded.sources)
else:
    opened = store.open_store
def seconds():
    start = time.process_time()
    for _ in assess_many(routes, opened(), Settings(), day):
        pass
    return time.process_time() - start
seconds()  # the magnetic model and the world's airports are warm from here on
print(len(routes), min(seconds(), seconds()))
"""


def batch(*arguments: pathlib.Path) -> tuple[int, float]:
    """How many routes, and the processor time of assessing them: alone in a program, with nothing asked before."""
    call = [sys.executable, "-c", _BATCH, *map(str, arguments)]
    number, seconds = subprocess.run(call, capture_output=True, text=True, check=True).stdout.split()
    return int(number), float(seconds)


def test_a_batch_is_as_quick_from_the_store(
    added: None, plain: pathlib.Path, shared_data: pathlib.Path, say: Say
) -> None:
    routes = shared_data / "faa_preferred_routes_2023_part.csv"
    turns = [(batch(routes, plain), batch(routes)) for _ in range(2)]  # in turn: what else the machine does hits both
    number = turns[0][0][0]
    memory, fresh = (min(seconds for _, seconds in runs) for runs in zip(*turns, strict=True))
    say(f"{number:,} routes assessed, from files in memory", f"{memory:.2f} s")
    say("the same from a store just opened, opening included", f"{fresh:.2f} s")
    assert fresh < 1.15 * memory
