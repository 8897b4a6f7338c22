"""The command `routecheck proof`: checks routes without a window."""

from __future__ import annotations

import sys
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING

from routecheck.cli.exit_codes import ExitCode, exit_code
from routecheck.cli.loading import choose_data, load_database, load_known, load_users_settings, today_utc
from routecheck.cli.log import start_log
from routecheck.cli.parser import did_you_mean
from routecheck.cli.printing import (
    abandon_output,
    flush_output,
    is_terminal,
    print_complaint,
    print_text,
    wants_colour,
    write_to_file,
)
from routecheck.cli.progress import show_count
from routecheck.cli.proof_inputs import list_files, read_groups
from routecheck.cli.proof_options import make_parser, output_options
from routecheck.faults import UsageError
from routecheck.formatting import count, listing
from routecheck.garbage import collect_garbage_seldom
from routecheck.known.folder import choose_known
from routecheck.model import off_block_day
from routecheck.pipeline import assess_many
from routecheck.report.output_formats import OUTPUT_FORMATS
from routecheck.report.run import Run
from routecheck.report.run_summary import RunSummary

if TYPE_CHECKING:
    import argparse
    import datetime as dt
    from collections.abc import Callable, Iterable, Iterator, Sequence

    from routecheck.known.choice import KnownChoice
    from routecheck.known.known_routes import PackedKnown
    from routecheck.model import RouteInput
    from routecheck.navdata.choice import DataChoice
    from routecheck.report.run import WrittenAnswer
    from routecheck.settings import Settings

    _Checker = Callable[[Iterable[list[RouteInput]], Run, dt.date], Iterator[WrittenAnswer]]


def main(arguments: Sequence[str]) -> ExitCode:
    """Check the routes given and print what there is to say about them."""
    given = make_parser().read(arguments)
    start_log()
    if not (given.files or given.demo or given.route is not None):
        raise UsageError("nothing to check: give a file, - for standard input, --route or --demo")
    if (about_files := _options_about_files(given)) and not given.files:
        raise UsageError(f"{listing(about_files)}: there is no file that this is about")
    files = list_files(given.files, quiet=given.quiet)  # what is missing is said before anything is printed
    data = choose_data(given.navdata, demo=given.demo)
    settings = load_users_settings(quiet=given.quiet)
    _require_sheet(given.aircraft_sheet, settings)
    run = Run(OUTPUT_FORMATS[given.format](output_options(given)), RunSummary())
    check = _choose_checker(given, data, choose_known(given.known), settings)
    _write_run(run, check, given, files)
    for sentence in run.summary.no_inputs:
        print_complaint(sentence)
    return exit_code(run.summary, given.fail_on or ("wrong",))


def _options_about_files(given: argparse.Namespace) -> list[str]:
    return [f"--{name}" for name in ("kind", "columns", "group") if getattr(given, name)]


def _choose_checker(
    given: argparse.Namespace, data: DataChoice, known: KnownChoice | None, settings: Settings
) -> _Checker:
    """What checks routes: this process, several, or a cluster."""
    if given.dask:
        return _cluster(data, known, settings, given.dask)
    if given.jobs > 1:
        return _several_processes(data, known, settings, given.jobs)
    return _one_process(data, known, settings, quiet=given.quiet)


def _one_process(data: DataChoice, choice: KnownChoice | None, settings: Settings, *, quiet: bool) -> _Checker:
    """Load the data here; what checks routes with it."""
    database = load_database(data)

    def check(groups: Iterable[list[RouteInput]], run: Run, today: dt.date) -> Iterator[WrittenAnswer]:
        known = load_known(choice, database, today, quiet=quiet)
        with collect_garbage_seldom():
            for group in groups:
                yield from run.add(assess_many(group, database, settings, today, known=known))

    return check


