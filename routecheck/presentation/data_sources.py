"""Data sources as a reader sees them: cycle and dates, how many records of each kind, which were rejected and why."""

from __future__ import annotations

import datetime as dt
from dataclasses import KW_ONLY
from typing import TYPE_CHECKING

from routecheck.formatting import count, date
from routecheck.frozen_dataclass import dataclass

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Sequence

    from routecheck.model import DataSource

SEVERAL_SOURCES = (
    "Several data sources are used together: of a record that several have, that of the newer cycle is used. What only "
    "an older one has is still used."
)


@dataclass(frozen=True, slots=True)
class SourceRow:
    """One data source. `is_current` tells whether its cycle is in force today; None = it does not say when it is.

    `added_as` is the name by which it can be removed, "" = it was not added for good. `rejected` has a line for every
    record that is not used.
    """

    name: str
    _: KW_ONLY
    dates: str
    is_current: bool | None
    counts: str
    rejected: tuple[str, ...]
    rejected_line: str
    announced_line: str
    """What its header announces against what is there; "" where it announces nothing."""
    added_as: str


def describe_source(source: DataSource, today: dt.date, files: Collection[str]) -> SourceRow:
    """A data source in words; `files` are the names under which files were added."""
    rejected = source.count_of("rejected")
    return SourceRow(
        name=source.name,
        dates=_dates_line(source, today),
        is_current=_is_current(source, today),
        counts=", ".join(f"{what} {n:,}" for what, n in source.counts if n and what != "rejected"),
        rejected=tuple(f"line {line}: {why}" if line else why for line, why in source.rejected),
        rejected_line=_rejected_line(rejected, len(source.rejected)),
        announced_line=_announced_line(source),
        added_as=source.file if source.file in files else "",
    )


def list_older_sources(sources: Sequence[DataSource]) -> list[DataSource]:
    """Those of an older cycle than another, in the order given. What says no date is older than nothing."""
    newest = max((source.effective for source in sources if source.effective), default=None)
    return [source for source in sources if newest and source.effective and source.effective < newest]


def describe_sources(sources: Sequence[DataSource]) -> str:
    """In one line: the navigation data an answer rests on, with what was read of each source and what was not."""
    if not sources:
        return "No navigation data is loaded: only airports of the world list are known."
    named = "; ".join(f"{source.name} ({', '.join(_brief_facts(source))})" for source in sources)
    mixed = " Where several have a record, the newest is used." if len({s.cycle for s in sources}) > 1 else ""
    return f"Navigation data: {named}.{mixed}"


def _brief_facts(source: DataSource) -> Iterator[str]:
    rejected = source.count_of("rejected")
    yield f"cycle {source.cycle or 'not said'}"
    if source.invented:
        yield "invented"
    if read := (source.records or sum(n for _, n in source.counts)) - rejected:
        yield f"{count(read, 'record')} read"
    yield f"{rejected:,} rejected"
    if source.announced is not None:
        yield f"{source.announced:,} announced{_describe_missing(source.missing)}"


def _describe_missing(missing: int) -> str:
    """What the header's count says of the records there; "" where it is theirs."""
    if missing > 0:
        return f": {count(missing, 'record is', 'records are')} missing"
    return f": {count(-missing, 'record', 'records')} more than that" if missing else ""


def _is_current(source: DataSource, today: dt.date) -> bool | None:
    if source.effective is None or source.until is None:
        return None
    return source.effective <= today < source.until


def _dates_line(source: DataSource, today: dt.date) -> str:
    invented = ", invented" if source.invented else ""
    if source.effective is None or source.until is None:
        return f"Cycle {source.cycle or 'not said'}{invented}: it is not known for which days it holds"
    last = source.until - dt.timedelta(days=1)
    now = "" if _is_current(source, today) else f". Not for today, {date(today)}"
    return f"Cycle {source.cycle}{invented}, {date(source.effective)} to {date(last)}{now}"


def _rejected_line(number: int, listed: int) -> str:
    if not number:
        return "No record was rejected"
    more = f", of which {listed:,} are listed" if listed < number else ""
    return f"{count(number, 'record')} rejected{more}"


def _announced_line(source: DataSource) -> str:
    if source.announced is None:
        return ""
    return f"Its header announces {count(source.announced, 'record')}{_describe_missing(source.missing)}"
