"""`routecheck` and `routecheck FILE`: opens the window. Qt is imported only here, and only when a window is wanted."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from routecheck import __version__
from routecheck.cli.exit_codes import ExitCode
from routecheck.cli.log import start_log
from routecheck.cli.parsing import Parser
from routecheck.settings import UsageError

if TYPE_CHECKING:
    from collections.abc import Sequence

_EXAMPLES = """\
  routecheck                                open the window on the last route (the demo at first start)
  routecheck plan.route.toml                open a route file
  routecheck --navdata FAACIFP18.zip        with navigation data for this run
  routecheck proof --demo                   check without a window
  routecheck explain dogleg                 what a check looks for"""


def main(arguments: Sequence[str]) -> ExitCode:
    """Open the window on a file, on the demo, or on the last route."""
    parser = Parser("routecheck", "The independent second reader of a flight-plan route.", _EXAMPLES)
    parser.add_argument("file", nargs="?", metavar="FILE", help="a file to open; or a command: proof, explain, navdata")
    parser.add_argument("--demo", action="store_true", help="open the demo route on the invented demo region")
    parser.add_argument("--navdata", action="append", default=[], metavar="FILE", help="ARINC 424 navigation data")
    parser.add_argument("--version", action="version", version=f"routecheck {__version__}")
    given = parser.parse_args(arguments)
    for file in filter(None, [given.file, *given.navdata]):
        if not Path(file).exists():
            raise UsageError(
                f"there is no file {file}" + (", and no command of that name" if file == given.file else "")
            )
    from routecheck.gui import app

    start_log()
    app.run(given.file, given.navdata, given.demo)
    return ExitCode.DONE
