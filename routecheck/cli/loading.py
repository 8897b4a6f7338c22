"""What the commands load: the user's settings, navigation data; and the day it is."""

from __future__ import annotations

import datetime as dt
import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from routecheck import files
from routecheck.checks.catalogue import bounds, collect
from routecheck.cli.printing import print_sentence
from routecheck.cli.progress import show_progress_line
from routecheck.faults import UsageError, system_reason
from routecheck.known.folder import choose_known
from routecheck.model import InputKind, NotUsed, off_block_day
from routecheck.navdata.choice import DataChoice
from routecheck.reading.inputs import read_input
from routecheck.settings import load_settings

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.known.choice import KnownChoice
    from routecheck.known.known_routes import KnownRoutes
    from routecheck.model import RouteInput
    from routecheck.navdata.database import NavDatabase
    from routecheck.settings import Settings


def today_utc() -> dt.date:
    """The day it is now, UTC. No other module of the command line reads the clock."""
    return dt.datetime.now(dt.UTC).date()


def load_users_settings(*, quiet: bool = False) -> Settings:
    """Load the user's own limits and Aircraft sheets; unless `quiet`, standard error says what of them is not used."""
    settings = load_settings(bounds(collect()))
    for remark in () if quiet else settings.remarks:
        print_sentence(remark)
    return settings


def choose_data(names: Sequence[str], *, demo: bool) -> DataChoice:
    """Choose the data of this run. Raises UsageError for a missing file."""
    for name in names:
        if not Path(name).exists():
            raise UsageError(f"there is no file {name}")
    return DataChoice(tuple(names), demo)


def load_database(choice: DataChoice) -> NavDatabase:
    """Load the data chosen, with a line on a terminal while it is read or compiled. Raises DataError."""
    with show_progress_line("Preparing the navigation data") as progress:
        return choice.load(progress=progress)


def load_known(
    choice: KnownChoice | None, database: NavDatabase, today: dt.date, *, quiet: bool = False
) -> KnownRoutes | None:
    """Load the known routes chosen; unless `quiet`, standard error says what of them is not used. Raises DataError."""
    known = choice.load(database, today) if choice else None
    if choice and known and not quiet:
        for sentence in known.unusable:
            print_sentence(sentence)
        for one in known.collections if choice.files else ():
            if lost := one.about.describe_lost():
                print_sentence(f"{one.about.name}: {one.about.routes:,} known routes; rows not among them: {lost}")
    return known


def load_kept_known(database: NavDatabase, today: dt.date) -> KnownRoutes | None:
    """Load the known routes that are kept, for a command that takes none of its own. Raises DataError."""
    return load_known(choose_known(), database, today)


def read_bytes(name: str) -> bytes:
    """Read an input; "-" is standard input. Raises UsageError where that cannot be done."""
    if name == "-":
        if sys.stdin is None:
            raise UsageError("there is no standard input: it is closed")
        return sys.stdin.buffer.read()
    try:
        return files.read_bytes(Path(name))
    except FileNotFoundError:
        raise UsageError(f"there is no file {name}") from None
    except OSError as error:
        raise UsageError(f"{name} cannot be read: {system_reason(error)}") from None


def read_one_route(name: str, day: dt.date | None = None) -> RouteInput:
    """Read the one route of a file; "-" is standard input. Raises UsageError where it holds none, or several.

    `day` is what the user gives where the file states none: one that it contradicts is named as not used.
    """
    shown = "standard input" if name == "-" else name
    inputs = list(read_input(read_bytes(name), shown))
    routes = [one for one in inputs if not one.is_routeless] or inputs
    if len(routes) != 1:
        raise UsageError(f"{shown} holds {len(routes)} routes; give a file with one")
    if routes[0].unread:
        raise UsageError(f"{shown} cannot be used: {routes[0].unread}")
    own = off_block_day(routes[0].off_block)
    if day is None or own is None or own == day:
        return routes[0]
    unused = NotUsed(InputKind.FIELD, f"--date {day}", "", f"the input states {own} itself")
    return replace(routes[0], not_used=(*routes[0].not_used, unused))
