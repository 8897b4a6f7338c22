"""The Leg table: one row a leg in route order, computed figures, planned level, claimed figures and the difference.

Columns that nothing is known for are left out. How it looks is not decided here.
"""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from typing import TYPE_CHECKING

from routecheck import wording
from routecheck.earth import geo
from routecheck.model import Weight
from routecheck.present.picks import legs_about
from routecheck.reckon.speeds import in_force

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from routecheck.model import Assessment, Claim, Leg, Route

_LEADS = ("=", "+", "-", "@", "\t", "\r")
"""What makes a spreadsheet take a text for a formula."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its head, its name in CSV, whether it holds figures (which stand right-aligned)."""

    head: str
    key: str
    figures: bool = True


@dataclass(frozen=True, slots=True)
class LegRow:
    """One leg. `findings` are the indices of the findings about it, heaviest first; `weight` the heaviest, if any.

    `cells` are under the columns; `tip` says in words what they have no room for.
    """

    cells: tuple[str, ...]
    findings: tuple[int, ...]
    weight: Weight | None
    tip: str
    is_gap: bool


@dataclass(frozen=True, slots=True)
class LegTable:
    """What the Leg table shows; `rows[i]` is leg i."""

    columns: tuple[Column, ...]
    rows: tuple[LegRow, ...]


@dataclass(frozen=True, slots=True)
class _Leg:
    """A leg with what stands beside it."""

    ends: tuple[str, str]
    leg: Leg
    sum_nm: float
    open_before: bool
    level: str
    claim: Claim | None


_Cell = tuple["Callable[[_Leg], str]", "Callable[[_Leg], str]"]
"""How a column is shown, and how it stands in CSV."""


def leg_table(assessment: Assessment) -> LegTable:
    """The table of an assessment; empty where nothing was typed or nothing could be read."""
    if assessment.route.entry.unread or not any(point.text for point in assessment.route.points):
        return LegTable((), ())
    legs = _legs(assessment.route)
    columns = _columns(legs)
    about = _findings_by_leg(assessment)
    rows = (
        LegRow(
            cells=tuple(shown(one) for _, (shown, _) in columns),
            findings=about[i],
            weight=assessment.findings[about[i][0]].weight if about[i] else None,
            tip=_tip(one),
            is_gap=one.leg.distance_nm is None,
        )
        for i, one in enumerate(legs)
    )
    return LegTable(tuple(column for column, _ in columns), tuple(rows))


def leg_csv(assessment: Assessment) -> str:
    """The same as CSV with a header: plain numbers, units in the names of the columns."""
    legs = [] if assessment.route.entry.unread else _legs(assessment.route)
    columns = [*_columns(legs), (Column("", "gap", figures=False), (_gap, _gap))]
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(column.key for column, _ in columns)
    for one in legs:
        writer.writerow(written(one) if column.figures else _harmless(written(one)) for column, (_, written) in columns)
    return stream.getvalue()


def claims_by_leg(route: Route) -> list[Claim | None]:
    """For every leg the claim about its end, in route order; None where there is none.

    A claim is about the leg that ends at the point it names, after the leg of the claim before it.
    """
    found: list[Claim | None] = [None] * len(route.legs)
    following = 0
    for claim in route.entry.claims:
        at = next((i for i in range(following, len(found)) if route.points[i + 1].text == claim.to), None)
        if at is not None:
            found[at], following = claim, at + 1
    return found


def _legs(route: Route) -> list[_Leg]:
    legs, total, is_open = [], 0.0, False
    claims, levels = claims_by_leg(route), [level for _, level in in_force(route)]
    for i, leg in enumerate(route.legs):
        total += leg.distance_nm or 0.0
        is_open = is_open or leg.distance_nm is None
        ends = route.points[i].text, route.points[i + 1].text
        legs.append(_Leg(ends, leg, total, is_open, levels[i], claims[i]))
    return legs


def _columns(legs: Iterable[_Leg]) -> list[tuple[Column, _Cell]]:
    """The columns that have something to show."""
    claims = [one.claim for one in legs if one.claim]
    wanted = [*_ALWAYS]
    wanted += _LEVEL if any(one.level for one in legs) else []
    for claimed, columns in (
        (any(c.course_true_deg is not None for c in claims), _CLAIMED_TRUE),
        (any(c.course_magnetic_deg is not None for c in claims), _CLAIMED_MAGNETIC),
        (any(c.distance_nm is not None for c in claims), _CLAIMED_NM),
        (any(c.level for c in claims), _CLAIMED_LEVEL),
    ):
        wanted += columns if claimed else []
    return wanted


def _findings_by_leg(assessment: Assessment) -> list[tuple[int, ...]]:
    about: list[list[int]] = [[] for _ in assessment.route.legs]
    heavy_first = sorted(enumerate(assessment.findings), key=lambda numbered: list(Weight).index(numbered[1].weight))
    for i, finding in heavy_first:
        for leg in legs_about(assessment.route, finding):
            about[leg].append(i)
    return [tuple(findings) for findings in about]


