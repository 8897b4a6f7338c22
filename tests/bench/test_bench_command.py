"""What it takes to start the command: processor time, the interpreter's own start included."""

import resource
import subprocess
import sys

import pytest

pytestmark = pytest.mark.bench

RUNS = 10
GOALS_S = {
    ("--version",): 0.15,
    ("--help",): 0.15,
    ("explain",): 0.15,
    ("explain", "dogleg"): 0.15,
    ("proof", "--demo"): 0.8,
}


def processor_time_s(*arguments):
    """User and system time of one run, the mean of ten."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    for _ in range(RUNS):
        subprocess.run([sys.executable, *arguments], capture_output=True, check=False)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return (after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime) / RUNS


def test_starting_the_command():
    print(f"\nbare Python {processor_time_s('-c', 'pass'):.3f} s")
    for arguments, goal_s in GOALS_S.items():
        seen_s = processor_time_s("-m", "routecheck", *arguments)
        print(f"routecheck {' '.join(arguments)}: {seen_s:.3f} s (goal {goal_s} s)")
        assert seen_s <= goal_s, arguments


def test_five_thousand_rows_are_a_few_screens(shared_data):
    given = (
        "proof", shared_data / "faa_preferred_routes_2023_part.csv", "--navdata", shared_data / "faa_cifp_2301.txt.xz",
        "--date", "2023-02-01",
    )  # fmt: skip
    done = subprocess.run(
        [sys.executable, "-m", "routecheck", *map(str, given)], capture_output=True, text=True, check=False
    )
    lines = done.stdout.splitlines()
    print(f"\n{len(lines)} lines for 5,025 rows")
    assert "5,025 rows read, 5,025 routes" in done.stdout
    assert len(lines) <= 500
