"""What the commands share that write one route to a file: their options, and the file itself."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from routecheck.cli.parser import name_some, parse_day
from routecheck.cli.printing import print_text
from routecheck.faults import UsageError, system_reason
from routecheck.presentation.headline import headline

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from routecheck.cli.parser import Parser
    from routecheck.model import Assessment


def add_options(parser: Parser, output_help: str) -> None:
    """Add the route, the file to write, and what it is checked with."""
    parser.add_argument("input", metavar="INPUT", help="a file with one route; - is standard input")
    parser.add_argument("-o", "--output", required=True, metavar="FILE", help=output_help)
    parser.add_argument("--demo", action="store_true", help="with the invented demo region")
    parser.add_argument("--navdata", action="append", default=[], metavar="FILE", help="navigation data for this run")
    what = "the day of the flight (UTC) where the input states none"
    parser.add_argument("--date", type=parse_day, metavar="2026-12-03", help=what)


def require_suffix(output: str, suffixes: Sequence[str]) -> Path:
    """The file to write. Raises UsageError where its suffix is none of these."""
    path = Path(output)
    suffix = path.suffix.lower()
    if suffix not in suffixes:
        raise UsageError(f"“{path.suffix or path.name}” is none of {name_some([*suffixes], suffix)}")
    return path


def write_and_tell(path: Path, write: Callable[[Path], None], answer: Assessment) -> None:
    """Write the file, and say what stands over the route that is in it. Raises UsageError where that cannot be done."""
    try:
        write(path)
    except OSError as error:
        raise UsageError(f"{path} cannot be written: {system_reason(error)}") from None
    print_text(f"{path.name} is written. {headline(answer).sentence}\n")
