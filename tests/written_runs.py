"""Whole runs over the demo region, written in one go."""

import datetime as dt

from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess_many
from routecheck.report.output_options import EVERYTHING
from routecheck.report.run import Run
from routecheck.report.run_summary import RunSummary
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)


def write_run(make_report, route_inputs, options=EVERYTHING, database=None):
    """What is written, and the summary."""
    run = Run(make_report(options), RunSummary())
    beginning = run.report.begin(route_inputs[: run.report.looks_ahead])
    assessments = assess_many(run.summary.count_rows(route_inputs), database or demo_database(), Settings(), DAY)
    written = run.write(run.add(assessments), worst_first=options.worst_first)
    return beginning + "".join(written), run.summary


def assess_on_demo(route_inputs):
    """The answers about some routes of the demo region."""
    return list(assess_many(route_inputs, demo_database(), Settings(), DAY))
