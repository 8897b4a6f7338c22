"""The command `routecheck export`: one route as GPX, GeoJSON, CSV, or its Picture as PNG or SVG."""

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
from routecheck.faults import UsageError
from routecheck.files import write_atomically
from routecheck.formatting import listing
from routecheck.pipeline import assess
from routecheck.report.exports import EXPORTS

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from routecheck.model import Assessment

_PICTURES = (".png", ".svg")
_EXAMPLES = """\
  routecheck export plan.route.toml -o plan.gpx --navdata FAACIFP18.zip
  routecheck export plan.route.toml -o plan.geojson
  routecheck export plan.route.toml -o plan.svg"""


def main(arguments: Sequence[str]) -> ExitCode:
    """Write the file, and say what stands over the route that is in it."""
    given = make_parser().read(arguments)
    start_log()
    path = require_suffix(given.output, (*EXPORTS, *_PICTURES))
    route_input = read_one_route(given.input, given.date)
    database = load_database(choose_data(given.navdata, demo=given.demo))
    day = given.date or today_utc()
    answer = assess(route_input, database, load_users_settings(), day, load_kept_known(database, day))
    if answer.failure:
        raise UsageError(f"nothing to export: {answer.failure}")
    write_and_tell(path, lambda file: _write(answer, file), answer)
    return ExitCode.DONE


def _write(answer: Assessment, path: Path) -> None:
    if export := EXPORTS.get(path.suffix.lower()):
        write_atomically(path, export.write(answer).encode())
        return
    from routecheck.gui.picture.export import export_picture

    export_picture(answer, path)


def make_parser() -> Parser:
    """Make the parser of this command."""
    parser = Parser("routecheck export", "Write one route to a file of an open standard.", _EXAMPLES)
    suffixes = listing([*EXPORTS, *_PICTURES], "or")
    add_options(parser, f"its suffix says what: {suffixes}")
    return parser
