"""`routecheck` and `routecheck FILE`: opens the window. Qt is imported only here, and only when a window is wanted."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from routecheck import __version__
from routecheck.cli.exit_codes import ExitCode
from routecheck.cli.parser import Parser, did_you_mean
from routecheck.cli.window_libraries import require_libraries
from routecheck.faults import UsageError

if TYPE_CHECKING:
    from collections.abc import Sequence

_EXAMPLES = """\
  routecheck                                open the window on the last route (the demo at first start)
  routecheck plan.route.toml                open a route file
  routecheck routes.csv                     open many routes as a worklist; a folder too
  routecheck --navdata FAACIFP18.zip        with navigation data for this run
  routecheck proof --demo                   check without a window
  routecheck explain dogleg                 what a check looks for"""


COMMANDS = {
    "proof": "check routes without a window",
    "compare": "name every difference between two versions of a route",
    "export": "write one route as GPX, GeoJSON, CSV, PNG or SVG",
    "sheet": "write the review sheet of one route as PDF or HTML",
    "explain": "what a check looks for, and why",
    "navdata": "add, list and remove navigation data",
    "drill": "make training drills with planted entry errors, and mark them",
    "known": "add, list and remove known routes: collections of routes that you trust",
    "settings": "limits in force, Aircraft sheets, folders",
    "completion": "write what a shell needs to complete this command",
    "manual": "write the manual page",
}
"""Each has a module of its name here, which is imported when the command is called."""


def main(arguments: Sequence[str]) -> ExitCode:
    """Open the window on a file, on the demo, or on the last route."""
    if arguments and not arguments[0].startswith("-") and not Path(arguments[0]).exists():
        hint = did_you_mean(arguments[0], COMMANDS)
        raise UsageError(f"there is no file {arguments[0]}, and no command of that name{hint}")
    given = make_parser().read(arguments)
    for file in filter(None, [given.file, *given.navdata]):
        if not Path(file).exists():
            raise UsageError(f"there is no file {file}")
    from routecheck.cli.log import start_log
    from routecheck.gui import app

    start_log()
    app.require_display()
    require_libraries()
    app.run(given.file, given.navdata, given.demo)
    return ExitCode.DONE


def make_parser() -> Parser:
    """Make the parser of the window, which lists the commands too."""
    parser = Parser("routecheck", "The independent second reader of a flight-plan route.", _EXAMPLES)
    width = max(map(len, COMMANDS))
    commands = "\n".join(f"  {name.ljust(width)}  {what}" for name, what in COMMANDS.items())
    parser.epilog = f"commands (routecheck COMMAND --help tells more):\n{commands}\n\n{parser.epilog}"
    parser.add_argument("file", nargs="?", metavar="FILE", help="a file to open in the window, or a command")
    parser.add_argument("--demo", action="store_true", help="open the demo route on the invented demo region")
    parser.add_argument("--navdata", action="append", default=[], metavar="FILE", help="ARINC 424 navigation data")
    parser.add_argument("-V", "--version", action="version", version=f"routecheck {__version__}")
    return parser
