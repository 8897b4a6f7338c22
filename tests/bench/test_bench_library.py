"""How long loading the whole-country file takes, against reading it line by line and slicing every field."""

import lzma
import pathlib
import time
from collections.abc import Callable

import pytest

from routecheck.library import gazetteer

# The fields of an enroute fix, a usual record: every column belongs to one.
ENDS = (1, 4, 6, 10, 12, 13, 18, 19, 21, 22, 26, 29, 30, 31, 32, 41, 51, 74, 79, 84, 87, 95, 98, 123, 128, 132)
FIELDS = tuple(zip((0, *ENDS), ENDS, strict=False))


@pytest.fixture(scope="module")
def plain(shared_data: pathlib.Path, tmp_path_factory: pytest.TempPathFactory) -> pathlib.Path:
    path = tmp_path_factory.mktemp("country") / "country.txt"
    path.write_bytes(lzma.decompress((shared_data / "faa_cifp_2301.txt.xz").read_bytes()))
    return path


def sliced(path: pathlib.Path) -> None:
    with path.open(encoding="latin-1") as lines:
        for line in lines:
            for start, end in FIELDS:
                line[start:end]


def best_of_three(work: Callable[[], object]) -> float:
    times = []
    for _ in range(3):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


@pytest.mark.bench
def test_loading_takes_at_most_five_times_the_slicing(
    plain: pathlib.Path, record_property: Callable[[str, object], None]
) -> None:
    bare = best_of_three(lambda: sliced(plain))
    loading = best_of_three(lambda: gazetteer.load([plain]))
    record_property("loading over slicing", loading / bare)
    assert loading <= 5 * bare, f"slicing {bare:.2f} s, loading {loading:.2f} s"
