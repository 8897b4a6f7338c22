"""A Dask cluster gives what one process gives; without one, or without the library, that is said."""

import sys

import pytest
from worklist_routes import GROUPS, ROUTES
from written_runs import DAY, write_run

from routecheck.faults import UsageError
from routecheck.navdata.choice import DataChoice
from routecheck.report.output_formats import OUTPUT_FORMATS
from routecheck.report.output_options import OutputOptions
from routecheck.report.run import Run
from routecheck.report.run_summary import RunSummary
from routecheck.settings import Settings
from routecheck.worklist.cluster import check_on_cluster
from routecheck.worklist.processes import Work

DEMO = DataChoice(demo=True)


def begun():
    run = Run(OUTPUT_FORMATS["jsonl"](OutputOptions()), RunSummary())
    return run, Work(data=DEMO, settings=Settings(), today=DAY, report=run.report)


@pytest.mark.slow
@pytest.mark.filterwarnings("ignore")  # of the cluster, not ours
def test_a_cluster_gives_the_answers_in_order():
    distributed = pytest.importorskip("distributed", reason="the extra [dask] is not installed")
    run, work = begun()
    with distributed.LocalCluster(
        n_workers=1,
        processes=False,
        threads_per_worker=1,
        host="127.0.0.1",
        protocol="tcp",
        dashboard_address="127.0.0.1:0",
    ) as cluster:
        answers = check_on_cluster(GROUPS, work, run, cluster.scheduler_address)
        written = "".join(run.write(answers, worst_first=False))
    assert (written, run.summary.routes) == (write_run(OUTPUT_FORMATS["jsonl"], ROUTES)[0], len(ROUTES))


@pytest.mark.slow
@pytest.mark.filterwarnings("ignore")
def test_an_address_that_is_none_is_said():
    pytest.importorskip("distributed", reason="the extra [dask] is not installed")
    run, work = begun()
    with pytest.raises(UsageError, match="there is no Dask cluster at nowhere"):
        list(check_on_cluster(GROUPS, work, run, "nowhere://x"))


def test_without_the_library_the_line_that_installs_it_is_said(monkeypatch):
    monkeypatch.setitem(sys.modules, "distributed", None)
    run, work = begun()
    with pytest.raises(UsageError, match=r"pip install 'routecheck\[dask\]'"):
        list(check_on_cluster(GROUPS, work, run, "tcp://127.0.0.1:8786"))


def test_packed_data_is_the_data_of_the_files(tmp_path):
    from routecheck.navdata.database import demo_database

    packed = DEMO.pack()
    assert packed.load().sources == demo_database().sources
