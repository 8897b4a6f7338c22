"""What the commands share: an argument parser that speaks plainly, dates, navigation data."""

from __future__ import annotations

import argparse
import datetime as dt
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from routecheck.checks.catalogue import bounds, collect
from routecheck.cli.printing import print_sentence, print_text
from routecheck.cli.progress import show_progress_line
from routecheck.navdata import store
from routecheck.navdata.database import demo_database, load_navdata
from routecheck.settings import UsageError, load_settings

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.navdata.database import NavDatabase
    from routecheck.reading.input_fields import InputField
    from routecheck.settings import Settings


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

    def _print_message(self, message: str, _file: object = None) -> None:
        print_text(message)


def add_field_option(parser: Parser, field: InputField) -> None:
    """Add the option that gives a value beside the route; a text that cannot be read is a complaint."""

    def read(text: str) -> object:
        value, why = field.kind.read_text(text)
        if why:
            raise argparse.ArgumentTypeError(why.rstrip("."))
        return value

    metavar = "|".join(field.kind.choices[1:]) or field.example
    parser.add_argument(field.option_name, type=read, metavar=metavar, help=field.option)


def today_utc() -> dt.date:
    """The day it is now, UTC. No other module of the command line reads the clock."""
    return dt.datetime.now(dt.UTC).date()


def load_users_settings() -> Settings:
    """Load the user's own limits and Aircraft sheets; standard error says what of them is not used."""
    settings = load_settings(bounds(collect()))
    for remark in settings.remarks:
        print_sentence(remark)
    return settings


def load_database(files: Sequence[str], *, demo: bool) -> NavDatabase:
    """Load the files given for this run; without any what was added for good; the demo region where nothing was.

    Asked for, the demo region comes beside the files given, or alone.
    """
    for file in files:
        if not Path(file).exists():
            raise UsageError(f"there is no file {file}")
    if files:
        return load_navdata([Path(file) for file in files], with_demo=demo)
    if demo:
        return demo_database()
    with show_progress_line("Preparing the navigation data") as progress:
        return store.open_store(progress=progress) or demo_database()
