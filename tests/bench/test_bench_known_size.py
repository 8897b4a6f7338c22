"""A million known routes: opening, memory, a look-up. pytest -m bench tests/bench/test_bench_known_size.py -s."""

import random
import subprocess
import sys
import time

import pytest

from routecheck.known.collection import About, KnownRow, compile_collection, open_collection

ROUTES = 1_000_000
pytestmark = pytest.mark.bench


def synthetic_rows(number, seed=1):
    """Routes as an airline's would be: hubs, a few thousand points, each with some ten ways on."""
    rng = random.Random(seed)
    names = ["".join(rng.choices("ABCDEFGHIJKLMNOPQRSTUVWXYZ", k=5)) for _ in range(20_000)]
    airports = ["".join(rng.choices("ABCDEFGHIJKLMNOPQRSTUVWXYZ", k=4)) for _ in range(600)]
    onward = {name: rng.choices(names, k=10) for name in names}
    for line in range(number):
        words = [rng.choice(names)]
        for _ in range(rng.randrange(3, 10)):
            words.append(rng.choice(onward[words[-1]]))
        text = " ".join(words)
        yield KnownRow(
            departure=rng.choice(airports), destination=rng.choice(airports), words=text, text=text, line=line
        )


@pytest.fixture(scope="module")
def image(tmp_path_factory):
    start = time.perf_counter()
    collection = compile_collection(
        synthetic_rows(ROUTES), lambda routes: About(name="million.csv", routes=routes), lambda _share: None
    )
    path = tmp_path_factory.mktemp("known") / "million.known"
    path.write_bytes(collection.serialize())
    print(f"\ncompiled {collection.about.routes:,} routes in {time.perf_counter() - start:.0f} s")
    print(f"{path.stat().st_size / 1e6:.0f} MB on disk")
    collection.close()
    return path


def test_a_million_open_at_once_and_answer_at_once(image):
    start = time.perf_counter()
    collection = open_collection(image.as_uri())
    opened = time.perf_counter() - start
    rows = list(synthetic_rows(2_000, seed=1))
    pairs = [pair for row in rows for pair in zip(row.words.split(), row.words.split()[1:], strict=False)]
    start = time.perf_counter()
    found = sum(collection.count_pair(*pair) > 0 for pair in pairs)
    pair_us = (time.perf_counter() - start) / len(pairs) * 1e6
    triples = [(a, c) for row in rows for a, _, c in zip(*(row.words.split()[i:] for i in range(3)), strict=False)]
    start = time.perf_counter()
    between = sum(bool(collection.words_between(*two)) for two in triples)
    triple_us = (time.perf_counter() - start) / len(triples) * 1e6
    print(f"opened in {opened * 1000:.1f} ms; a pair {pair_us:.1f} µs, the words between two {triple_us:.1f} µs")
    assert found == len(pairs)
    assert between == len(triples)
    assert opened <= 0.5
    assert pair_us <= 20.0
    assert triple_us <= 20.0


def test_a_million_need_little_memory(image):
    """Measured in a process of its own, after ten thousand look-ups, against one that only imports."""
    code = f"""if True:
        import resource, sys
        from routecheck.known.collection import open_collection
        before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        collection = open_collection({image.as_uri()!r})
        for n in range(10_000):
            collection.words_between(str(n), str(n + 1)); collection.count_pair(str(n), str(n))
        print((resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) / 1024)
    """
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    print(f"{float(done.stdout):.0f} MB more than the imports alone")
    assert float(done.stdout) <= 200.0
