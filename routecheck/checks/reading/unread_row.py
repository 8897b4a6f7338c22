"""Check unread-row."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limits, case, check
from routecheck.formatting import as_sentence
from routecheck.model import Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route


def _is_unread(route: Route) -> bool:
    return bool(route.route_input.unread)


@check(
    "unread-row",
    Weight.WRONG,
    family=Family.READING,
    sentence="A row, a message or a file could not be read at all, so nothing of it was checked.",
    explanation=(
        "The batch goes on. This route stands in it as Wrong, never as in order. A message that is no plan (a delay, a "
        "cancellation, a departure) is a Note: there is no route of which something could be wrong."
    ),
    false_alarms="none known.",
    applies_to=_is_unread,
    flagged=[case("", unread="Line 7: the row has 2 fields, the header has 5", whole=True)],
    quiet=["LENDU DCT PIKAR", ""],
)
def unread_row(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    weight = Weight.NOTE if route.route_input.is_routeless else Weight.WRONG
    yield Finding((), as_sentence(route.route_input.unread), weight)
