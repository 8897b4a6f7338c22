"""What a headline adds to coverage: stretches on which a slip cannot be seen from the route alone. No weights here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.read_across_rows import is_read_same
from routecheck.formatting import listing, nm, short
from routecheck.frozen_dataclass import dataclass
from routecheck.model import PlaceKind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Assessment, Route

_DEGREE_NM = 60.0
_SEEN_NM = 10.0
"""A slip that adds less to the way stands out among no real routes (our choice; best-edit finds little below it)."""
_MOST_NAMED = 3
_NOT_COMPARED = "Compare with the clearance: not yet done."
_COMPARED = "The other version differs there."


@dataclass(frozen=True, slots=True)
class UnseenStretch:
    """The legs to and from typed positions that follow each other: a slip there may be as good a route.

    `first` and `last` index Route.points; `distance_nm` sums what is known of it.
    """

    first: int
    last: int
    distance_nm: float


def find_unseen_stretches(route: Route) -> tuple[UnseenStretch, ...]:
    """The stretches on which a one-degree slip or a missing point may not be seen, in route order."""
    return tuple(
        UnseenStretch(first, last, sum(leg.distance_nm or 0.0 for leg in route.legs[first:last]))
        for first, last in _runs(route)
        if last > first and (last - first > 2 or _hides_a_degree(route, first, last))
    )


def sum_unseen_nm(assessment: Assessment) -> float:
    """How much of a route lies on such stretches and was not found the same in the version it is compared with."""
    return sum(stretch.distance_nm for stretch in _left_unseen(assessment))


def unseen_sentence(assessment: Assessment) -> str:
    """What the headline says of them; "" where there is none."""
    stretches, route = _left_unseen(assessment), assessment.route
    if not stretches:
        return ""
    names = [f"{_name(route, one.first)}–{_name(route, one.last)}" for one in stretches[:_MOST_NAMED]]
    more = len(stretches) - len(names)
    where = listing([*names, f"{more} more"] if more else names)
    length = nm(sum(stretch.distance_nm for stretch in stretches))
    return (
        f"On {where} ({length}) a one-degree slip or a missing point cannot be seen from the route alone. "
        f"{_NOT_COMPARED if assessment.comparison is None else _COMPARED}"
    )


def _left_unseen(assessment: Assessment) -> list[UnseenStretch]:
    found = find_unseen_stretches(assessment.route)
    comparison = assessment.comparison
    left = [one for one in found if comparison is None or not comparison.is_same_stretch(one.first, one.last)]
    return [one for one in left if not is_read_same(assessment.route, one.first, one.last)]


def _runs(route: Route) -> Iterator[tuple[int, int]]:
    """The first and last point around each run of typed positions."""
    begin: int | None = None
    last = len(route.points) - 1
    for index, point in enumerate(route.points):
        typed = point.place is not None and point.place.kind is PlaceKind.TYPED
        if typed and begin is None:
            begin = index - (index > 0 and route.points[index - 1].place is not None)
        if begin is not None and (not typed or index == last):
            yield begin, index - (point.place is None)
            begin = None


def _hides_a_degree(route: Route, first: int, last: int) -> bool:
    """Whether a position that stands alone may be a degree off its line and add less to the way than stands out."""
    lengths = [leg.distance_nm for leg in route.legs[first:last]]
    known = [length for length in lengths if length]
    return len(known) == len(lengths) and sum(_DEGREE_NM**2 / (2.0 * length) for length in known) < _SEEN_NM


def _name(route: Route, index: int) -> str:
    return short(route.points[index].text) or ("departure" if index == 0 else "destination")
