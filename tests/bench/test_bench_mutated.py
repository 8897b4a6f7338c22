"""A hundred thousand mutated inputs for each reader: how many were tried, crashed, hung, or passed in silence.

`pytest -m bench tests/bench/test_bench_mutated.py -s`; MUTATIONS=1000 in the environment tries fewer.
"""

import os
import time
from collections import Counter

import pytest
from mutated_plans import PLANS
from mutated_readers import READERS
from mutated_records import DATA_READERS
from mutated_results import RESULTS

pytestmark = pytest.mark.bench
TRIED = int(os.environ.get("MUTATIONS", "100_000"))
HANGS_S = 1.0


@pytest.mark.parametrize("reader", [*READERS, *PLANS, RESULTS, *DATA_READERS], ids=lambda reader: reader.name)
def test_nothing_crashes_hangs_or_passes_in_silence(reader, capsys):
    silent, crashes, longest = [], Counter(), 0.0
    begun = time.perf_counter()
    for seed in range(TRIED):
        start = time.process_time()
        try:
            found = reader.find_silent(seed)
        except Exception as error:
            crashes[f"{type(error).__name__}: {error}"[:80]] += 1
            continue
        longest = max(longest, time.process_time() - start)
        if found:
            silent.append(found)
    took = time.perf_counter() - begun
    with capsys.disabled():
        print(
            f"\n{reader.name}: {TRIED:,} inputs tried, {sum(crashes.values())} crashes, "
            f"longest {longest * 1000:.0f} ms, {len(silent)} silent passes, {took:.0f} s"
        )
        for _, changed in silent[:5]:
            print(f"  {changed!r}"[:300])
    assert (crashes, silent) == ({}, [])
    assert longest < HANGS_S
