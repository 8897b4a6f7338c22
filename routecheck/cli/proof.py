"""The command `routecheck proof`: checks routes without a window."""

from __future__ import annotations

import gc
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from routecheck.cli.exit_codes import ExitCode, exit_code
from routecheck.cli.loading import load_database, load_users_settings, read_bytes, today_utc
from routecheck.cli.log import start_log
from routecheck.cli.parser import did_you_mean
from routecheck.cli.printing import (
    abandon_output,
    flush_output,
    print_complaint,
    print_text,
    wants_colour,
    write_to_file,
)
from routecheck.cli.proof_options import FIELD_OPTIONS, make_parser, output_options
from routecheck.faults import UsageError
from routecheck.formatting import listing
from routecheck.model import RouteInput
from routecheck.pipeline import assess_many
from routecheck.reading.input_fields import is_given
from routecheck.reading.input_format import ReadingChoices
from routecheck.reading.inputs import read_input
from routecheck.reading.samples import read_demo_route
from routecheck.report.output_formats import OUTPUT_FORMATS
from routecheck.report.run_summary import RunSummary

if TYPE_CHECKING:
    import argparse
    from collections.abc import Iterable, Iterator, Sequence

    from routecheck.settings import Settings


def main(arguments: Sequence[str]) -> ExitCode:
    """Check the routes given and print what there is to say about them."""
    given = make_parser().read(arguments)
    start_log()
    if not (given.files or given.demo or given.route is not None):
        raise UsageError("nothing to check: give a file, - for standard input, --route or --demo")
    for name in given.files:
        if name != "-" and not Path(name).exists():  # said before anything is printed
            raise UsageError(f"there is no file {name}")
    database = load_database(given.navdata, demo=given.demo)
    settings = load_users_settings(quiet=given.quiet)
    _require_sheet(given.aircraft_sheet, settings)
    summary = RunSummary()
    route_inputs = (_fill_in(route_input, given) for route_input in summary.count_rows(_read_inputs(given)))
    with collect_garbage_seldom():
        assessments = assess_many(route_inputs, database, settings, given.date or today_utc())
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


def _read_inputs(given: argparse.Namespace) -> Iterator[RouteInput]:
    if given.demo:
        yield read_demo_route()
    if given.route is not None:
        yield RouteInput(route=given.route)
    choices = ReadingChoices(columns=given.columns, group=given.group)
    for name in given.files:
        yield from read_input(read_bytes(name), "standard input" if name == "-" else name, given.kind, choices)


def _fill_in(route_input: RouteInput, given: argparse.Namespace) -> RouteInput:
    """Fill in what the command line gives where the input says nothing."""
    values = {
        field.name: value
        for field in FIELD_OPTIONS
        if (value := getattr(given, field.name)) is not None and not is_given(route_input, field)
    }
    return replace(route_input, **values) if values else route_input
