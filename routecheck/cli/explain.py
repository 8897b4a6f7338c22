"""The command `routecheck explain`: what a check looks for, its limits, what it rests on."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from routecheck.cli.exit_codes import ExitCode
from routecheck.cli.parser import Parser, did_you_mean
from routecheck.cli.printing import print_text
from routecheck.faults import UsageError
from routecheck.report.explanation import explain_check, list_checks, read_catalogue

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from routecheck.report.explanation import CheckEntry

_EXAMPLES = """\
  routecheck explain
  routecheck explain dogleg off-airway
  routecheck explain --format json"""


def main(arguments: Sequence[str]) -> ExitCode:
    """Print the list of checks, or all about some of them."""
    given = make_parser().read(arguments)
    catalogue = read_catalogue()
    entries = [_find_check(name, catalogue) for name in given.checks] or list(catalogue.values())
    if given.format == "json":
        print_text(json.dumps(entries, indent=2) + "\n")
    elif given.checks:
        print_text("\n\n".join(explain_check(entry) for entry in entries))
    else:
        print_text(list_checks(entries))
    return ExitCode.DONE


def make_parser() -> Parser:
    """Make the parser of this command."""
    parser = Parser("routecheck explain", "What the checks look for, and why.", _EXAMPLES)
    parser.add_argument("checks", nargs="*", metavar="CHECK", help="names of checks; all are listed without any")
    parser.add_argument("--format", choices=("text", "json"), default="text", help="json: a list of objects")
    return parser


def _find_check(name: str, catalogue: Mapping[str, CheckEntry]) -> CheckEntry:
    if name in catalogue:
        return catalogue[name]
    hint = did_you_mean(name, catalogue) or "; routecheck explain lists them"
    raise UsageError(f"there is no check called “{name}”{hint}")
