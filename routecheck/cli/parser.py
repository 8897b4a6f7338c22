"""The argument parser of all commands: it speaks plainly, knows the nearest spelling, and imports nothing heavy."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any, NoReturn

from routecheck.cli.printing import print_text
from routecheck.faults import UsageError
from routecheck.frozen_dataclass import dataclass

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterable, Sequence

_MOST_NAMED = 8
"""How many choices a sentence names."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Argument:
    """One argument of a command as completion and manual need it. `names` () = it has none, but its place."""

    names: tuple[str, ...]
    metavar: str
    help: str
    choices: tuple[str, ...]
    takes_value: bool


class Parser(argparse.ArgumentParser):
    """A parser whose complaints are UsageErrors: one line, exit code 2."""

    def __init__(self, prog: str, description: str, examples: str) -> None:
        super().__init__(
            prog=prog,
            description=description,
            epilog=f"examples:\n{examples}",
            formatter_class=argparse.RawDescriptionHelpFormatter,
            allow_abbrev=False,
        )

    def error(self, message: str) -> NoReturn:
        """Say what is wrong with the call."""
        raise UsageError(f"{message}. See {self.prog} --help.")

    def read(self, arguments: Sequence[str]) -> argparse.Namespace:
        """Read the arguments; of those that nothing here takes the first is named, with the nearest that is taken."""
        given, unknown = self.parse_known_args(list(arguments))
        if unknown:
            name = unknown[0].partition("=")[0]
            if name.startswith("-"):
                self.error(f"there is no option {name}{did_you_mean(name, self._option_string_actions)}")
            self.error(f"“{unknown[0]}” is one argument too many")
        return given

    def list_arguments(self) -> list[Argument]:
        """All arguments in the order of the help."""
        return [_describe_argument(action) for action in self._actions if not _is_subcommands(action)]

    def list_subcommands(self) -> dict[str, Parser]:
        """The parsers of its subcommands by their names; {} where it has none."""
        found = [action.choices for action in self._actions if _is_subcommands(action)]
        return dict(found[0]) if found and found[0] else {}

    def _check_value(self, action: argparse.Action, value: Any) -> None:
        if action.choices is not None and value not in action.choices:
            choices = [str(choice) for choice in action.choices]
            raise argparse.ArgumentError(action, f"“{value}” is none of {name_some(choices, value)}")

    def _print_message(self, message: str, _file: object = None) -> None:
        print_text(message)


def _is_subcommands(action: argparse.Action) -> bool:
    return action.nargs == argparse.PARSER


def _describe_argument(action: argparse.Action) -> Argument:
    choices = tuple(str(choice) for choice in action.choices or ())
    metavar = action.metavar if isinstance(action.metavar, str) else ""
    return Argument(
        names=tuple(action.option_strings),
        metavar=metavar or "|".join(choices) or action.dest.upper(),
        help=(action.help or "").replace("%%", "%"),
        choices=choices,
        takes_value=action.nargs != 0,
    )


def parse_day(text: str) -> dt.date | None:
    """The day of an option; a text that is none is a complaint."""
    from routecheck.reading.off_block import read_day

    day, why = read_day(text)
    if why:
        raise argparse.ArgumentTypeError(why)
    return day


def did_you_mean(name: str, known: Iterable[str]) -> str:
    """A question after the nearest spellings, to follow a complaint without its full stop; "" where none is near."""
    near = find_nearest(name, known)
    return f"; did you mean {' or '.join(near)}" if near else ""


def name_some(known: Sequence[str], name: str) -> str:
    """The choices, or the nearest spellings where there are too many to name."""
    near = did_you_mean(name, known)
    if len(known) > _MOST_NAMED and near:
        return f"{len(known)}{near}"
    return ", ".join(known) + near


def find_nearest(name: str, known: Iterable[str]) -> list[str]:
    """The known spellings nearest to one that is not known, capitals aside; at most three, the nearest first."""
    import difflib  # here, because only a wrong spelling needs it

    by_small = {one.lower(): one for one in known}
    return [by_small[near] for near in difflib.get_close_matches(name.lower(), by_small, n=3)]
