"""What checks ask of the fuel on board: what there is at take-off and at the destination, what a rule asks for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.claim_queries import match_claims, stated_whole_time
from routecheck.entry_errors.figures import write_mass
from routecheck.frozen_dataclass import dataclass
from routecheck.model import KG_PER_UNIT, LOAD_NAMES
from routecheck.performance.reserves import fuel_flows, reserve_terms

if TYPE_CHECKING:
    from routecheck.model import Load, ReserveRule, Route
    from routecheck.performance.reserves import ReserveTerm


@dataclass(frozen=True, slots=True)
class FuelSupply:
    """An amount of fuel on board by the plan, what rounding may move it by, and how it follows from what is stated."""

    amount: float
    rounding: float
    words: str


def fuel_at_take_off(load: Load) -> FuelSupply | None:
    """Block fuel less taxi fuel, or TOW less ZFW; None where neither is stated."""
    return _supply_without(load, "block_fuel", "taxi_fuel") or _supply_without(
        load, "take_off_weight", "zero_fuel_weight"
    )


def fuel_at_destination(load: Load, route: Route | None = None) -> FuelSupply | None:
    """What the plan states to be left there, or what its other figures leave; None where they do not say."""
    if load.landing_fuel is not None:
        return FuelSupply(load.landing_fuel, load.half("landing_fuel"), "as stated")
    found = _supply_without(load, "block_fuel", "taxi_fuel", "trip_fuel") or _supply_without(
        load, "landing_weight", "zero_fuel_weight"
    )
    return found or (_left_by_nav_log(load, route) if route else None)


def _left_by_nav_log(load: Load, route: Route) -> FuelSupply | None:
    """What the nav log has left at the destination, in the unit of the plan."""
    last = match_claims(route).legs[-1:]
    if not last or last[0].end != len(route.points) - 1 or load.unit not in KG_PER_UNIT:
        return None
    claim, factor = last[0].claim, 1.0 / KG_PER_UNIT[load.unit]
    if claim.fuel_left_kg is None:
        return None
    return FuelSupply(claim.fuel_left_kg * factor, claim.half("fuel_left_kg") * factor, "by the nav log")


def _supply_without(load: Load, whole: str, *parts: str) -> FuelSupply | None:
    figures = [load.get(name) for name in (whole, *parts)]
    known = [figure for figure in figures if figure is not None]
    if len(known) < len(figures):
        return None
    rounding = sum(load.half(name) for name in (whole, *parts))
    words = " − ".join(
        f"{LOAD_NAMES[n]} {write_mass(figure)}" for n, figure in zip((whole, *parts), known, strict=True)
    )
    return FuelSupply(known[0] - sum(known[1:]), rounding, words)


def find_reserve_need(route: Route, rule: ReserveRule) -> tuple[ReserveTerm, ...]:
    """All that a rule asks for at take-off, from the plan's own figures and the user's own sheet."""
    load, time = route.route_input.load, stated_whole_time(route)
    if load is None:
        return ()
    flows = fuel_flows(route.route_input.sheet, load.unit)
    return reserve_terms(rule, load, flows, time.figure if time else None)
