"""The command `routecheck manual`: the manual page, made from the parsers, for `man`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck import __version__
from routecheck.cli.exit_codes import ExitCode
from routecheck.cli.parser import Parser
from routecheck.cli.printing import print_text
from routecheck.model import CAUTION_IN_FULL

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.cli.parser import Argument

_EXAMPLES = """\
  routecheck manual | man -l -
  routecheck manual > ~/.local/share/man/man1/routecheck.1"""
_EXIT_CODES = (
    ("0", "Done, and nothing Wrong."),
    ("1", "proof: something Wrong, or a route of which nothing could be checked; compare: they differ."),
    ("2", "Usage, a missing file, an input that is no route input or of a later schema."),
    ("3", "Navigation data that cannot be read."),
    ("4", "Our fault: a check could not run, or the program failed. It goes before 1 and 2."),
)


def main(arguments: Sequence[str]) -> ExitCode:
    """Write the manual page."""
    make_parser().read(arguments)
    print_text("\n".join(_write_page()) + "\n")
    return ExitCode.DONE


def make_parser() -> Parser:
    """Make the parser of this command."""
    return Parser("routecheck manual", "Write the manual page.", _EXAMPLES)


def _write_page() -> Iterator[str]:
    from routecheck.cli.all_parsers import make_all_parsers

    yield f'.TH ROUTECHECK 1 "" "routecheck {__version__}" "User Commands"'
    yield from (".SH NAME", "routecheck \\- the independent second reader of a flight\\-plan route")
    for name, parser in make_all_parsers().items():
        yield f".SH {_escape(f'routecheck {name}'.strip().upper())}"
        yield _escape(" ".join(parser.format_usage().removeprefix("usage:").split()))
        yield from (".PP", _escape(parser.description or ""))
        for argument in parser.list_arguments():
            yield from _write_argument(argument)
        yield from _write_examples(parser)
    yield ".SH EXIT STATUS"
    for code, meaning in _EXIT_CODES:
        yield from (".TP", f".B {code}", _escape(meaning))
    yield from (".SH CAUTION", _escape(CAUTION_IN_FULL))


def _write_argument(argument: Argument) -> Iterator[str]:
    value = f" {argument.metavar}" if argument.takes_value or not argument.names else ""
    yield from (".TP", f".B {_escape((', '.join(argument.names) + value).strip())}", _escape(argument.help or "…"))


def _write_examples(parser: Parser) -> Iterator[str]:
    yield from (".PP", ".nf")
    yield from (_escape(line) for line in (parser.epilog or "").splitlines())
    yield ".fi"


def _escape(text: str) -> str:
    """A line of text as roff takes it: backslashes, hyphens, and signs that would begin a request."""
    line = text.replace("\\", "\\e").replace("-", "\\-")
    return "\\&" + line if line.startswith((".", "'")) else line
