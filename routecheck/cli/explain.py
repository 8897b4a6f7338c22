"""The command `routecheck explain`: what a check looks for, its limits, what it rests on."""

from __future__ import annotations

import difflib
from itertools import groupby
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import collect
from routecheck.cli.exit_codes import ExitCode
from routecheck.cli.parsing import Parser
from routecheck.cli.printing import print_text
from routecheck.report.explanation import explain_check
from routecheck.settings import UsageError

if TYPE_CHECKING:
    from collections.abc import Sequence

_EXAMPLES = """\
  routecheck explain
  routecheck explain dogleg"""


def main(arguments: Sequence[str]) -> ExitCode:
    """Print the list of checks, or all about one of them."""
    parser = Parser("routecheck explain", "What the checks look for, and why.", _EXAMPLES)
    parser.add_argument("check", nargs="?", metavar="CHECK", help="name of a check; all are listed without it")
    name = parser.parse_args(arguments).check
    print_text(_list_checks() if name is None else _explain(name))
    return ExitCode.DONE


def _list_checks() -> str:
    checks = collect()
    width = max(len(check.name) for check in checks)
    lines = []
    for family, members in groupby(checks, key=lambda check: check.family):
        lines += ["", family]
        lines += [f"  {check.name.ljust(width)}  {check.sentence}" for check in members]
    return "\n".join(lines).strip() + "\n"


def _explain(name: str) -> str:
    known = {check.name: check for check in collect()}
    if name in known:
        return explain_check(known[name])
    near = difflib.get_close_matches(name, known, n=3)
    hint = f" Did you mean {' or '.join(near)}?" if near else " See routecheck explain for the list."
    raise UsageError(f"there is no check called “{name}”.{hint}")
