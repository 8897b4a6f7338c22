"""Many routes: what several processes gain, that memory does not grow with the rows, and a cluster of two workers.

Bounds: with two processes 5,025 rows 1.25 times, 50,250 rows 1.6 times as quick as with one (on two quiet cores).
"""

import csv
import os
import subprocess
import sys
import time

import pytest

pytestmark = pytest.mark.bench


@pytest.fixture(scope="module")
def environment(shared_data, tmp_path_factory):
    """An environment in which the whole-country file was added."""
    folder = tmp_path_factory.mktemp("user")
    env = {**os.environ, "XDG_DATA_HOME": str(folder), "XDG_CONFIG_HOME": str(folder)}
    add = [sys.executable, "-m", "routecheck", "navdata", "add", str(shared_data / "faa_cifp_2301.txt.xz")]
    subprocess.run(add, env=env, check=True, capture_output=True)
    return env


@pytest.fixture(scope="module")
def table(shared_data, tmp_path_factory):
    """The published routes once, ten and twenty times over."""
    folder = tmp_path_factory.mktemp("rows")
    with (shared_data / "faa_preferred_routes_2023_part.csv").open() as file:
        head, *rows = csv.reader(file)
    for times in (1, 10, 20):
        with (folder / f"{times}.csv").open("w", newline="") as file:
            csv.writer(file).writerows([head, *rows * times])
    return folder


def proof(env, rows, out, *options):
    """Seconds, and the megabytes of the largest process of this run."""
    command = [sys.executable, "-m", "routecheck", "proof", str(rows), "--date", "2023-02-01", "--format", "jsonl"]
    start = time.perf_counter()
    with out.open("w") as file:
        started = subprocess.Popen([*command, *options], env=env, stdout=file, stderr=subprocess.DEVNULL)
        _, status, usage = os.wait4(started.pid, 0)
    started.returncode = os.waitstatus_to_exitcode(status)
    assert started.returncode == 1
    return time.perf_counter() - start, usage.ru_maxrss / 1024


@pytest.mark.parametrize(("times", "least"), [(1, 1.25), (10, 1.6)])
def test_two_processes_against_one(environment, table, tmp_path, times, least):
    one, _ = proof(environment, table / f"{times}.csv", tmp_path / "one")
    two, _ = proof(environment, table / f"{times}.csv", tmp_path / "two", "--jobs", "2")
    print(f"\n{5025 * times:,} rows: {one:.1f} s with one process, {two:.1f} s with two, {one / two:.2f} × as quick")
    assert (tmp_path / "one").read_bytes() == (tmp_path / "two").read_bytes()
    assert one / two >= least


def test_memory_does_not_grow_with_the_rows(environment, table, tmp_path):
    _, few = proof(environment, table / "1.csv", tmp_path / "out", "--jobs", "2")
    took, many = proof(environment, table / "20.csv", tmp_path / "out", "--jobs", "2")
    print(f"\nlargest process: {few:.0f} MB with 5,025 rows, {many:.0f} MB with 100,500 rows ({took:.0f} s)")
    assert many < 1.25 * few


@pytest.mark.filterwarnings("ignore")
def test_a_local_cluster_of_two_workers(environment, table, tmp_path):
    distributed = pytest.importorskip("distributed", reason="the extra [dask] is not installed")
    one, _ = proof(environment, table / "1.csv", tmp_path / "one")
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, host="127.0.0.1", dashboard_address="127.0.0.1:0"
    ) as cluster:
        address = cluster.scheduler_address
        first, _ = proof(environment, table / "1.csv", tmp_path / "first", "--dask", address)
        again, _ = proof(environment, table / "10.csv", tmp_path / "again", "--dask", address)
    print(f"\n5,025 rows: {one:.1f} s here, {first:.1f} s there (data sent and read); 50,250 rows {again:.1f} s")
    assert (tmp_path / "one").read_bytes() == (tmp_path / "first").read_bytes()
