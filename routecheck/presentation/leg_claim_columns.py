"""The columns of what a plan claims of each leg, and by how much that differs from what is computed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.earth import geo
from routecheck.presentation.leg_entry import (
    Column,
    ascii_in_csv,
    write_degrees,
    write_duration,
    write_kg,
    write_signed,
    write_tenths,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.presentation.leg_entry import ColumnGroup, LegEntry


def _course_difference(claimed: float | None, computed: float | None) -> str:
    """A difference of courses with its sign, in whole degrees; "" where one of the two is missing."""
    if claimed is None or computed is None:
        return ""
    return write_signed(geo.wrap180(claimed - computed), 0)


def _distance_difference(one: LegEntry) -> str:
    if one.claim is None or one.claim.distance_nm is None or one.leg.distance_nm is None:
        return ""
    return write_signed(one.claim.distance_nm - one.leg.distance_nm, 1)


def _claim_cell(field: str, shown: Callable[[float | None], str]) -> Callable[[LegEntry], str]:
    return lambda one: shown(getattr(one.claim, field)) if one.claim else ""


def _time_difference(one: LegEntry) -> str:
    """By how much the claimed time is longer, minutes: told only where the wind is given."""
    if one.claim is None or one.claim.time_min is None or one.minutes is None or not one.wind_given:
        return ""
    return write_signed(one.claim.time_min - one.minutes, 0)


def _fuel_difference(one: LegEntry) -> str:
    if one.claim is None or one.claim.fuel_kg is None or one.fuel_kg is None or not one.wind_given:
        return ""
    return write_signed(one.claim.fuel_kg - one.fuel_kg, 0)


_CLAIMED_TRUE: ColumnGroup = [
    (
        Column("claimed °T", "claimed_course_true_deg"),
        (_claim_cell("course_true_deg", formatting.course), _claim_cell("course_true_deg", write_degrees)),
    ),
    (
        Column("differs °", "claimed_less_computed_true_deg"),
        ascii_in_csv(
            lambda one: _course_difference(one.claim.course_true_deg, one.leg.course_true_deg) if one.claim else ""
        ),
    ),
]
_CLAIMED_MAGNETIC: ColumnGroup = [
    (
        Column("claimed °M", "claimed_course_magnetic_deg"),
        (_claim_cell("course_magnetic_deg", formatting.course), _claim_cell("course_magnetic_deg", write_degrees)),
    ),
    (
        Column("differs °", "claimed_less_computed_magnetic_deg"),
        ascii_in_csv(
            lambda one: (
                _course_difference(one.claim.course_magnetic_deg, one.leg.course_magnetic_deg) if one.claim else ""
            )
        ),
    ),
]
_CLAIMED_NM: ColumnGroup = [
    (
        Column("claimed NM", "claimed_distance_nm"),
        (
            _claim_cell("distance_nm", lambda nm: "" if nm is None else formatting.column_nm(nm)),
            _claim_cell("distance_nm", lambda nm: "" if nm is None else f"{nm:g}"),
        ),
    ),
    (Column("differs NM", "claimed_less_computed_nm"), ascii_in_csv(_distance_difference)),
]
_CLAIMED_LEVEL: ColumnGroup = [
    (
        Column("claimed level", "claimed_level", figures=False),
        (
            lambda one: formatting.level(one.claim.level) if one.claim else "",
            lambda one: one.claim.level if one.claim else "",
        ),
    )
]
_CLAIMED_TIME: ColumnGroup = [
    (
        Column("claimed time", "claimed_time_min"),
        (_claim_cell("time_min", write_duration), _claim_cell("time_min", write_tenths)),
    )
]
_TIME_DIFFERS: ColumnGroup = [(Column("differs min", "claimed_less_computed_min"), ascii_in_csv(_time_difference))]
_CLAIMED_FUEL: ColumnGroup = [
    (Column("claimed kg", "claimed_fuel_kg"), (_claim_cell("fuel_kg", write_kg), _claim_cell("fuel_kg", write_tenths))),
    (Column("differs kg", "claimed_less_computed_kg"), ascii_in_csv(_fuel_difference)),
]
CLAIMED = (_CLAIMED_TRUE, _CLAIMED_MAGNETIC, _CLAIMED_NM, _CLAIMED_TIME, _TIME_DIFFERS, _CLAIMED_FUEL, _CLAIMED_LEVEL)
