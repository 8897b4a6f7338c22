"""The command `routecheck navdata`: navigation data added for good, listed and removed."""

from __future__ import annotations

import json
import shlex
from pathlib import Path
from typing import TYPE_CHECKING, Any

from routecheck.cli.exit_codes import ExitCode
from routecheck.cli.loading import today_utc
from routecheck.cli.log import start_log
from routecheck.cli.parser import Parser
from routecheck.cli.printing import flush_output, print_text
from routecheck.cli.progress import show_progress_line
from routecheck.formatting import as_sentence
from routecheck.navdata import store
from routecheck.presentation.data_sources import SEVERAL_SOURCES, describe_source, list_older_sources

if TYPE_CHECKING:
    import argparse
    from collections.abc import Iterator, Sequence

    from routecheck.model import DataSource

_EXAMPLES = """\
  routecheck navdata add FAACIFP18.zip
  routecheck navdata list
  routecheck navdata list --rejected
  routecheck navdata remove FAACIFP18.zip"""
_ADD_EXAMPLES = """\
  routecheck navdata add FAACIFP18.zip
  routecheck navdata add cifp.txt.xz coast.txt"""
_FIRST = 3
"""The most rejected records that are shown unasked."""


def main(arguments: Sequence[str]) -> ExitCode:
    """Add, list or remove navigation data."""
    given = make_parser().read(arguments)
    start_log()
    for line in {"add": _add_files, "list": _list_sources, "remove": _remove_file}[given.action](given):
        print_text(f"{line}\n")
        flush_output()
    return ExitCode.DONE


def make_parser() -> Parser:
    """Make the parser of this command."""
    parser = Parser("routecheck navdata", "The navigation data that every run uses.", _EXAMPLES)
    actions = parser.add_subparsers(dest="action", metavar="add | list | remove", required=True)
    what = "add a file of ARINC 424 records or FAA designated points: plain, .gz, .xz or .zip"
    add = actions.add_parser("add", help=what, description=as_sentence(what), examples=_ADD_EXAMPLES)
    add.add_argument("files", nargs="+", metavar="FILE", help="takes the place of a file of the same name")
    add.add_argument("--replace", action="store_true", help="once these are in, take out all that was added before")
    what = "list the data in use: cycle, dates, counts, records that could not be used"
    listing = actions.add_parser(
        "list", help=what, description=as_sentence(what), examples="  routecheck navdata list --rejected"
    )
    listing.add_argument("--format", choices=("text", "json"), default="text", help="json: a list of objects")
    listing.add_argument("--rejected", action="store_true", help="show every rejected record that was kept")
    what = "take a file out again, by the name it is listed under"
    remove = actions.add_parser(
        "remove", help=what, description=as_sentence(what), examples="  routecheck navdata remove FAACIFP18.zip"
    )
    remove.add_argument("name", metavar="NAME", help="as navdata list has it")
    return parser


def _add_files(given: argparse.Namespace) -> Iterator[str]:
    added = {Path(file).name for file in given.files}
    for file in given.files:
        before = {known.name for known in store.stored_files()}
        with show_progress_line(f"Adding {file}") as progress:
            sources = store.add_file(file, progress=progress)
        for source in sources:
            yield f"Added {source.name}"
            yield from _describe_source(source, _FIRST)
        if Path(file).name in before:
            yield "  It takes the place of the file of that name that was there."
    if given.replace:
        for name in sorted({known.name for known in store.stored_files()} - added):
            store.remove_file(name)
            yield f"Removed {name}."
    yield from _describe_together(store.stored_sources())


def _list_sources(given: argparse.Namespace) -> Iterator[str]:
    with show_progress_line("Preparing the navigation data") as progress:
        database = store.open_store(progress=progress)
    if given.format == "json":
        yield json.dumps([_build_source(source) for source in database.sources] if database else [], indent=2)
        return
    if database is None:
        yield "No navigation data was added: the invented demo region is used. Add some: routecheck navdata add FILE"
        return
    for source in database.sources:
        yield source.name
        yield from _describe_source(source, None if given.rejected else _FIRST)
    yield from _describe_together(database.sources)
    yield f"A copy of each file is kept, so the files themselves are no longer needed: {store.folder()}"


def _describe_together(sources: Sequence[DataSource]) -> Iterator[str]:
    """What is to be said of several sources in use at once, those of older cycles by name."""
    if len(sources) > 1:
        yield SEVERAL_SOURCES
    for source in list_older_sources(sources):
        remedy = f"routecheck navdata remove {shlex.quote(source.file or source.name)}"
        yield f"{source.name} is of the older cycle {source.cycle} and stays in use. To take it out: {remedy}"


def _build_source(source: DataSource) -> dict[str, Any]:
    row = describe_source(source, today_utc(), ())
    return {
        "name": source.name,
        "file": source.file,
        "cycle": source.cycle or None,
        "effective": source.effective.isoformat() if source.effective else None,
        "until": source.until.isoformat() if source.until else None,
        "is_current": row.is_current,
        "counts": dict(source.counts),
        "announced": source.announced,
        "rejected": [{"line": line or None, "because": why} for line, why in source.rejected],
    }


def _remove_file(given: argparse.Namespace) -> Iterator[str]:
    store.remove_file(given.name)
    left = [file.name for file in store.stored_files()]
    yield f"Removed {given.name}."
    yield f"Still in use: {', '.join(left)}." if left else "Nothing else was added: the invented demo region is used."


def _describe_source(source: DataSource, most: int | None) -> Iterator[str]:
    row = describe_source(source, today_utc(), ())
    shown = row.rejected[:most]
    yield from (f"  {line}." for line in (row.dates, row.counts) if line)
    if row.announced_line:
        yield f"  {row.announced_line}."
    yield f"  {row.rejected_line}{':' if shown else '.'}"
    yield from (f"    {line}" for line in shown)
    if len(shown) < len(row.rejected):
        yield "    … the others: routecheck navdata list --rejected"
