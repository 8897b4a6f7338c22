"""The command `routecheck sheet`: the review sheet of one route, as PDF or as a page for a browser."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from routecheck.cli.exit_codes import ExitCode
from routecheck.cli.loading import (
    choose_data,
    choose_known,
    load_database,
    load_known,
    load_users_settings,
    read_one_route,
    today_utc,
)
from routecheck.cli.log import start_log
from routecheck.cli.parser import Parser, name_some, parse_day
from routecheck.cli.printing import print_text
from routecheck.cli.window_libraries import require_libraries
from routecheck.faults import UsageError, system_reason
from routecheck.files import write_atomically
from routecheck.pipeline import assess
from routecheck.presentation.headline import headline

if TYPE_CHECKING:
    from collections.abc import Sequence

_SUFFIXES = (".pdf", ".html")
_EXAMPLES = """\
  routecheck sheet plan.route.toml -o plan.pdf
  routecheck sheet plan.route.toml -o plan.pdf --paper Letter --navdata FAACIFP18.zip
  routecheck sheet plan.route.toml -o plan.html"""


def main(arguments: Sequence[str]) -> ExitCode:
    """Write the sheet, and say what stands at its head."""
    given = make_parser().read(arguments)
    start_log()
    path = Path(given.output)
    suffix = path.suffix.lower()
    if suffix not in _SUFFIXES:
        raise UsageError(f"“{path.suffix or path.name}” is none of {name_some([*_SUFFIXES], suffix)}")
    require_libraries()
    route_input = read_one_route(given.input)
    settings = load_users_settings()
    database = load_database(choose_data(given.navdata, demo=given.demo))
    day = given.date or today_utc()
    answer = assess(route_input, database, settings, day, load_known(choose_known(()), database, day))
    if answer.failure:
        raise UsageError(f"no sheet can be written: {answer.failure}")
    from routecheck.gui.review_sheet.drawing import make_pdf, make_sheet

    html, name = make_sheet(answer, settings)
    try:
        write_atomically(path, html.encode() if suffix == ".html" else make_pdf(html, name, given.paper))
    except OSError as error:
        raise UsageError(f"{path} cannot be written: {system_reason(error)}") from None
    print_text(f"{path.name} is written. {headline(answer).sentence}\n")
    return ExitCode.DONE


def make_parser() -> Parser:
    """Make the parser of this command."""
    parser = Parser("routecheck sheet", "Write the review sheet of one route.", _EXAMPLES)
    parser.add_argument("input", metavar="INPUT", help="a file with one route; - is standard input")
    parser.add_argument("-o", "--output", required=True, metavar="FILE", help="ends in .pdf or .html")
    parser.add_argument("--paper", choices=("A4", "Letter"), default="A4", help="of a PDF (A4)")
    parser.add_argument("--demo", action="store_true", help="with the invented demo region")
    parser.add_argument("--navdata", action="append", default=[], metavar="FILE", help="navigation data for this run")
    parser.add_argument("--date", type=parse_day, metavar="2026-12-03", help="the day of the flight (UTC)")
    return parser
