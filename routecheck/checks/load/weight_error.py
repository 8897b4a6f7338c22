"""Check weight-error."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limits, case, check, exceeds
from routecheck.checks.load_queries import in_unit, lacking_load
from routecheck.checks.route_times import planned_times
from routecheck.entry_errors.figures import FigureError, explain_figure, write_mass
from routecheck.formatting import three_figures
from routecheck.model import KG_PER_UNIT, LOAD_NAMES, Fact, Finding, Load, NotChecked, Weight
from routecheck.performance.load_sums import load_sums

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

_ENTERED = {"zero_fuel_weight_entered": "zero_fuel_weight", "take_off_weight_entered": "take_off_weight"}
_ORDER = (
    ("zero_fuel_weight", "take_off_weight"),
    ("landing_weight", "take_off_weight"),
    ("zero_fuel_weight", "landing_weight"),
    ("basic_operating_weight", "zero_fuel_weight"),
)
"""The first of each pair is never more than the second."""
_OPEN = 0.015
"""Trip fuel as computed is no better known than this for telling a factor: beyond it nothing is said. Our choice."""


@check(
    "weight-error",
    Weight.DOUBTFUL,
    family=Family.LOAD,
    sentence="A weight looks like an entry error: two that must agree differ, or two stand in each other's place.",
    explanation=(
        "ZFW and TOW as entered against the plan's, with the error of unit, size, digit or place that explains the "
        "difference; a ZFW above the TOW or LW; trip fuel that is that of the route in another unit or ten times it, "
        "by the fuel flow of the user's own Aircraft sheet. What explains a sum that does not come out stands with "
        "that sum. Weights 100 t too low by one digit were behind tail strikes at Auckland in 2003 and Melbourne in "
        "2009, pounds taken for kilograms behind the aircraft without fuel at Gimli in 1983 (all from memory)."
    ),
    false_alarms="a last-minute change of the load that the plan in hand does not have yet.",
    requires=(lacking_load,),
    flagged=[
        case("LENDU", load=Load("kg", zero_fuel_weight=54_200.0, zero_fuel_weight_entered=45_200.0), whole=True),
        case(
            "LENDU",
            load=Load("kg", zero_fuel_weight=54_200.0, take_off_weight=63_100.0, zero_fuel_weight_entered=63_100.0),
            whole=True,
        ),
        case("LENDU", load=Load("kg", zero_fuel_weight=63_100.0, take_off_weight=54_200.0), whole=True),
    ],
    quiet=[
        case("LENDU", load=Load("kg", zero_fuel_weight=54_200.0, zero_fuel_weight_entered=54_200.0)),
        case("LENDU", load=Load("kg", zero_fuel_weight=54_200.0, take_off_weight=63_100.0)),
        "LENDU",
    ],
)
def weight_error(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    load = route.route_input.load
    if load is None:
        return
    for entered, planned in _ENTERED.items():
        yield from _compare_entered(load, entered, planned)
    if not any(one.is_off for one in load_sums(load).values()):
        yield from _check_order(load)
        yield from _check_trip_fuel(route, load)


def _compare_entered(load: Load, entered: str, planned: str) -> Iterator[Finding | NotChecked]:
    shown, sums = load.get(entered), load_sums(load)[planned]
    wanted = sums.computed if sums.stated is None else sums.stated
    if shown is None:
        return
    if wanted is None:
        yield NotChecked((), f"{LOAD_NAMES[planned]} as entered is compared with nothing: the plan states none")
        return
    rounding = load.half(entered) + (sum(t.half for t in sums.terms) if sums.stated is None else sums.half)
    if not exceeds(abs(shown - wanted), 0.0, rounding):
        return
    others = {LOAD_NAMES[name]: figure for name in LOAD_NAMES if name not in _ENTERED and (figure := load.get(name))}
    message = f"{LOAD_NAMES[planned]} is entered as {in_unit(shown, load)}; the plan has {in_unit(wanted, load)}."
    place = [name for name, figure in others.items() if abs(figure - shown) <= rounding]
    likely = explain_figure(shown, wanted, rounding, unit=load.unit)
    if place:
        message += f" Perhaps the {place[0]} was entered in its place."
    elif likely:
        message += f" Perhaps {likely.words}."
    facts = Fact("entered", shown, load.unit), Fact("planned", round(wanted, 1), load.unit)
    yield Finding((), message, Weight.DOUBTFUL, facts)


def _check_order(load: Load) -> Iterator[Finding]:
    """The first two weights that stand in each other's place."""
    for low, high in _ORDER:
        less, more = load.get(low), load.get(high)
        if less is None or more is None or not exceeds(less - more, 0.0, load.half(low) + load.half(high)):
            continue
        message = (
            f"{LOAD_NAMES[low]} {write_mass(less)} is more than {LOAD_NAMES[high]} {in_unit(more, load)}. Perhaps the "
            "two are exchanged."
        )
        facts = Fact(LOAD_NAMES[low], less, load.unit), Fact(LOAD_NAMES[high], more, load.unit)
        yield Finding((), message, Weight.DOUBTFUL, facts)
        return


def _check_trip_fuel(route: Route, load: Load) -> Iterator[Finding | NotChecked]:
    """Trip fuel against that of the route by the user's own sheet: only what another unit or a digit more explains."""
    sheet, trip = route.route_input.sheet, load.trip_fuel
    if trip is None:
        return
    if sheet is None or sheet.typical or load.unit not in KG_PER_UNIT:
        yield NotChecked((), "trip fuel is not compared with the route: that needs an own Aircraft sheet and the unit")
        return
    times = planned_times(route)
    if times is None or times.fuel_kg is None or times.gaps:
        yield NotChecked((), "trip fuel is not compared with the route: part of the route has no fuel")
        return
    computed = times.fuel_kg / KG_PER_UNIT[load.unit]
    likely = explain_figure(trip, computed, _OPEN * computed, unit=load.unit)
    if likely and likely.kind in (FigureError.UNIT, FigureError.TEN):
        message = (
            f"Trip fuel {in_unit(trip, load)}; by this Aircraft sheet the route takes about {three_figures(computed)}."
        )
        message += f" Perhaps {likely.words}."
        yield Finding(
            (),
            message,
            Weight.DOUBTFUL,
            (Fact("stated", trip, load.unit), Fact("computed", round(computed), load.unit)),
        )
