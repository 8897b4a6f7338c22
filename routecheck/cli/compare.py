"""The command `routecheck compare`: two versions of a route, point by point."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.cli.exit_codes import ExitCode
from routecheck.cli.loading import (
    choose_data,
    load_database,
    load_kept_known,
    load_users_settings,
    read_one_route,
    today_utc,
)
from routecheck.cli.log import start_log
from routecheck.cli.parser import Parser, parse_day
from routecheck.cli.printing import print_complaint, print_text
from routecheck.faults import UsageError
from routecheck.pipeline import assess
from routecheck.report.comparison import describe_comparison, format_comparison

if TYPE_CHECKING:
    from collections.abc import Sequence

_EXAMPLES = """\
  routecheck compare filed.route.toml cleared.route.toml
  routecheck compare filed.txt - --navdata FAACIFP18.zip --format json"""


def main(arguments: Sequence[str]) -> ExitCode:
    """Compare two versions and say what differs; they differ: exit code 1."""
    given = make_parser().read(arguments)
    start_log()
    if given.first == given.second == "-":
        raise UsageError("only one of the two can come from standard input")
    first, second = (read_one_route(name, given.date) for name in (given.first, given.second))
    database = load_database(choose_data(given.navdata, demo=given.demo))
    settings, day = load_users_settings(), given.date or today_utc()
    known = load_kept_known(database, day)
    answer = assess(replace(first, other=second), database, settings, day, known)
    if answer.comparison is None or answer.other is None:
        print_complaint(f"could not be compared: {answer.failure}")
        return ExitCode.OURS
    if given.format == "json":
        print_text(format_comparison(answer.comparison) + "\n")
    else:
        print_text(describe_comparison(answer.comparison, answer, answer.other))
    return ExitCode.WRONG if answer.comparison.differences else ExitCode.DONE


def make_parser() -> Parser:
    """Make the parser of this command."""
    parser = Parser("routecheck compare", "Name every difference between two versions of a route.", _EXAMPLES)
    parser.add_argument("first", metavar="FIRST", help="a file with the one version, as filed; - is standard input")
    parser.add_argument("second", metavar="SECOND", help="a file with the other version, as cleared or as entered")
    parser.add_argument("--demo", action="store_true", help="with the invented demo region")
    parser.add_argument("--navdata", action="append", default=[], metavar="FILE", help="navigation data for this run")
    what = "the day of the flight (UTC) where a version states none"
    parser.add_argument("--date", type=parse_day, metavar="2026-12-03", help=what)
    parser.add_argument("--format", choices=["text", "json"], default="text", help="json: one object")
    return parser