def _tip(one: _Leg) -> str:
    if one.leg.distance_nm is not None:
        return ""
    least = f" At least {wording.nm(one.leg.least_nm)}." if one.leg.least_nm is not None else ""
    return f"Gap: {one.leg.gap or 'the path is not fixed here'}.{least}"


def _name(index: int) -> Callable[[_Leg], str]:
    return lambda one: wording.short(one.ends[index]) or "–"


def _full_name(index: int) -> Callable[[_Leg], str]:
    return lambda one: one.ends[index]


def _degrees(value: float | None) -> str:
    return "" if value is None else f"{value % 360.0:.1f}"


def _nm(value: float | None) -> str:
    return "" if value is None else f"{value:.2f}"


def _via(one: _Leg) -> str:
    return one.leg.via


def _gap(one: _Leg) -> str:
    return one.leg.gap if one.leg.distance_nm is None else ""


def _distance(one: _Leg) -> str:
    return "gap" if one.leg.distance_nm is None else wording.column_nm(one.leg.distance_nm)


def _sum(one: _Leg) -> str:
    if one.open_before and not one.sum_nm:
        return ""
    return f"{'≥ ' if one.open_before else ''}{wording.column_nm(one.sum_nm)}"


def _turned(claimed: float | None, computed: float | None) -> str:
    """A difference of courses with its sign, in whole degrees; "" where one of the two is missing."""
    if claimed is None or computed is None:
        return ""
    return _signed(geo.wrap180(claimed - computed), 0)


def _longer(one: _Leg) -> str:
    if one.claim is None or one.claim.distance_nm is None or one.leg.distance_nm is None:
        return ""
    return _signed(one.claim.distance_nm - one.leg.distance_nm, 1)


def _signed(value: float, digits: int) -> str:
    rounded = round(value, digits)
    return f"{abs(rounded):,.{digits}f}" if rounded == 0 else f"{'−' if rounded < 0 else '+'}{abs(rounded):,.{digits}f}"


def _claimed(field: str, shown: Callable[[float | None], str]) -> Callable[[_Leg], str]:
    return lambda one: shown(getattr(one.claim, field)) if one.claim else ""


def _plain(cell: Callable[[_Leg], str]) -> _Cell:
    return cell, cell


def _ascii(cell: Callable[[_Leg], str]) -> _Cell:
    return cell, lambda one: cell(one).replace("−", "-").replace(",", "")


_ALWAYS: Sequence[tuple[Column, _Cell]] = (
    (Column("from", "from", figures=False), (_name(0), _full_name(0))),
    (Column("to", "to", figures=False), (_name(1), _full_name(1))),
    (Column("via", "via", figures=False), _plain(_via)),
    (
        Column("°T", "course_true_deg"),
        (lambda one: wording.course(one.leg.course_true_deg), lambda one: _degrees(one.leg.course_true_deg)),
    ),
    (
        Column("°M", "course_magnetic_deg"),
        (lambda one: wording.course(one.leg.course_magnetic_deg), lambda one: _degrees(one.leg.course_magnetic_deg)),
    ),
    (Column("NM", "distance_nm"), (_distance, lambda one: _nm(one.leg.distance_nm))),
    (Column("sum NM", "sum_of_known_nm"), (_sum, lambda one: _nm(one.sum_nm))),
)
_LEVEL = [(Column("level", "level", figures=False), (lambda one: wording.level(one.level), lambda one: one.level))]
_CLAIMED_TRUE = [
    (
        Column("claimed °T", "claimed_course_true_deg"),
        (_claimed("course_true_deg", wording.course), _claimed("course_true_deg", _degrees)),
    ),
    (
        Column("differs °", "claimed_less_computed_true_deg"),
        _ascii(lambda one: _turned(one.claim.course_true_deg, one.leg.course_true_deg) if one.claim else ""),
    ),
]
_CLAIMED_MAGNETIC = [
    (
        Column("claimed °M", "claimed_course_magnetic_deg"),
        (_claimed("course_magnetic_deg", wording.course), _claimed("course_magnetic_deg", _degrees)),
    ),
    (
        Column("differs °", "claimed_less_computed_magnetic_deg"),
        _ascii(lambda one: _turned(one.claim.course_magnetic_deg, one.leg.course_magnetic_deg) if one.claim else ""),
    ),
]
_CLAIMED_NM = [
    (
        Column("claimed NM", "claimed_distance_nm"),
        (
            _claimed("distance_nm", lambda nm: "" if nm is None else wording.column_nm(nm)),
            _claimed("distance_nm", lambda nm: "" if nm is None else f"{nm:g}"),
        ),
    ),
    (Column("differs NM", "claimed_less_computed_nm"), _ascii(_longer)),
]
_CLAIMED_LEVEL = [
    (
        Column("claimed level", "claimed_level", figures=False),
        (
            lambda one: wording.level(one.claim.level) if one.claim else "",
            lambda one: one.claim.level if one.claim else "",
        ),
    )
]


def _harmless(text: str) -> str:
    """A text cell that no spreadsheet takes for a formula."""
    return f"'{text}" if text.startswith(_LEADS) else text
