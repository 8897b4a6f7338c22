"""Checks groups of routes in several processes. Each loads the data for itself, and writes what it finds.

Only what is written of an answer travels back, with the counts: an assessment is several times as large.
"""

from __future__ import annotations

import multiprocessing
import signal
import threading
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from copy import deepcopy
from functools import cache, partial
from typing import TYPE_CHECKING

from routecheck.faults import LostProcessError
from routecheck.frozen_dataclass import dataclass
from routecheck.garbage import collect_garbage_seldom
from routecheck.pipeline import assess_many
from routecheck.report.run import Run
from routecheck.report.run_summary import RunSummary
from routecheck.worklist.answers_in_order import take_in_order

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterable, Iterator, Sequence
    from concurrent.futures import Future

    from routecheck.known.choice import KnownChoice
    from routecheck.known.known_routes import KnownRoutes, PackedKnown
    from routecheck.model import RouteInput
    from routecheck.navdata.choice import DataChoice, PackedData
    from routecheck.navdata.database import NavDatabase
    from routecheck.report.run import Report, WrittenAnswer
    from routecheck.settings import Settings
    from routecheck.worklist.answers_in_order import Part

_WAITING_EACH = 2
"""So many groups wait for each process: none is idle, and memory does not grow with the number of routes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """All that a process needs to know besides the routes."""

    data: DataChoice | PackedData
    known: KnownChoice | PackedKnown | None = None
    settings: Settings
    today: dt.date
    report: Report
    """As it begins the run, with nothing added: a copy, since the run goes on with its own."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "report", deepcopy(self.report))


def check_group(work: Work, group: Sequence[RouteInput]) -> Part:
    """Check a group of routes and write the answers: a part of the run. Raises DataError."""
    part = Run(deepcopy(work.report), RunSummary())
    with collect_garbage_seldom():
        database = _load(work.data)
        known = _load_known(work.known, work.data, work.today)
        return part, list(part.add(assess_many(group, database, work.settings, work.today, known=known)))


def check_in_processes(
    groups: Iterable[Sequence[RouteInput]], work: Work, run: Run, jobs: int
) -> Iterator[WrittenAnswer]:
    """Check groups in `jobs` processes and give the answers in the order of the routes, each counted in `run`.

    Raises DataError where a process cannot load the data, LostProcessError where one ends before its work does.
    """
    with _open_processes(work, jobs) as executor:
        try:
            yield from take_in_order(groups, partial(_submit, executor), run, jobs * _WAITING_EACH)
        except BrokenProcessPool:
            raise LostProcessError(
                f"a process that checks routes was ended from outside, after {run.summary.routes:,} routes"
            ) from None


@contextmanager
def _open_processes(work: Work, jobs: int) -> Iterator[ProcessPoolExecutor]:
    """Processes for a run; what they still do when it ends early is not waited for."""
    others = set(multiprocessing.active_children())
    context = multiprocessing.get_context("spawn")
    executor = ProcessPoolExecutor(jobs, context, initializer=_begin, initargs=(work,))
    try:
        yield executor
    except BaseException:
        for process in set(multiprocessing.active_children()) - others:
            process.terminate()
        raise
    finally:
        executor.shutdown(cancel_futures=True)


def _submit(executor: ProcessPoolExecutor, group: Sequence[RouteInput]) -> Future[Part]:
    """Submit a group. Processes are started by this: Ctrl-C is for this process alone, from their first moment."""
    if threading.current_thread() is not threading.main_thread():
        return executor.submit(_check, group)
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        return executor.submit(_check, group)
    finally:
        signal.signal(signal.SIGINT, before)


def _begin(work: Work) -> None:
    """Keep what a process needs. The data is loaded with the first group, so that a fault of it reaches the run."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    global _work
    _work = work


def _check(group: Sequence[RouteInput]) -> Part:
    return check_group(_work, group)


_work: Work


@cache
def _load(data: DataChoice | PackedData) -> NavDatabase:
    return data.load()


@cache
def _load_known(
    known: KnownChoice | PackedKnown | None, data: DataChoice | PackedData, today: dt.date
) -> KnownRoutes | None:
    return known.load(_load(data), today) if known else None
