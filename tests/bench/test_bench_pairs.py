"""500 pairs of programs that add a file of one name at once: pytest -m bench tests/bench/test_bench_pairs.py -s."""

import json
import subprocess
import sys

import pytest

pytestmark = pytest.mark.bench
PAIRS = 500


def test_500_pairs(tmp_path, root):
    program = root / "tests" / "pairs.py"
    done = subprocess.run(
        [sys.executable, str(program), str(tmp_path), str(PAIRS)], capture_output=True, text=True, check=False, cwd=root
    )
    assert done.returncode == 0, done.stderr
    faults = json.loads(done.stdout)
    print(f"\n{PAIRS} pairs: {len(faults)} faults", *faults[:10], sep="\n")
    assert faults == []
