"""The columns of the Leg table: what each shows of a leg, on the screen and in CSV. No layout."""

from __future__ import annotations

from dataclasses import KW_ONLY, dataclass
from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.earth import geo
from routecheck.model import VariationFrom
from routecheck.presentation.course_words import charted_from

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from routecheck.model import ChartedCourse, Claim, Leg
    from routecheck.performance.times import LegTime
    from routecheck.vertical.room import Bounds

_LEADS = ("=", "+", "-", "@", "\t", "\r")
"""What makes a spreadsheet take a text for a formula."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its head, its name in CSV, whether it holds figures (right-aligned then), its head in words."""

    head: str
    key: str
    figures: bool = True
    tip: str = ""


@dataclass(frozen=True, slots=True)
class LegEntry:
    """A leg with its claim, time and level. `bounds` are the lowest and highest altitude allowed where it ends."""

    ends: tuple[str, str]
    _: KW_ONLY
    in_text: tuple[bool, bool]
    """Whether the text, or a field beside it, names its ends."""
    leg: Leg
    charted: ChartedCourse | None
    """The course that charts have, where it differs enough from the computed one."""
    sum_nm: float
    open_before: bool
    level: str
    bounds: Bounds
    claim: Claim | None
    time: LegTime | None
    wind_given: bool
    basis: str
    """What the times rest on; "" where there are none."""

    @property
    def minutes(self) -> float | None:
        """Its time; None = not known."""
        return self.time.minutes if self.time else None

    @property
    def fuel_kg(self) -> float | None:
        """Its fuel, about; None = not known."""
        return self.time.fuel_kg if self.time else None


CellWriters = tuple["Callable[[LegEntry], str]", "Callable[[LegEntry], str]"]
"""How a cell is written on the screen, and how in CSV."""
ColumnGroup = list[tuple[Column, CellWriters]]


def choose_columns(legs: Sequence[LegEntry]) -> ColumnGroup:
    """The columns that are always there, and those that have something to show on some leg.

    Where no wind is given the ground speed is the true airspeed, and called so.
    """
    speed = GROUND_SPEED if any(one.wind_given for one in legs) else AIRSPEED
    claimed = CLAIMED if any(one.claim for one in legs) else ()
    found = [*ALWAYS_SHOWN]
    for group in (CHARTED, VARIATION, LEVEL, WINDOW, LIMIT, LEAST_SPEED, speed, TIME, FUEL, *claimed):
        shown = group[0][1][0]
        found += group if any(shown(one) for one in legs) else []
    return found


def escape_formula(text: str) -> str:
    """The text of a cell, with a mark before it where a spreadsheet would take it for a formula."""
    return f"'{text}" if text.startswith(_LEADS) else text


def _name(index: int) -> Callable[[LegEntry], str]:
    return lambda one: formatting.short(one.ends[index]) or "–"


def _full_name(index: int) -> Callable[[LegEntry], str]:
    return lambda one: one.ends[index]


def _degrees(value: float | None) -> str:
    return "" if value is None else f"{value % 360.0:.1f}"


def _nm(value: float | None) -> str:
    return "" if value is None else f"{value:.2f}"


def _via(one: LegEntry) -> str:
    return one.leg.via


def _charted(one: LegEntry) -> str:
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
    return f"{formatting.variation(degrees)} {_BRIEF_SOURCES[leg.variation_from]}"


def _gap(one: LegEntry) -> str:
    return one.leg.gap if one.leg.distance_nm is None else ""


def _distance(one: LegEntry) -> str:
    return "gap" if one.leg.distance_nm is None else formatting.column_nm(one.leg.distance_nm)


def _sum(one: LegEntry) -> str:
    if one.open_before and not one.sum_nm:
        return ""
    return f"{'≥ ' if one.open_before else ''}{formatting.column_nm(one.sum_nm)}"


def _course_difference(claimed: float | None, computed: float | None) -> str:
    """A difference of courses with its sign, in whole degrees; "" where one of the two is missing."""
    if claimed is None or computed is None:
        return ""
    return _signed(geo.wrap180(claimed - computed), 0)


