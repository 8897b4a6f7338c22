"""What a rule for the reserve of fuel asks for, term by term, with its arithmetic. No judging here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass
from routecheck.model import KG_PER_UNIT

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import AircraftSheet, Load, ReserveRule


@dataclass(frozen=True, slots=True)
class ReserveTerm:
    """One amount that a rule asks for, in the unit of the plan; None = not known, `lacks` says what for."""

    name: str
    amount: float | None
    lacks: str = ""


@dataclass(frozen=True, slots=True)
class FuelFlows:
    """Fuel flows in the unit of the plan an hour; None = not known, `lacks` says why."""

    cruise: float | None
    holding: float | None
    lacks: str = ""


TYPICAL_ONLY = "typical figures only"


def fuel_flows(sheet: AircraftSheet | None, unit: str) -> FuelFlows:
    """The flows of the user's own sheet. Those of a typical sheet are no ground to judge a reserve on."""
    if sheet is None:
        return FuelFlows(None, None, "no Aircraft sheet is chosen")
    if sheet.typical:
        return FuelFlows(None, None, TYPICAL_ONLY)
    if unit not in KG_PER_UNIT:
        return FuelFlows(None, None, "it is not said whether figures are in kg or lb")
    factor = 1.0 / KG_PER_UNIT[unit]
    cruise, holding = (
        None if flow is None else flow * factor for flow in (sheet.cruise_fuel_kg_h, sheet.holding_fuel_kg_h)
    )
    return FuelFlows(cruise, holding, "the Aircraft sheet gives no such fuel flow")


def reserve_terms(rule: ReserveRule, load: Load, flows: FuelFlows, trip_min: float | None) -> tuple[ReserveTerm, ...]:
    """All that a rule asks for at take-off, in the order in which it is read out."""
    return tuple(_terms(rule, load, flows, trip_min))


def _terms(rule: ReserveRule, load: Load, flows: FuelFlows, trip_min: float | None) -> Iterator[ReserveTerm]:
    yield _stated_term(load.trip_fuel, "trip fuel")
    if rule.time_share:
        minutes = None if trip_min is None else rule.time_share * trip_min
        name = f"{rule.time_share:.0%} of the time"
        yield (
            _flown_term(name, minutes, flows.cruise, flows.lacks)
            if minutes is not None
            else ReserveTerm(name, None, "the time to the destination is not stated")
        )
    if rule.trip_share:
        yield _contingency(rule, load, flows)
    if rule.with_alternate:
        yield _stated_term(load.alternate_fuel, "alternate fuel")
    place = "holding" if rule.is_holding else "cruise"
    flow = flows.holding if rule.is_holding else flows.cruise
    yield _flown_term(f"{rule.minutes:.0f} min of {place}", rule.minutes, flow, flows.lacks)


def _stated_term(amount: float | None, name: str) -> ReserveTerm:
    return ReserveTerm(name, amount, "" if amount is not None else f"the {name} is not stated")


def _flown_term(name: str, minutes: float, flow: float | None, lacks: str) -> ReserveTerm:
    if flow is None:
        return ReserveTerm(name, None, lacks)
    return ReserveTerm(
        f"{name} ({minutes:.0f} min at {flow:,.0f} an hour)" if "%" in name else f"{name} at {flow:,.0f} an hour",
        flow * minutes / 60.0,
    )


def _contingency(rule: ReserveRule, load: Load, flows: FuelFlows) -> ReserveTerm:
    """A share of the trip fuel, or some minutes of holding where that is more."""
    name = f"{rule.trip_share:.0%} of the trip fuel, or {rule.least_holding_min:.0f} min of holding"
    if load.trip_fuel is None:
        return ReserveTerm(name, None, "the trip fuel is not stated")
    share = rule.trip_share * load.trip_fuel
    least = 0.0 if flows.holding is None else flows.holding * rule.least_holding_min / 60.0
    return ReserveTerm(name, max(share, least))
