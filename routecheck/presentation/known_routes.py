"""Collections of known routes as a reader sees them: how many routes, and which rows are not among them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.formatting import count, listing, quote

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.known.collection import About
    from routecheck.known.intake import UncountedRow
    from routecheck.model import KnownUsage


def describe_collection(about: About) -> Iterator[str]:
    """A collection in lines: its known routes, the rows that are not among them and why, the columns not used."""
    yield f"{count(about.routes, 'known route')} from {count(about.rows, 'row')}{_say_added(about)}."
    if lost := about.describe_lost():
        yield f"Rows not among them: {lost}."
    if about.columns:
        yield f"Columns not used: {', '.join(about.columns)}."


def _say_added(about: About) -> str:
    return f", added on {about.added}" if about.added else ""


def describe_uncounted(rows: Sequence[UncountedRow], most: int) -> Iterator[str]:
    """The first of such rows, each with its line, its route and the reason."""
    for row in rows[:most]:
        line = "" if row.line is None else f"line {row.line}: "
        route = f"{quote(row.route)}: " if row.route else ""
        yield f"{line}{route}{row.because.removeprefix(line)}"
    if len(rows) > most:
        yield f"… and {len(rows) - most:,} more"


MOST_DIFFERENCES = 3
"""So many differences from a known route are named; one that differs more is only said to differ."""


def nearest_sentence(usage: KnownUsage | None) -> str:
    """Which known route a route is nearest to, and how it differs; "" where none leads between its aerodromes."""
    if usage is None or usage.nearest is None:
        return ""
    nearest = usage.nearest
    more = f" of {usage.between:,}" if usage.between > 1 else ""
    name = f"known route {nearest.name}{more} ({nearest.collection})"
    if not nearest.differences:
        return f"As {name}."
    if len(nearest.differences) > MOST_DIFFERENCES:
        return f"Nearest is {name}; it differs at {len(nearest.differences)} places."
    return f"As {name}, but {listing([_say_difference(*one) for one in nearest.differences])}."


def _say_difference(here: str, there: str) -> str:
    if not there:
        return f"with {here}"
    return f"{here} for {there}" if here else f"without {there}"
