"""The columns of the Leg table: what each shows of a leg, on the screen and in CSV. No layout."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.model import VariationFrom
from routecheck.presentation.course_words import charted_from
from routecheck.presentation.leg_claim_columns import CLAIMED
from routecheck.presentation.leg_entry import (
    Column,
    empty_cell,
    same_in_csv,
    write_degrees,
    write_duration,
    write_feet,
    write_kg,
    write_tenths,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from routecheck.presentation.leg_entry import ColumnGroup, LegEntry


def choose_columns(legs: Sequence[LegEntry]) -> ColumnGroup:
    """The columns that are always there, and those that have something to show on some leg.

    Where no wind is given the ground speed is the true airspeed, and called so.
    """
    speed = GROUND_SPEED if any(one.wind_given for one in legs) else AIRSPEED
    claimed = CLAIMED if any(one.claim for one in legs) else ()
    found = [*COURSES]
    altitude = (PLANNED, LEVEL, WINDOW, LIMIT, LEAST_SPEED)
    for group in (CHARTED, DISTANCES, *altitude, speed, TIME, TIME_OVER, FUEL, *claimed, MINIMUM, WIND_USED, VARIATION):
        shown = group[0][1][0]
        found += group if any(shown(one) for one in legs) else []
    return found


def _name(index: int) -> Callable[[LegEntry], str]:
    return lambda one: formatting.short(one.ends[index]) or "–"


def _full_name(index: int) -> Callable[[LegEntry], str]:
    return lambda one: one.ends[index]


def _nm(value: float | None) -> str:
    return "" if value is None else f"{value:.2f}"


def _via(one: LegEntry) -> str:
    return one.leg.via


def _charted_course(one: LegEntry) -> str:
    about = "" if one.charted is None or one.charted.coded else "about "
    return f"{about}{formatting.course(one.charted.course_deg)}" if one.charted else ""


def _variation(one: LegEntry) -> str:
    """The variation that the magnetic course rests on and where it is from, "none" where nobody says it."""
    leg = one.leg
    if leg.course_true_deg is None:
        return ""
    degrees = leg.variation_deg
    if degrees is None or leg.variation_from is None:
        return "none"
    return f"{formatting.variation(degrees)} {_BRIEF_SOURCES[leg.variation_from]}".rstrip()


def _gap(one: LegEntry) -> str:
    return one.leg.gap if one.leg.distance_nm is None else ""


def _distance(one: LegEntry) -> str:
    return "gap" if one.leg.distance_nm is None else formatting.column_nm(one.leg.distance_nm)


def _sum(one: LegEntry) -> str:
    if one.open_before and not one.sum_nm:
        return ""
    return f"{'≥ ' if one.open_before else ''}{formatting.column_nm(one.sum_nm)}"


def _to_go(one: LegEntry) -> str:
    if one.open_after and not one.to_go_nm:
        return ""
    return f"{'≥ ' if one.open_after else ''}{formatting.column_nm(one.to_go_nm)}"


def _planned_altitude(one: LegEntry) -> str:
    return "" if one.planned_ft is None else formatting.altitude(one.planned_ft, one.levels_from_ft)


def _minimum(one: LegEntry) -> str:
    """The minimum of the airway, else the highest grid minimum; "not known" where the data gives none."""
    if one.minima is None or one.leg.distance_nm is None:
        return ""
    feet = _minimum_ft(one)
    if feet is None:
        return "not known"
    if one.minima.on_airway:
        return formatting.altitude(feet, one.levels_from_ft)
    return f"{formatting.altitude(feet, formatting.NO_LEVELS)} grid"


def _minimum_ft(one: LegEntry) -> float | None:
    if one.minima is None:
        return None
    if one.minima.on_airway:
        return one.minima.minimum_ft
    return one.minima.mora_ft if one.minima.mora_in_full else None


def _wind_used(one: LegEntry) -> str:
    wind = one.time.wind if one.time else None
    return "" if wind is None else f"{round(wind.from_deg_true) % 360 or 360:03d}/{wind.speed_kt:.0f}"


def _sum_time(one: LegEntry) -> str:
    least = "≥ " if one.open_before else ""
    return "" if one.sum_min is None else f"{least}{formatting.duration(one.sum_min)}"


def _bound_cell(side: int) -> Callable[[LegEntry], str]:
    def cell(one: LegEntry) -> str:
        bound = one.bounds[side]
        return "" if bound is None else f"{bound:.0f}"

    return cell


def _limit(side: str) -> Callable[[LegEntry], str]:
    def cell(one: LegEntry) -> str:
        kt = getattr(one.leg, side)
        return "" if kt is None else f"{kt:.0f}"

    return cell


def _speed(one: LegEntry) -> str:
    kt = one.time.ground_speed_kt if one.time else None
    return "" if kt is None else f"{kt:.0f}"


_BRIEF_SOURCES = {
    VariationFrom.WMM: "",
    VariationFrom.RECORD: "record",
    VariationFrom.FIELD: "field",
    VariationFrom.NEARBY: "nearby fix",
    VariationFrom.STATION: "station",
}
COURSES: ColumnGroup = [
    (Column("from", "from", figures=False), (_name(0), _full_name(0))),
    (Column("to", "to", figures=False), (_name(1), _full_name(1))),
    (Column("via", "via", figures=False), same_in_csv(_via)),
    (
        Column("°T", "course_true_deg"),
        (lambda one: formatting.course(one.leg.course_true_deg), lambda one: write_degrees(one.leg.course_true_deg)),
    ),
    (
        Column("°M", "course_magnetic_deg"),
        (
            lambda one: formatting.course(one.leg.course_magnetic_deg),
            lambda one: write_degrees(one.leg.course_magnetic_deg),
        ),
    ),
]
DISTANCES: ColumnGroup = [
    (Column("NM", "distance_nm"), (_distance, lambda one: _nm(one.leg.distance_nm))),
    (
        Column("sum NM", "sum_of_known_nm", tip="of the legs with a length; gaps are not added"),
        (_sum, lambda one: _nm(one.sum_nm)),
    ),
    (
        Column("to go", "to_go_nm", tip="NM from the end of the leg to the destination"),
        (_to_go, lambda one: _nm(one.to_go_nm)),
    ),
]
CHARTED: ColumnGroup = [
    (
        Column("charted °M", "course_charted_deg", tip="the course on charts, where it differs by more than 2°"),
        (_charted_course, lambda one: write_degrees(one.charted.course_deg) if one.charted else ""),
    ),
    (Column("", "course_charted_from", figures=False), (empty_cell, lambda one: charted_from(one.charted) or "")),
]
VARIATION: ColumnGroup = [
    (
        Column(
            "variation",
            "variation_deg",
            figures=False,
            tip="what °M rests on: by the model, or by the record named",
        ),
        (_variation, lambda one: write_tenths(one.leg.variation_deg)),
    ),
    (Column("", "variation_from", figures=False), (empty_cell, lambda one: one.leg.variation_from or "")),
]
PLANNED: ColumnGroup = [
    (
        Column("altitude", "planned_altitude_ft", tip="planned where the leg ends, within the windows"),
        (_planned_altitude, lambda one: write_feet(one.planned_ft)),
    )
]
MINIMUM: ColumnGroup = [
    (
        Column("minimum", "minimum_ft", tip="of the airway, else the highest grid MORA along the leg"),
        (_minimum, lambda one: write_feet(_minimum_ft(one))),
    )
]
WIND_USED: ColumnGroup = [
    (
        Column("wind", "wind_used", figures=False, tip="°T/kt, as used in the middle of the leg"),
        same_in_csv(_wind_used),
    )
]
LEVEL: ColumnGroup = [
    (
        Column("level", "level", figures=False, tip="the level as filed"),
        (lambda one: formatting.level(one.level), lambda one: one.level),
    )
]
WINDOW: ColumnGroup = [
    (
        Column("window", "window_low_ft", figures=False, tip="altitudes allowed where the leg ends"),
        (lambda one: formatting.altitudes_in_signs(*one.bounds, one.levels_from_ft), _bound_cell(0)),
    ),
    (Column("", "window_high_ft"), (empty_cell, _bound_cell(1))),
]
LIMIT: ColumnGroup = [
    (
        Column("limit kt", "speed_at_most_kt", tip="at most this indicated speed, as coded"),
        same_in_csv(_limit("most_kt")),
    )
]
LEAST_SPEED: ColumnGroup = [
    (
        Column("least kt", "speed_at_least_kt", tip="at least this indicated speed, as coded"),
        same_in_csv(_limit("least_kt")),
    )
]
GROUND_SPEED: ColumnGroup = [
    (Column("GS kt", "ground_speed_kt", tip="mean ground speed, with the wind as given"), same_in_csv(_speed))
]
AIRSPEED: ColumnGroup = [
    (Column("TAS kt", "true_airspeed_kt", tip="mean true airspeed; no wind is given"), same_in_csv(_speed))
]
TIME: ColumnGroup = [
    (
        Column("time", "time_min"),
        (lambda one: write_duration(one.minutes), lambda one: write_tenths(one.minutes)),
    ),
    (
        Column("sum", "sum_of_known_min", tip="time from the start to the end of the leg"),
        (_sum_time, lambda one: write_tenths(one.sum_min)),
    ),
]
TIME_OVER: ColumnGroup = [
    (
        Column("over UTC", "time_over_utc", tip="when the leg ends: time off-block and time, without taxi time"),
        (lambda one: one.over.clock if one.over else "", lambda one: one.over.iso if one.over else ""),
    )
]
FUEL: ColumnGroup = [
    (
        Column("about kg", "fuel_about_kg", tip="fuel, about"),
        (lambda one: write_kg(one.fuel_kg), lambda one: write_tenths(one.fuel_kg)),
    )
]
ONLY_CSV: ColumnGroup = [
    (Column("", "end_named_in_text", figures=False), (empty_cell, lambda one: "yes" if one.in_text[1] else "no")),
    (Column("", "time_rests_on", figures=False), (empty_cell, lambda one: one.basis if one.time else "")),
    (Column("", "gap", figures=False), (_gap, _gap)),
]
