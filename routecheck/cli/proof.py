"""The command `routecheck proof`: checks routes without a window."""

from __future__ import annotations

import gc
import sys
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from routecheck.cli.exit_codes import ExitCode, exit_code
from routecheck.cli.loading import load_database, load_users_settings, today_utc
from routecheck.cli.log import start_log
from routecheck.cli.parser import did_you_mean
from routecheck.cli.printing import (
    abandon_output,
    flush_output,
    is_terminal,
    print_complaint,
    print_text,
    wants_colour,
    write_to_file,
)
from routecheck.cli.progress import show_count
from routecheck.cli.proof_inputs import list_files, read_groups
from routecheck.cli.proof_options import make_parser, output_options
from routecheck.faults import UsageError
from routecheck.formatting import listing
from routecheck.pipeline import assess_many
from routecheck.report.output_formats import OUTPUT_FORMATS
from routecheck.report.run_summary import RunSummary

if TYPE_CHECKING:
    import argparse
    from collections.abc import Iterable, Iterator, Sequence

    from routecheck.model import Assessment
    from routecheck.settings import Settings


def main(arguments: Sequence[str]) -> ExitCode:
    """Check the routes given and print what there is to say about them."""
    given = make_parser().read(arguments)
    start_log()
    if not (given.files or given.demo or given.route is not None):
        raise UsageError("nothing to check: give a file, - for standard input, --route or --demo")
    files = list_files(given.files, quiet=given.quiet)  # what is missing is said before anything is printed
    database = load_database(given.navdata, demo=given.demo)
    settings = load_users_settings(quiet=given.quiet)
    _require_sheet(given.aircraft_sheet, settings)
    summary = RunSummary()
    day = given.date or today_utc()
    assessments: Iterator[Assessment] = (
        assessment
        for group in read_groups(given, files)
        for assessment in assess_many(summary.count_rows(group), database, settings, day)
    )
    if _is_progress_wanted(given):
        assessments = show_count(assessments, lambda: f"Checked {summary.routes:,} routes, {summary.wrong:,} Wrong")
    with collect_garbage_seldom():
        pieces = OUTPUT_FORMATS[given.format](summary.count(assessments), summary, output_options(given))
        _write_pieces(pieces, given)
    for sentence in summary.no_inputs:
        print_complaint(sentence)
    return exit_code(summary, given.fail_on or ("wrong",))


def _require_sheet(name: str | None, settings: Settings) -> None:
    """Complain of an Aircraft sheet that there is not. Raises UsageError."""
    if name and not settings.sheet(name):
        names = [sheet.name for sheet in settings.sheets]
        raise UsageError(
            f"there is no Aircraft sheet “{name}”{did_you_mean(name, names) or f'; there is {listing(names)}'}"
        )


def _is_progress_wanted(given: argparse.Namespace) -> bool:
    """Whether to say how far it is: on a terminal, unless the answers themselves come out there one by one."""
    is_held_back = given.output or (given.format == "text" and not given.all)
    return not given.quiet and is_terminal(sys.stderr) and bool(is_held_back or not is_terminal(sys.stdout))


def _write_pieces(pieces: Iterable[str], given: argparse.Namespace) -> None:
    """Write the output to where it was asked for."""
    if given.output:
        write_to_file(Path(given.output), pieces)
    elif given.quiet:
        for _ in pieces:
            pass
    else:
        _print_pieces(pieces, wants_colour(given.color) and given.format == "text")


def _print_pieces(pieces: Iterable[str], in_colour: bool) -> None:
    """Print as long as somebody reads. What was not checked then is not in the summary, and the exit code says so."""
    try:
        for piece in pieces:
            print_text(piece, in_colour=in_colour)
            flush_output()
    except BrokenPipeError:
        abandon_output()


@contextmanager
def collect_garbage_seldom() -> Iterator[None]:
    """Spare the garbage collector: the data stays, and assessing leaves no cycles (tests/test_pipeline.py)."""
    before = gc.get_threshold()
    gc.freeze()
    gc.set_threshold(100_000, 50, 50)
    try:
        yield
    finally:
        gc.set_threshold(*before)
        gc.unfreeze()
