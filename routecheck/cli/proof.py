"""The command `routecheck proof`: checks routes without a window."""

from __future__ import annotations

import argparse
import gc
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from routecheck.cli.exit_codes import FAIL_ON, ExitCode, exit_code
from routecheck.cli.loading import load_database, load_users_settings, read_bytes, today_utc
from routecheck.cli.log import start_log
from routecheck.cli.parser import Parser
from routecheck.cli.printing import abandon_output, flush_output, print_complaint, print_text
from routecheck.faults import UsageError
from routecheck.model import RouteInput
from routecheck.pipeline import assess_many
from routecheck.reading.input_fields import INPUT_FIELDS, InputField, is_given
from routecheck.reading.inputs import INPUT_FORMATS, read_input
from routecheck.reading.samples import read_demo_route
from routecheck.report.output_formats import OUTPUT_FORMATS
from routecheck.report.run_summary import RunSummary

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

_OPTIONS = tuple(field for field in INPUT_FIELDS if field.option)
_EXAMPLES = """\
  routecheck proof --demo
  routecheck proof plan.route.toml --navdata FAACIFP18.zip
  routecheck proof --route "N0430F350 LENDU DCT PIKAR UM12 TOVIK" --departure XVAL --destination XVOR
  routecheck proof routes.csv --navdata cifp.txt.xz --date 2026-12-03 --format jsonl
  cat route.txt | routecheck proof - --departure XVAL --destination XVOR"""


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
    settings = load_users_settings()
    summary = RunSummary()
    route_inputs = (_fill_in(route_input, given) for route_input in summary.count_rows(_read_inputs(given)))
    with collect_garbage_seldom():
        assessments = assess_many(route_inputs, database, settings, given.date or today_utc())
        _print_pieces(OUTPUT_FORMATS[given.format](summary.count(assessments), summary))
    for sentence in summary.no_inputs:
        print_complaint(sentence)
    return exit_code(summary, given.fail_on or ("wrong",))


def _print_pieces(pieces: Iterable[str]) -> None:
    """Print as long as somebody reads. What was not checked then is not in the summary, and the exit code says so."""
    try:
        for piece in pieces:
            print_text(piece)
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
    for name in given.files:
        yield from read_input(read_bytes(name), "standard input" if name == "-" else name, given.kind)


def _fill_in(route_input: RouteInput, given: argparse.Namespace) -> RouteInput:
    """Fill in what the command line gives where the input says nothing."""
    values = {
        field.name: value
        for field in _OPTIONS
        if (value := getattr(given, field.name)) is not None and not is_given(route_input, field)
    }
    return replace(route_input, **values) if values else route_input


def make_parser() -> Parser:
    """Make the parser of this command."""
    parser = Parser("routecheck proof", "Check routes without a window. A cross-check aid only.", _EXAMPLES)
    parser.add_argument(
        "files", nargs="*", metavar="FILE", help="route file, CSV rows or route text; - is standard input"
    )
    parser.add_argument(
        "--kind",
        choices=[one.name for one in INPUT_FORMATS],
        help="what the files are, where the content does not tell",
    )
    parser.add_argument("--demo", action="store_true", help="the demo route, with its one planted entry error")
    parser.add_argument("--route", metavar="TEXT", help="one route as text")
    for field in _OPTIONS:
        _add_field_option(parser, field)
    parser.add_argument("--navdata", action="append", default=[], metavar="FILE", help="ARINC 424 navigation data")
    parser.add_argument("--format", choices=OUTPUT_FORMATS, default=next(iter(OUTPUT_FORMATS)))
    when = "; ".join(f"{name}: {when}" for name, when in FAIL_ON.items())
    parser.add_argument(
        "--fail-on", choices=FAIL_ON, action="append", help=f"when to end with exit code 1 (may be repeated). {when}"
    )
    parser.add_argument("--jobs", type=_parse_jobs, default=1, metavar="N", help="processes (this version uses one)")
    return parser


def _add_field_option(parser: Parser, field: InputField) -> None:
    """Add the option that gives a value beside the route; a text that cannot be read is a complaint."""

    def read(text: str) -> object:
        value, why = field.kind.read_text(text)
        if why:
            raise argparse.ArgumentTypeError(why.rstrip("."))
        return value

    metavar = "|".join(field.kind.choices[1:]) or field.example
    parser.add_argument(field.option_name, type=read, metavar=metavar, help=field.option)


def _parse_jobs(text: str) -> int:
    if text.isdecimal() and int(text) > 0:
        return int(text)
    raise argparse.ArgumentTypeError(f"“{text}” is no number of processes")
