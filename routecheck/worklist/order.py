"""Which routes of a worklist to look at first, and which entry errors keep coming back."""

from __future__ import annotations

from collections import Counter
from enum import IntEnum
from typing import TYPE_CHECKING, NamedTuple

from routecheck.model import Weight

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from routecheck.report.route_row import RowFinding
    from routecheck.worklist.rows import WorklistRow


class Urgency(IntEnum):
    """What a route of a worklist is, the ones to look at first on top."""

    LOST = 0
    """Nothing of it could be checked."""
    WRONG = 1
    DOUBTFUL = 2
    IN_PART = 3
    """Nothing was found in what was checked, but that is not all."""
    ACCEPTED = 4
    """Somebody answers for all that was found."""
    IN_ORDER = 5


class Group(NamedTuple):
    """Routes whose first finding is of one kind."""

    name: str
    """The kind of entry error that the first proposal undoes; where it is of no kind, the check."""
    is_check: bool
    routes: int


def urgency(row: WorklistRow, still_open: Sequence[RowFinding]) -> Urgency:
    """Say how urgent a route is, by its findings that nobody answers for."""
    if row.is_lost:
        return Urgency.LOST
    if still_open:
        return Urgency.WRONG if still_open[0].weight is Weight.WRONG else Urgency.DOUBTFUL
    if not row.is_fully_checked:
        return Urgency.IN_PART
    return Urgency.ACCEPTED if row.route.findings else Urgency.IN_ORDER


def group_name(still_open: Sequence[RowFinding]) -> str:
    """The group that a route belongs to; "" where nothing is open."""
    return (still_open[0].entry_error or still_open[0].check) if still_open else ""


def count_groups(open_findings: Iterable[Sequence[RowFinding]]) -> list[Group]:
    """Count routes by the kind of entry error, then by check where no kind is known; the most frequent first."""
    counted: Counter[tuple[bool, str]] = Counter()
    for still_open in open_findings:
        if still_open:
            counted[not still_open[0].entry_error, group_name(still_open)] += 1
    ordered = sorted(counted.items(), key=lambda item: (item[0][0], -item[1], item[0][1]))
    return [Group(name, is_check, routes) for (is_check, name), routes in ordered]
