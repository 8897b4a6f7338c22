"""Data sources as a reader sees them: cycle and dates, what was counted, what was rejected and why. No layout."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import TYPE_CHECKING

from routecheck.formatting import count, date

if TYPE_CHECKING:
    from collections.abc import Collection

    from routecheck.model import DataSource

TOGETHER = (
    "Several data sources are used together: of a record that several have, that of the newer cycle is used. What only "
    "an older one has is still used."
)


@dataclass(frozen=True, slots=True)
class SourceRow:
    """One data source. `holds` is whether it holds today; None where it does not say when it does.

    `file` is the name by which it can be removed, "" where it was not added. `rejected` says every record not used.
    """

    name: str
    dates: str
    holds: bool | None
    counts: str
    rejected: tuple[str, ...]
    rejected_line: str
    file: str


def source_row(source: DataSource, today: dt.date, files: Collection[str]) -> SourceRow:
    """A data source in words; `files` are the names under which files were added."""
    number = source.count_of("rejected")
    return SourceRow(
        name=source.name,
        dates=_dates(source, today),
        holds=_holds(source, today),
        counts=", ".join(f"{what} {n:,}" for what, n in source.counts if n and what != "rejected"),
        rejected=tuple(f"line {line}: {why}" if line else why for line, why in source.rejected),
        rejected_line=_rejected_line(number, len(source.rejected)),
        file=next((f for f in files if source.name == f or source.name.startswith(f"{f}: ")), ""),
    )


def _holds(source: DataSource, today: dt.date) -> bool | None:
    if source.effective is None or source.until is None:
        return None
    return source.effective <= today < source.until


def _dates(source: DataSource, today: dt.date) -> str:
    invented = ", invented" if source.invented else ""
    if source.effective is None or source.until is None:
        return f"Cycle {source.cycle or 'not said'}{invented}: it is not known for which days it holds"
    last = source.until - dt.timedelta(days=1)
    now = "" if _holds(source, today) else f". Not for today, {date(today)}"
    return f"Cycle {source.cycle}{invented}, {date(source.effective)} to {date(last)}{now}"


def _rejected_line(number: int, kept: int) -> str:
    if not number:
        return "No record was rejected"
    more = f", of which {kept:,} are listed" if kept < number else ""
    return f"{count(number, 'record')} rejected{more}"