def _distance_difference(one: LegEntry) -> str:
    if one.claim is None or one.claim.distance_nm is None or one.leg.distance_nm is None:
        return ""
    return _signed(one.claim.distance_nm - one.leg.distance_nm, 1)


def _signed(value: float, digits: int) -> str:
    rounded = round(value, digits)
    return f"{abs(rounded):,.{digits}f}" if rounded == 0 else f"{'−' if rounded < 0 else '+'}{abs(rounded):,.{digits}f}"


def _claimed(field: str, shown: Callable[[float | None], str]) -> Callable[[LegEntry], str]:
    return lambda one: shown(getattr(one.claim, field)) if one.claim else ""


def _empty_cell(_one: LegEntry) -> str:
    return ""


def _duration(minutes: float | None) -> str:
    return "" if minutes is None else formatting.duration(minutes)


def _tenths(value: float | None) -> str:
    return "" if value is None else f"{value:.1f}"


def _kg(value: float | None) -> str:
    return "" if value is None else formatting.three_figures(value)


def _bound(side: int) -> Callable[[LegEntry], str]:
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


def _time_difference(one: LegEntry) -> str:
    """By how much the claimed time is longer, minutes: told only where the wind is given."""
    if one.claim is None or one.claim.time_min is None or one.minutes is None or not one.wind_given:
        return ""
    return _signed(one.claim.time_min - one.minutes, 0)


def _fuel_difference(one: LegEntry) -> str:
    if one.claim is None or one.claim.fuel_kg is None or one.fuel_kg is None or not one.wind_given:
        return ""
    return _signed(one.claim.fuel_kg - one.fuel_kg, 0)


def _same_in_csv(cell: Callable[[LegEntry], str]) -> CellWriters:
    return cell, cell


def _ascii_in_csv(cell: Callable[[LegEntry], str]) -> CellWriters:
    return cell, lambda one: cell(one).replace("−", "-").replace(",", "")


