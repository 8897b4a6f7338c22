"""The command `routecheck known`: collections of known routes added for good, listed and removed."""

from __future__ import annotations

import json
import shlex
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

from routecheck.cli.exit_codes import ExitCode
from routecheck.cli.loading import choose_data, load_database, load_users_settings, read_bytes, today_utc
from routecheck.cli.log import start_log
from routecheck.cli.parser import Parser, parse_day
from routecheck.cli.printing import flush_output, print_complaint, print_text
from routecheck.cli.progress import show_count
from routecheck.faults import DataError
from routecheck.formatting import as_sentence, count, listing
from routecheck.known import store
from routecheck.known.choice import compile_intake
from routecheck.known.intake import Intake, take_in_files
from routecheck.known.known_routes import KnownRoutes
from routecheck.known.sources import group_sources
from routecheck.pipeline import assess_many
from routecheck.presentation.known_routes import describe_collection, describe_uncounted

if TYPE_CHECKING:
    import argparse
    from collections.abc import Iterable, Iterator, Sequence

    from routecheck.model import Assessment, RouteInput
    from routecheck.navdata.database import NavDatabase

_EXAMPLES = """\
  routecheck known add prefroutes_db.csv
  routecheck known list
  routecheck known remove prefroutes_db.csv"""
_ADD_EXAMPLES = """\
  routecheck known add prefroutes_db.csv
  routecheck known add --leave-out-wrong last-month.csv"""
_FIRST = 3
"""The most rows that are not counted, or Wrong, that are shown."""


def main(arguments: Sequence[str]) -> ExitCode:
    """Add, list or remove collections of known routes."""
    given = make_parser().read(arguments)
    start_log()
    for line in {"add": _add_files, "list": _list_collections, "remove": _remove_collection}[given.action](given):
        print_text(f"{line}\n")
        flush_output()
    return ExitCode.DONE


def make_parser() -> Parser:
    """Make the parser of this command."""
    parser = Parser("routecheck known", "Collections of routes that you trust: evidence, never law.", _EXAMPLES)
    actions = parser.add_subparsers(dest="action", metavar="add | list | remove", required=True)
    what = "add lists of routes: CSV rows with their columns named, route files, results of proof as JSON Lines"
    add = actions.add_parser("add", help=what, description=f"{what.capitalize()}.", examples=_ADD_EXAMPLES)
    add.add_argument(
        "files", nargs="+", metavar="FILE", help="or a folder; takes the place of a collection of the same name"
    )
    add.add_argument("--leave-out-wrong", action="store_true", help="leave out rows of which something is Wrong")
    add.add_argument("--navdata", action="append", default=[], metavar="FILE", help="navigation data to read them by")
    add.add_argument("--date", type=parse_day, metavar="DATE", help="the day for which they are checked: today")
    what = "list the collections: known routes, and rows that are not among them"
    listing_parser = actions.add_parser(
        "list", help=what, description=f"{what.capitalize()}.", examples="  routecheck known list --format json"
    )
    listing_parser.add_argument("--format", choices=("text", "json"), default="text", help="json: a list of objects")
    what = "take a collection out again, by the name it is listed under"
    remove = actions.add_parser(
        "remove", help=what, description=f"{what.capitalize()}.", examples="  routecheck known remove prefroutes_db.csv"
    )
    remove.add_argument("name", metavar="NAME", help="as known list has it")
    return parser


def _add_files(given: argparse.Namespace) -> Iterator[str]:
    sources = group_sources([Path(name) for name in given.files])
    lists = [  # what is missing is said at once
        (one.name, [(path.name, read_bytes(str(path))) for path in one.files]) for one in sources
    ]
    database = load_database(choose_data(given.navdata, demo=False))
    faults: list[DataError] = []
    for name, contents in lists:
        try:
            yield from _add_list(name, contents, database, given)
        except DataError as fault:  # one list that is none costs itself
            faults.append(fault)
    for one in faults[:-1]:
        print_complaint(str(one))
    if faults:
        raise faults[-1]


def _add_list(
    name: str, contents: Sequence[tuple[str, bytes]], database: NavDatabase, given: argparse.Namespace
) -> Iterator[str]:
    day = given.date or today_utc()
    settings = load_users_settings(quiet=True)

    def judge(inputs: Iterable[RouteInput]) -> Iterator[Assessment]:
        return assess_many(inputs, database, settings, day)

    intake = Intake(name)
    rows = take_in_files(contents, intake, database, day, judge=judge)
    for _ in show_count(rows, lambda: f"Adding {name}: {len(intake.rows):,} routes"):
        pass
    kept = intake.without_wrong() if given.leave_out_wrong else intake
    today = today_utc().isoformat()
    collection = compile_intake(kept, today)
    earlier = store.open_store()
    store.keep_collection(collection)
    yield f"Added {name}{', in place of the one of that name' if earlier and name in earlier.names else ''}"
    yield from (f"  {line}" for line in describe_collection(collection.about))
    yield from (f"  {line}" for line in describe_uncounted(intake.uncounted, _FIRST))
    yield from _offer_to_leave_out(intake, given)


def _offer_to_leave_out(intake: Intake, given: argparse.Namespace) -> Iterator[str]:
    """The rows of which something is Wrong, and how to leave them out."""
    if not intake.wrong or given.leave_out_wrong:
        return
    yield f"  Of {count(len(intake.wrong), 'row')} something is Wrong:"
    yield from (f"    {line}" for line in describe_uncounted(list(intake.wrong.values()), _FIRST))
    options = [part for file in given.navdata for part in ("--navdata", file)]
    options += ["--date", given.date.isoformat()] if given.date else []
    yield f"  To leave them out: routecheck known add --leave-out-wrong {shlex.join([*options, *given.files])}"


def _list_collections(given: argparse.Namespace) -> Iterator[str]:
    known = store.open_store() or KnownRoutes(())
    if given.format == "json":
        yield json.dumps([asdict(one.about) for one in known.collections], indent=2)
        return
    for one in known.collections:
        yield one.about.name
        yield from (f"  {line}" for line in describe_collection(one.about))
    for sentence in known.unusable:
        yield as_sentence(sentence)
    if not (known.collections or known.unusable):
        yield "No known routes were added. Add some: routecheck known add FILE"


def _remove_collection(given: argparse.Namespace) -> Iterator[str]:
    store.remove_collection(given.name)
    left = store.open_store()
    yield f"Removed {given.name}."
    yield f"Still in use: {listing(left.names)}." if left else "No known routes are left."
