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
    """Many mutations of a short text give the same: each different one is read once."""
    silent, crashes, longest, seen = [], Counter(), 0.0, set()
    begun = time.perf_counter()
    for seed in range(TRIED):
        tried = reader.mutate(seed)
        if tried in seen:
            continue
        seen.add(tried)
        start = time.process_time()
        try:
            if reader.is_silent(*tried):
                silent.append(tried)
        except Exception as error:
            crashes[f"{type(error).__name__}: {error}"[:80]] += 1
        longest = max(longest, time.process_time() - start)
    took = time.perf_counter() - begun
    with capsys.disabled():
        print(
            f"\n{reader.name}: {TRIED:,} mutations, {len(seen):,} different, {sum(crashes.values())} crashes, "
            f"longest {longest * 1000:.0f} ms, {len(silent)} silent passes, {took:.0f} s"
        )
        for before, after in silent[:20]:
            print(f"  {show_change(before, after)}")
    assert (crashes, silent) == ({}, [])
    assert longest < HANGS_S


def show_change(before, after):
    """What became of what, with some signs around it."""
    ends = [i for i, (one, other) in enumerate(zip(before, after, strict=False)) if one != other]
    at = max((ends or [min(len(before), len(after))])[0] - 12, 0)
    return f"{before[at : at + 40]!r} -> {after[at : at + 44]!r}"
