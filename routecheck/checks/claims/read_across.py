"""Check read-across."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limits, case, check, exceeds
from routecheck.checks.claim_queries import spans_of_leg
from routecheck.checks.read_across_rows import marks_by_row, read_across_rows, read_shown
from routecheck.formatting import count, listing, quote
from routecheck.model import Fact, Finding, NotChecked, ReadAcross, ReadMark, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.checks.read_across_rows import ReadRow, ShownFigures
    from routecheck.model import Route

_READ = ReadAcross((ReadMark("LENDU 091°M 101.2 NM", is_same=False, shown="LENDU 091 120.0"),))
_FAR_NM = 10.0
"""As for a distance that a plan states (our choice)."""
_SAME = ReadAcross((ReadMark("LENDU 091°M 101.2 NM", is_same=True),))


def _lacking_read_across(route: Route) -> str:
    return "" if route.route_input.read_across else "the route was not read across against another display"


@check(
    "read-across",
    Weight.WRONG,
    family=Family.CLAIMS,
    sentence="In reading across, the other display shows something else.",
    explanation=(
        "A row that was marked as differing: another point, or a distance more than 10 NM off, is Wrong, all else is "
        "Doubtful. "
        "What was typed of course and distance is said beside what stands here. Rows that were not read, or that read "
        "otherwise since, are not checked; and reading across says nothing of what both displays have wrong."
    ),
    false_alarms="another variation or another rounding of the other display.",
    requires=(_lacking_read_across,),
    flagged=[case("«LENDU» DCT PIKAR", read_across=_READ)],
    quiet=[case("LENDU DCT PIKAR", read_across=_SAME), "LENDU DCT PIKAR"],
)
def read_across(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    left: list[str] = []
    for row, mark in zip(read_across_rows(route), marks_by_row(route), strict=True):
        if mark is None:
            left.append(row.name)
        elif not mark.is_same:
            yield _make_finding(route, row, mark)
    if left:
        named = listing([*left[:3], *([f"{len(left) - 3} more"] if len(left) > 3 else [])])
        yield NotChecked((), f"{count(len(left), 'row')} not read across, or not as they read now: {named}")


def _is_far_off(route: Route, row: ReadRow, shown: ShownFigures) -> bool:
    here = route.totals.distance_nm if row.point is None else route.legs[row.point - 1].distance_nm
    if here is None or shown.distance_nm is None:
        return False
    return exceeds(abs(shown.distance_nm - here), _FAR_NM, shown.rounding_nm)


def _make_finding(route: Route, row: ReadRow, mark: ReadMark) -> Finding:
    shown = read_shown(mark.shown)
    is_other_point = bool(shown.name) and row.point is not None and shown.name != row.name
    what = quote(mark.shown) if mark.shown else "something else, not said what"
    message = f"At {row.name} the other display shows {what}; here it is {row.text}."
    facts = [Fact("shown distance", shown.distance_nm, "NM")] if shown.distance_nm is not None else []
    facts += [Fact("shown course", shown.course_deg, "°")] if shown.course_deg is not None else []
    spans = spans_of_leg(route, row.point) if row.point is not None else ()
    points = (row.point,) if row.point is not None else ()
    weight = Weight.WRONG if is_other_point or _is_far_off(route, row, shown) else Weight.DOUBTFUL
    return Finding(spans, message, weight, tuple(facts), points=points)
