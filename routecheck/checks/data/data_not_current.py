"""Check data-not-current."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limits, case, check
from routecheck.formatting import date, listing
from routecheck.model import DataSource, Fact, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Route


@check(
    "data-not-current",
    Weight.DOUBTFUL,
    family=Family.DATA,
    sentence=(
        "The day of the route lies outside the 28 days of the data's cycle, or data of several cycles is loaded "
        "together."
    ),
    explanation="Once for a route. Judged by the day, whatever the hour at which the cycle changes.",
    false_alarms="none: names and airways may have changed between the cycles.",
    citations=["airac"],
    flagged=[
        case("LENDU DCT PIKAR", off_block=dt.date(2026, 12, 24), whole=True),
        case("LENDU DCT PIKAR", off_block=dt.date(2026, 11, 25), whole=True),
    ],
    quiet=[
        "LENDU DCT PIKAR",
        case("LENDU", off_block=dt.date(2026, 11, 26)),
        case("LENDU", off_block=dt.date(2026, 12, 23)),
    ],
)
def data_not_current(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    sources = route.resolved.sources
    if not sources:
        yield NotChecked((), "no navigation data is loaded")
        return
    undated = [s.name for s in sources if s.effective is None or s.until is None]
    if undated:
        yield NotChecked((), f"{listing(undated)} does not say for which cycle it holds")
    stale = [s for s in sources if s.effective and s.until and not s.effective <= route.date < s.until]
    if stale:
        days = listing([_days_of(s) for s in stale])
        which = "the data" if len(stale) == len(sources) else "part of the data"
        message = f"The route is for {date(route.date)}; {which} holds for other days: {days}."
        facts = tuple(Fact("cycle", s.cycle) for s in stale)
        yield Finding((), f"{message}{_several_cycles(sources)}", Weight.DOUBTFUL, facts)
        return
    cycles = sorted({s.cycle for s in sources if s.cycle})
    if len(cycles) > 1:
        message = f"Data of several cycles is loaded together: {listing(cycles)}."
        yield Finding((), message, Weight.DOUBTFUL, tuple(Fact("cycle", c) for c in cycles))


def _several_cycles(sources: Sequence[DataSource]) -> str:
    if len({s.cycle for s in sources}) < 2:
        return ""
    return " Data of several cycles is loaded together: where several have a record, the newest is used."


def _days_of(source: DataSource) -> str:
    if source.effective is None or source.until is None:
        return source.name
    last = source.until - dt.timedelta(days=1)
    return f"cycle {source.cycle}, {date(source.effective)} to {date(last)}"
