"""The command `routecheck sheet`: the review sheet of one route, as PDF or as a page for a browser."""

from __future__ import annotations

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
from routecheck.cli.one_route import add_options, require_suffix, write_and_tell
from routecheck.cli.parser import Parser
from routecheck.cli.window_libraries import require_libraries
from routecheck.faults import UsageError
from routecheck.files import write_atomically
from routecheck.pipeline import assess

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
    path = require_suffix(given.output, _SUFFIXES)
    require_libraries()
    route_input = read_one_route(given.input, given.date)
    settings = load_users_settings()
    database = load_database(choose_data(given.navdata, demo=given.demo))
    day = given.date or today_utc()
    answer = assess(route_input, database, settings, day, load_kept_known(database, day))
    if answer.failure:
        raise UsageError(f"no sheet can be written: {answer.failure}")
    from routecheck.gui.review_sheet.drawing import make_pdf, make_sheet

    html, name = make_sheet(answer, settings)
    is_page = path.suffix.lower() == ".html"
    content = html.encode() if is_page else make_pdf(html, name, given.paper)
    write_and_tell(path, lambda file: write_atomically(file, content), answer)
    return ExitCode.DONE


def make_parser() -> Parser:
    """Make the parser of this command."""
    parser = Parser("routecheck sheet", "Write the review sheet of one route.", _EXAMPLES)
    add_options(parser, "ends in .pdf or .html")
    parser.add_argument("--paper", choices=("A4", "Letter"), default="A4", help="of a PDF (A4)")
    return parser
