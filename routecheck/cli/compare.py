"""The command `routecheck compare`: two versions of a route, point by point."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from routecheck.cli.exit_codes import ExitCode
from routecheck.cli.loading import load_database, load_users_settings, read_bytes, today_utc
from routecheck.cli.log import start_log
from routecheck.cli.parser import Parser
from routecheck.cli.printing import print_text
from routecheck.compare.compare import compare_routes
from routecheck.faults import UsageError
from routecheck.pipeline import assess
from routecheck.reading.inputs import read_input
from routecheck.report.comparison import describe_comparison, format_comparison

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.model import RouteInput

_EXAMPLES = """\
  routecheck compare filed.route.toml cleared.route.toml
  routecheck compare filed.txt - --navdata FAACIFP18.zip --format json"""


def main(arguments: Sequence[str]) -> ExitCode:
    """Compare two versions and say what differs; they differ: exit code 1."""
    given = make_parser().read(arguments)
    start_log()
    if given.first == given.second == "-":
        raise UsageError("only one of the two can come from standard input")
    inputs = [_read_one(name) for name in (given.first, given.second)]
    database = load_database(given.navdata, demo=given.demo)
    settings, day = load_users_settings(), given.date or today_utc()
    first, second = (assess(route_input, database, settings, day) for route_input in inputs)
    if first.failure or second.failure:
        print_text(f"Could not be compared: {first.failure or second.failure}\n")
        return ExitCode.OURS
    found = compare_routes(first.route, second.route)
    if given.format == "json":
        print_text(format_comparison(found) + "\n")
    else:
        print_text(describe_comparison(found, first, second))
    return ExitCode.WRONG if found.differences else ExitCode.DONE


def _read_one(name: str) -> RouteInput:
    shown = "standard input" if name == "-" else name
    inputs = list(read_input(read_bytes(name), shown))
    if len(inputs) != 1:
        raise UsageError(f"{shown} holds {len(inputs)} routes; to compare, give one version in each of two files")
    if inputs[0].unread:
        raise UsageError(f"{shown} cannot be compared: {inputs[0].unread}")
    return inputs[0]


def make_parser() -> Parser:
    """Make the parser of this command."""
    parser = Parser("routecheck compare", "Name every difference between two versions of a route.", _EXAMPLES)
    parser.add_argument("first", metavar="FIRST", help="a file with the one version, as filed; - is standard input")
    parser.add_argument("second", metavar="SECOND", help="a file with the other version, as cleared or as entered")
    parser.add_argument("--demo", action="store_true", help="with the invented demo region")
    parser.add_argument("--navdata", action="append", default=[], metavar="FILE", help="navigation data for this run")
    parser.add_argument("--date", type=dt.date.fromisoformat, metavar="2026-12-03", help="the day of the flight (UTC)")
    parser.add_argument("--format", choices=["text", "json"], default="text")
    return parser
