"""Where the departure of a route ends and its arrival begins. Nothing is judged here."""

from __future__ import annotations

from itertools import accumulate
from typing import TYPE_CHECKING

from routecheck.model import Via

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.model import Connection, Route

_ARRIVAL_NM_PER_FT = 3.0 / 1000.0
"""3 NM for every 1,000 ft: FAA-H-8083-16, rule of thumb."""


def split_phases(route: Route, highest_ft: float | None) -> tuple[int, int] | None:
    """The last point of the departure and the first of the arrival; None where nothing says where they lie.

    A SID or STAR says so; else as far from the aerodrome as the highest filed level takes at 3 NM for every 1,000 ft,
    but never beyond the middle of the route. Gaps count with their least length.
    """
    connections = route.resolved.connections
    if highest_ft is None and all(one.via is not Via.PROCEDURE for one in connections):
        return None
    along = list(accumulate((leg.least_nm or 0.0 for leg in route.legs), initial=0.0))
    whole = along[-1]
    zone = min((highest_ft or 0.0) * _ARRIVAL_NM_PER_FT, whole / 2.0)
    kinds = [_procedure_kind(connections, leg.connection) for leg in route.legs]
    departing = [i + 1 for i, kind in enumerate(kinds) if kind == "SID"]
    arriving = [i for i, kind in enumerate(kinds) if kind in {"STAR", "APPROACH"}]
    last = max((*departing, *(i for i, x in enumerate(along) if x <= zone)))
    return last, min((*arriving, *(i for i, x in enumerate(along) if whole - x <= zone)))


def _procedure_kind(connections: Sequence[Connection], index: int) -> str:
    """Its kind, or the likely one by its place where its path could not be followed; "" = it is no procedure."""
    connection = connections[index]
    if connection.via is not Via.PROCEDURE or connection.procedure_kind:
        return connection.procedure_kind
    return "SID" if index == 0 else "STAR"