def _several_processes(data: DataChoice, known: KnownChoice | None, settings: Settings, jobs: int) -> _Checker:
    """Compile stored data once, before each process opens it; what checks routes in several processes."""
    from routecheck.worklist.processes import Work, check_in_processes

    if not data.files:
        load_database(data)

    def check(groups: Iterable[list[RouteInput]], run: Run, today: dt.date) -> Iterator[WrittenAnswer]:
        ready = _pack_known(known, data, today) if known and known.files else known
        work = Work(data=data, known=ready, settings=settings, today=today, report=run.report)
        return check_in_processes(groups, work, run, jobs)

    return check


def _pack_known(choice: KnownChoice, data: DataChoice, today: dt.date) -> PackedKnown | None:
    """Load known routes once, and say what of them is not used; packed they travel to other processes."""
    known = load_known(choice, load_database(data), today)
    return known.pack() if known else None


def _cluster(data: DataChoice, known: KnownChoice | None, settings: Settings, address: str) -> _Checker:
    """What checks routes on a Dask cluster."""
    from routecheck.worklist.cluster import check_on_cluster
    from routecheck.worklist.processes import Work

    def check(groups: Iterable[list[RouteInput]], run: Run, today: dt.date) -> Iterator[WrittenAnswer]:
        packed = _pack_known(known, data, today) if known else None
        work = Work(data=data, known=packed, settings=settings, today=today, report=run.report)
        return check_on_cluster(groups, work, run, address)

    return check


def _write_run(run: Run, check: _Checker, given: argparse.Namespace, files: Sequence[str]) -> None:
    """Check everything and write what there is to say about it."""
    read = (list(run.summary.count_rows(group)) for group in read_groups(given, files))
    first, groups = _look_ahead(read, run.report.looks_ahead)
    beginning = run.report.begin(first)
    answers = check(groups, run, given.date or off_block_day(given.off_block) or today_utc())
    if _is_progress_wanted(given):
        checked = run.summary
        answers = show_count(answers, lambda: f"Checked {count(checked.routes, 'route')}, {checked.wrong:,} Wrong")
    _write_pieces(chain([beginning], run.write(answers, worst_first=given.worst_first)), given)


def _look_ahead(groups: Iterator[list[RouteInput]], number: int) -> tuple[list[RouteInput], Iterator[list[RouteInput]]]:
    """The first inputs, and all groups with them again."""
    read: list[list[RouteInput]] = []
    while sum(map(len, read)) < number and (group := next(groups, None)):
        read.append(group)
    return [route_input for group in read for route_input in group][:number], chain(read, groups)


def _require_sheet(name: str | None, settings: Settings) -> None:
    """Complain of an Aircraft sheet that there is not. Raises UsageError."""
    if name and not settings.sheet(name):
        names = [sheet.name for sheet in settings.sheets]
        raise UsageError(
            f"there is no Aircraft sheet “{name}”{did_you_mean(name, names) or f'; there is {listing(names)}'}"
        )


def _is_progress_wanted(given: argparse.Namespace) -> bool:
    """Whether to say how far it is: on a terminal, unless the answers themselves come out there one by one."""
    is_held_back = given.output or (given.format == "text" and not given.all)
    return not given.quiet and is_terminal(sys.stderr) and bool(is_held_back or not is_terminal(sys.stdout))


def _write_pieces(pieces: Iterable[str], given: argparse.Namespace) -> None:
    """Write the output to where it was asked for."""
    if given.output:
        write_to_file(Path(given.output), pieces)
    elif given.quiet:
        for _ in pieces:
            pass
    else:
        _print_pieces(pieces, wants_colour(given.color) and given.format == "text")


def _print_pieces(pieces: Iterable[str], in_colour: bool) -> None:
    """Print as long as somebody reads. What was not checked then is not in the summary, and the exit code says so."""
    try:
        for piece in pieces:
            print_text(piece, in_colour=in_colour)
            flush_output()
    except BrokenPipeError:
        abandon_output()
