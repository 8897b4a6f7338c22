"""Several processes write what one writes, in the same order; what goes wrong in one of them is said."""

import os
import pickle

import pytest
from worklist_routes import GROUPS, ROUTES
from written_runs import DAY, write_run

from routecheck.faults import DataError, LostProcessError
from routecheck.navdata.choice import DataChoice
from routecheck.report.output_formats import OUTPUT_FORMATS
from routecheck.report.output_options import OutputOptions
from routecheck.report.run import Run
from routecheck.report.run_summary import RunSummary
from routecheck.settings import Settings
from routecheck.worklist.processes import Work, check_group, check_in_processes

DEMO = DataChoice(demo=True)


def begun(name, options=None):
    report = OUTPUT_FORMATS[name](options or OutputOptions())
    return Run(report, RunSummary()), report.begin(ROUTES[: report.looks_ahead])


def work(run, data=DEMO):
    return Work(data=data, settings=Settings(), today=DAY, report=run.report)


def merged(name, options):
    run, beginning = begun(name, options)
    given = work(run)
    answers = []
    for group in GROUPS:
        part, of_group = pickle.loads(pickle.dumps(check_group(given, pickle.loads(pickle.dumps(group)))))
        run.merge(part)
        answers += of_group
    run.summary.rows = len(ROUTES)  # they are counted as they are read
    return beginning + "".join(run.write(answers, worst_first=options.worst_first)), run.summary


@pytest.mark.parametrize("options", [OutputOptions(), OutputOptions(every_route=True, worst_first=True)])
@pytest.mark.parametrize("name", OUTPUT_FORMATS)
def test_a_run_in_parts_is_written_as_in_one(name, options):
    assert merged(name, options) == write_run(OUTPUT_FORMATS[name], ROUTES, options)


@pytest.mark.slow
def test_two_processes_give_the_answers_in_order():
    run, beginning = begun("jsonl")
    written = beginning + "".join(run.write(check_in_processes(GROUPS, work(run), run, 2), worst_first=False))
    assert (written, run.summary.routes) == (write_run(OUTPUT_FORMATS["jsonl"], ROUTES)[0], 12)


@pytest.mark.slow
def test_data_that_a_process_cannot_load_is_said(tmp_path):
    bad = tmp_path / "bad.txt"
    bad.write_text("no records")
    run, _ = begun("jsonl")
    with pytest.raises(DataError, match=r"bad\.txt") as caught:
        list(check_in_processes(GROUPS, work(run, DataChoice((str(bad),))), run, 1))
    assert caught.value.file.endswith("bad.txt")


@pytest.mark.slow
def test_a_process_that_is_ended_from_outside_is_said():
    run, _ = begun("jsonl")
    with pytest.raises(LostProcessError, match="ended from outside, after 0 routes"):
        list(check_in_processes([[_Deadly()]], work(run), run, 1))


class _Deadly:
    """Ends the process that unpacks it."""

    def __reduce__(self):
        return os._exit, (1,)
