"""Two programs that add a file of one name at once: one of the two stays, whole, and what was there before it."""

import json
import pathlib
import subprocess
import sys


def test_some_pairs_lose_nothing(tmp_path: pathlib.Path, root: pathlib.Path) -> None:
    program = root / "tests" / "pairs.py"
    done = subprocess.run(
        [sys.executable, str(program), str(tmp_path), "9"], capture_output=True, text=True, check=False, cwd=root
    )
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout) == []
