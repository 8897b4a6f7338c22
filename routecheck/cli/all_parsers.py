"""The parsers of all commands, for what is made from them: completion and the manual page."""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING

from routecheck.cli.window import COMMANDS, make_parser

if TYPE_CHECKING:
    from routecheck.cli.parser import Parser


def make_all_parsers() -> dict[str, Parser]:
    """The parser of each command by its name, "navdata add" included; "" is the window."""
    parsers = {"": make_parser()}
    for name in COMMANDS:
        parser: Parser = importlib.import_module(f"routecheck.cli.{name}").make_parser()
        parsers[name] = parser
        parsers |= {f"{name} {action}": inner for action, inner in parser.list_subcommands().items()}
    return parsers
