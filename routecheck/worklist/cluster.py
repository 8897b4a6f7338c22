"""Checks groups of routes on a Dask cluster that is there already: the one module that connects to other machines."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.faults import LostProcessError, UsageError
from routecheck.navdata.choice import DataChoice
from routecheck.worklist.answers_in_order import take_in_order
from routecheck.worklist.processes import check_group

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from distributed import Client

    from routecheck.model import RouteInput
    from routecheck.report.run import Run, WrittenAnswer
    from routecheck.worklist.answers_in_order import Pending
    from routecheck.worklist.processes import Work

_WAITING_EACH = 2
"""So many groups wait for each thread of the cluster."""
_CONNECT_WITHIN_S = 10


def check_on_cluster(
    groups: Iterable[Sequence[RouteInput]], work: Work, run: Run, address: str
) -> Iterator[WrittenAnswer]:
    """Check groups on the cluster at `address` and give the answers in the order of the routes, counted in `run`.

    The data goes to each worker once. Raises UsageError where there is no such cluster, DataError where the data cannot
    be loaded, LostProcessError where the cluster loses what it was given.
    """
    with _connect(address) as client:
        from distributed import KilledWorker

        data = work.data.pack() if isinstance(work.data, DataChoice) else work.data
        sent = client.scatter(replace(work, data=data), broadcast=True)

        def submit(group: Sequence[RouteInput]) -> Pending:
            pending: Pending = client.submit(check_group, sent, group, pure=False)
            return pending

        try:
            yield from take_in_order(groups, submit, run, _WAITING_EACH * sum(client.nthreads().values()))
        except KilledWorker:
            raise LostProcessError(f"the cluster at {address} lost routes, after {run.summary.routes:,}") from None


def _connect(address: str) -> Client:
    try:
        from distributed import Client
    except ImportError:
        raise UsageError("--dask needs the library: pip install 'routecheck[dask]'") from None
    try:
        return Client(address, timeout=_CONNECT_WITHIN_S, set_as_default=False)
    except (OSError, ValueError) as error:
        raise UsageError(f"there is no Dask cluster at {address} ({type(error).__name__})") from None