_BRIEF_SOURCES = {
    VariationFrom.WMM: "model",
    VariationFrom.RECORD: "record",
    VariationFrom.FIELD: "field",
    VariationFrom.NEARBY: "nearby fix",
    VariationFrom.STATION: "station",
}
ALWAYS_SHOWN: ColumnGroup = [
    (Column("from", "from", figures=False), (_name(0), _full_name(0))),
    (Column("to", "to", figures=False), (_name(1), _full_name(1))),
    (Column("via", "via", figures=False), _same_in_csv(_via)),
    (
        Column("°T", "course_true_deg"),
        (lambda one: formatting.course(one.leg.course_true_deg), lambda one: _degrees(one.leg.course_true_deg)),
    ),
    (
        Column("°M", "course_magnetic_deg"),
        (lambda one: formatting.course(one.leg.course_magnetic_deg), lambda one: _degrees(one.leg.course_magnetic_deg)),
    ),
    (Column("NM", "distance_nm"), (_distance, lambda one: _nm(one.leg.distance_nm))),
    (Column("sum NM", "sum_of_known_nm"), (_sum, lambda one: _nm(one.sum_nm))),
]
CHARTED: ColumnGroup = [
    (
        Column("charted °M", "course_charted_deg", tip="the course on charts, where it differs by more than 2°"),
        (_charted, lambda one: _degrees(one.charted.course_deg) if one.charted else ""),
    ),
    (Column("", "course_charted_from", figures=False), (_empty_cell, lambda one: charted_from(one.charted) or "")),
]
VARIATION: ColumnGroup = [
    (
        Column(
            "variation", "variation_deg", figures=False, tip="what °M rests on: the magnetic model, or whose record"
        ),
        (_variation, lambda one: _tenths(one.leg.variation_deg)),
    ),
    (Column("", "variation_from", figures=False), (_empty_cell, lambda one: one.leg.variation_from or "")),
]
LEVEL: ColumnGroup = [
    (
        Column("level", "level", figures=False, tip="the level as filed"),
        (lambda one: formatting.level(one.level), lambda one: one.level),
    )
]
_CLAIMED_TRUE: ColumnGroup = [
    (
        Column("claimed °T", "claimed_course_true_deg"),
        (_claimed("course_true_deg", formatting.course), _claimed("course_true_deg", _degrees)),
    ),
    (
        Column("differs °", "claimed_less_computed_true_deg"),
        _ascii_in_csv(
            lambda one: _course_difference(one.claim.course_true_deg, one.leg.course_true_deg) if one.claim else ""
        ),
    ),
]
_CLAIMED_MAGNETIC: ColumnGroup = [
    (
        Column("claimed °M", "claimed_course_magnetic_deg"),
        (_claimed("course_magnetic_deg", formatting.course), _claimed("course_magnetic_deg", _degrees)),
    ),
    (
        Column("differs °", "claimed_less_computed_magnetic_deg"),
        _ascii_in_csv(
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
            _claimed("distance_nm", lambda nm: "" if nm is None else formatting.column_nm(nm)),
            _claimed("distance_nm", lambda nm: "" if nm is None else f"{nm:g}"),
        ),
    ),
    (Column("differs NM", "claimed_less_computed_nm"), _ascii_in_csv(_distance_difference)),
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
        (_claimed("time_min", _duration), _claimed("time_min", _tenths)),
    )
]
_TIME_DIFFERS: ColumnGroup = [(Column("differs min", "claimed_less_computed_min"), _ascii_in_csv(_time_difference))]
_CLAIMED_FUEL: ColumnGroup = [
    (Column("claimed kg", "claimed_fuel_kg"), (_claimed("fuel_kg", _kg), _claimed("fuel_kg", _tenths))),
    (Column("differs kg", "claimed_less_computed_kg"), _ascii_in_csv(_fuel_difference)),
]
CLAIMED = (_CLAIMED_TRUE, _CLAIMED_MAGNETIC, _CLAIMED_NM, _CLAIMED_TIME, _TIME_DIFFERS, _CLAIMED_FUEL, _CLAIMED_LEVEL)
WINDOW: ColumnGroup = [
    (
        Column("altitude window", "window_low_ft", figures=False, tip="altitudes allowed where the leg ends"),
        (lambda one: formatting.altitudes_in_signs(*one.bounds), _bound(0)),
    ),
    (Column("", "window_high_ft"), (_empty_cell, _bound(1))),
]
LIMIT: ColumnGroup = [
    (
        Column("limit kt", "speed_at_most_kt", tip="at most this indicated speed, as coded"),
        _same_in_csv(_limit("most_kt")),
    )
]
LEAST_SPEED: ColumnGroup = [
    (
        Column("least kt", "speed_at_least_kt", tip="at least this indicated speed, as coded"),
        _same_in_csv(_limit("least_kt")),
    )
]
GROUND_SPEED: ColumnGroup = [
    (Column("GS kt", "ground_speed_kt", tip="mean ground speed, with the wind as given"), _same_in_csv(_speed))
]
AIRSPEED: ColumnGroup = [
    (Column("TAS kt", "true_airspeed_kt", tip="mean true airspeed; no wind is given"), _same_in_csv(_speed))
]
TIME: ColumnGroup = [
    (
        Column("time", "time_min"),
        (lambda one: _duration(one.minutes), lambda one: _tenths(one.minutes)),
    )
]
FUEL: ColumnGroup = [
    (
        Column("fuel, about kg", "fuel_about_kg"),
        (lambda one: _kg(one.fuel_kg), lambda one: _tenths(one.fuel_kg)),
    )
]
ONLY_CSV: ColumnGroup = [
    (Column("", "end_named_in_text", figures=False), (_empty_cell, lambda one: "yes" if one.in_text[1] else "no")),
    (Column("", "time_rests_on", figures=False), (_empty_cell, lambda one: one.basis if one.time else "")),
    (Column("", "gap", figures=False), (_gap, _gap)),
]
