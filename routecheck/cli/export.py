"""The command `routecheck export`: one route as GPX, GeoJSON, CSV, or its Picture as PNG or SVG."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from routecheck.cli.exit_codes import ExitCode
from routecheck.cli.loading import choose_data, load_database, load_users_settings, read_one_route, today_utc
from routecheck.cli.log import start_log
from routecheck.cli.parser import Parser, name_some, parse_day
from routecheck.cli.printing import print_text
from routecheck.faults import UsageError, system_reason
from routecheck.files import write_atomically
from routecheck.formatting import listing
from routecheck.pipeline import assess
from routecheck.presentation.headline import headline
from routecheck.report.exports import EXPORTS

if TYPE_CHECKING:
    from collections.abc import Sequence

_PICTURES = (".png", ".svg")
_EXAMPLES = """\
  routecheck export plan.route.toml -o plan.gpx --navdata FAACIFP18.zip
  routecheck export plan.route.toml -o plan.geojson
  routecheck export plan.route.toml -o plan.svg"""


def main(arguments: Sequence[str]) -> ExitCode:
    """Write the file, and say what stands over the route that is in it."""
    given = make_parser().read(arguments)
    start_log()
    path = Path(given.output)
    suffix = path.suffix.lower()
    if suffix not in (*EXPORTS, *_PICTURES):
        raise UsageError(f"“{path.suffix or path.name}” is none of {name_some([*EXPORTS, *_PICTURES], suffix)}")
    route_input = read_one_route(given.input)
    database = load_database(choose_data(given.navdata, demo=given.demo))
    answer = assess(route_input, database, load_users_settings(), given.date or today_utc())
    if answer.failure:
        raise UsageError(f"nothing to export: {answer.failure}")
    try:
        if suffix in EXPORTS:
            write_atomically(path, EXPORTS[suffix].write(answer).encode())
        else:
            from routecheck.gui.picture.export import export_picture

            export_picture(answer, path)
    except OSError as error:
        raise UsageError(f"{path} cannot be written: {system_reason(error)}") from None
    print_text(f"{path.name} is written. {headline(answer).sentence}\n")
    return ExitCode.DONE


def make_parser() -> Parser:
    """Make the parser of this command."""
    parser = Parser("routecheck export", "Write one route to a file of an open standard.", _EXAMPLES)
    parser.add_argument("input", metavar="INPUT", help="a file with one route; - is standard input")
    suffixes = listing([*EXPORTS, *_PICTURES], "or")
    parser.add_argument("-o", "--output", required=True, metavar="FILE", help=f"its suffix says what: {suffixes}")
    parser.add_argument("--demo", action="store_true", help="with the invented demo region")
    parser.add_argument("--navdata", action="append", default=[], metavar="FILE", help="navigation data for this run")
    parser.add_argument("--date", type=parse_day, metavar="2026-12-03", help="the day of the flight (UTC)")
    return parser
