"""The columns of a worklist: what each says of a route, and by what it sorts."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from routecheck import formatting
from routecheck.presentation.verdict import WEIGHT_MARKS, WEIGHT_NAMES
from routecheck.worklist.order import Urgency, urgency

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from routecheck.report.route_row import RowFinding
    from routecheck.worklist.rows import WorklistRow

    Findings = Sequence[RowFinding]
    SortKey = tuple[bool, float | str]

_STATES = {
    Urgency.LOST: "not checked",
    Urgency.IN_PART: "checked in part",
    Urgency.ACCEPTED: "accepted",
    Urgency.IN_ORDER: "nothing found",
}
_UNKNOWN: SortKey = True, 0.0
"""What is not known stands last."""


class Column(NamedTuple):
    """A column. Its functions take a row and those of its findings that nobody answers for."""

    head: str
    describe: Callable[[WorklistRow, Findings], str]
    key: Callable[[WorklistRow, Findings], SortKey]
    is_figure: bool = False


def _describe_weight(row: WorklistRow, still_open: Findings) -> str:
    if still_open and not row.is_lost:
        return f"{WEIGHT_MARKS[still_open[0].weight]} {WEIGHT_NAMES[still_open[0].weight]}"
    return _STATES.get(urgency(row, still_open), "")


def _urgency_key(row: WorklistRow, still_open: Findings) -> SortKey:
    """By urgency; of the same, the more there is to look at, the sooner."""
    return False, urgency(row, still_open) - min(len(still_open), 99) / 100


def _describe_route(row: WorklistRow, _still_open: Findings) -> str:
    route = row.route
    ends = f"{route.departure or '?'}–{route.destination or '?'}"
    is_place = route.line is not None and route.name == f"{route.file}, line {route.line}"
    where = f"line {route.line}" if is_place else formatting.short(route.name)
    return f"{ends} {where}".strip()


def _describe_finding(row: WorklistRow, still_open: Findings) -> str:
    return still_open[0].message if still_open else row.route.headline


def _describe_share(row: WorklistRow, _still_open: Findings) -> str:
    return "" if row.route.checked_share is None else formatting.percent(row.route.checked_share)


def _describe_distance(row: WorklistRow, _still_open: Findings) -> str:
    if row.route.distance_nm is None:
        return ""
    return f"{'at least ' if row.route.has_gaps else ''}{formatting.nm(row.route.distance_nm)}"


def _over_direct(row: WorklistRow) -> float | None:
    """By which share the route is longer than the direct line; None with a gap: it is not known."""
    distance_nm, direct_nm = row.route.distance_nm, row.route.direct_nm
    if distance_nm is None or not direct_nm or row.route.has_gaps:
        return None
    return distance_nm / direct_nm - 1.0


def _describe_over_direct(row: WorklistRow, _still_open: Findings) -> str:
    share = _over_direct(row)
    return "" if share is None else f"{share * 100:+.0f} %"


def _describe_time(row: WorklistRow, _still_open: Findings) -> str:
    minutes = row.route.time_min
    return "" if minutes is None else formatting.duration(minutes)


def _figure_key(value: float | None) -> SortKey:
    return _UNKNOWN if value is None else (False, value)


COLUMNS = (
    Column("Weight", _describe_weight, _urgency_key),
    Column("Route", _describe_route, lambda row, still_open: (False, _describe_route(row, still_open))),
    Column("First finding", _describe_finding, lambda row, still_open: (False, _describe_finding(row, still_open))),
    Column("Checked", _describe_share, lambda row, _: _figure_key(row.route.checked_share), is_figure=True),
    Column("Distance", _describe_distance, lambda row, _: _figure_key(row.route.distance_nm), is_figure=True),
    Column("Over direct", _describe_over_direct, lambda row, _: _figure_key(_over_direct(row)), is_figure=True),
    Column("Time", _describe_time, lambda row, _: _figure_key(row.route.time_min), is_figure=True),
    Column("Data", lambda row, _: row.data, lambda row, _: (False, row.data)),
)
