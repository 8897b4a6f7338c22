"""Check landing-fuel."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from routecheck.checks.catalogue import Family, Limits, case, check, exceeds
from routecheck.checks.claim_queries import stated_whole_time
from routecheck.checks.fuel_queries import FuelSupply, find_reserve_need, fuel_at_destination, fuel_at_take_off
from routecheck.checks.load_queries import NO_LOAD, in_unit
from routecheck.entry_errors.figures import write_mass
from routecheck.formatting import duration, listing
from routecheck.model import (
    LOAD_NAMES,
    RESERVE_RULES,
    AircraftSheet,
    Fact,
    Finding,
    Load,
    NotChecked,
    PlanTotals,
    Weight,
)
from routecheck.performance.load_sums import FUEL_SUMS, load_sums
from routecheck.performance.reserves import TYPICAL_ONLY

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import ReserveRule, Route

_OWN = AircraftSheet("own", cruise_fuel_kg_h=2_400.0, holding_fuel_kg_h=2_000.0)
_FUEL: dict[str, Any] = {"taxi_fuel": 200.0, "trip_fuel": 4_500.0, "alternate_fuel": 1_100.0}


def _lacking_fuel(route: Route) -> str:
    load, totals = route.route_input.load, route.route_input.stated_totals
    if totals and totals.endurance_min is not None:
        return ""
    if load and (fuel_at_take_off(load) or fuel_at_destination(load, route)):
        return ""
    return "the plan states no fuel on board" if load and load.states_masses else NO_LOAD


@check(
    "landing-fuel",
    Weight.WRONG,
    family=Family.LOAD,
    sentence="Less fuel is left at the destination than the plan's own reserve, or than the rule chosen asks for.",
    explanation=(
        "What is left at the destination against alternate fuel and final reserve as the plan states them; and, where "
        "a rule is chosen by its name, fuel at take-off against trip, contingency, alternate and reserve by that rule, "
        "with the fuel flow of the user's own Aircraft sheet. The endurance against the elapsed time with the reserve. "
        "It never says that fuel is enough: weather, delays, alternates and the operator's rules decide that, and "
        "typical figures judge nothing."
    ),
    false_alarms="flights for which the rule asks for no alternate, where alternate fuel is stated all the same.",
    citations=["vfr-reserve", "ifr-reserve", "domestic-reserve", "flag-reserve", "annex-6-reserve"],
    requires=(_lacking_fuel,),
    flagged=[
        case(
            "LENDU",
            load=Load("kg", landing_fuel=2_000.0, alternate_fuel=1_100.0, final_reserve_fuel=1_200.0),
            whole=True,
        ),
        case("LENDU", load=Load("kg", reserve_rule="91.167", block_fuel=7_500.0, **_FUEL), sheet=_OWN, whole=True),
        case("LENDU", stated_totals=PlanTotals(time_min=120.0, endurance_min=90.0), whole=True),
        case(
            "LENDU",
            load=Load(reserve_rule="91.151 night"),
            stated_totals=PlanTotals(time_min=120.0, endurance_min=160.0),
            whole=True,
        ),
    ],
    quiet=[
        case("LENDU", load=Load("kg", landing_fuel=2_300.0, alternate_fuel=1_100.0, final_reserve_fuel=1_200.0)),
        case("LENDU", load=Load("kg", reserve_rule="91.167", block_fuel=7_600.0, **_FUEL), sheet=_OWN),
        case("LENDU", load=Load("kg", reserve_rule="91.167", block_fuel=6_500.0, **_FUEL)),
        case("LENDU", stated_totals=PlanTotals(time_min=120.0, endurance_min=165.0)),
        "LENDU",
    ],
)
def landing_fuel(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    load = route.route_input.load or Load()
    yield from _check_endurance(route, load)
    yield from _check_left(route, load)
    if load.states_masses:
        yield from _check_rule(route, load)


def _check_endurance(route: Route, load: Load) -> Iterator[Finding | NotChecked]:
    totals, time = route.route_input.stated_totals, stated_whole_time(route)
    endurance = totals.endurance_min if totals else None
    if endurance is None:
        return
    if time is None:
        yield NotChecked((), "the endurance is compared with nothing: the plan states no elapsed time")
        return
    rule = RESERVE_RULES.get(load.reserve_rule)
    parts = [(f"the flight {duration(time.figure)}", time.figure)]
    if rule and rule.with_alternate and load.alternate_min:
        parts.append((f"the alternate {duration(load.alternate_min)}", load.alternate_min))
    if rule:
        parts.append((f"the reserve of {rule.name} {duration(rule.minutes)}", rule.minutes))
    needed = sum(minutes for _, minutes in parts)
    if rule and rule.with_alternate and load.alternate_min is None:
        yield NotChecked((), f"the time to the alternate is not stated; {rule.name} asks for it in the endurance")
    if exceeds(needed - endurance, 0.0):
        sums = f"{' + '.join(words for words, _ in parts)} make {duration(needed)}" if rule else parts[0][0]
        message = f"The endurance is {duration(endurance)}; {sums}{'' if rule else ' takes longer'}."
        yield Finding((), message, Weight.WRONG, (Fact("endurance", endurance, "min"), Fact("needed", needed, "min")))


def _check_left(route: Route, load: Load) -> Iterator[Finding]:
    """What is left at the destination against the plan's own alternate fuel and final reserve."""
    left = fuel_at_destination(load, route)
    names = [name for name in ("alternate_fuel", "final_reserve_fuel") if load.get(name) is not None]
    needed = sum(load.get(name) or 0.0 for name in names)
    if left is None or not exceeds(needed - left.amount, 0.0, left.rounding + sum(load.half(name) for name in names)):
        return
    parts = " + ".join(f"{LOAD_NAMES[name]} {write_mass(load.get(name) or 0.0)}" for name in names)
    makes = f"{parts} make {in_unit(needed, load)}" if len(names) > 1 else f"{parts} {load.unit}".rstrip()
    message = f"At the destination {in_unit(left.amount, load)} are left ({left.words}); {makes}."
    yield Finding((), message, Weight.WRONG, _facts(left, needed, load))


def _facts(supply: FuelSupply, needed: float, load: Load) -> tuple[Fact, ...]:
    return Fact("on board", round(supply.amount, 1), load.unit), Fact("needed", round(needed, 1), load.unit)


def _check_rule(route: Route, load: Load) -> Iterator[Finding | NotChecked]:
    """Fuel at take-off against all that a rule asks for; what it asks for and is not known is said, never assumed."""
    rule, supply = RESERVE_RULES.get(load.reserve_rule), fuel_at_take_off(load)
    if rule is None:
        yield NotChecked((), "fuel is judged by no rule: none is chosen")
        return
    if supply is None:
        yield NotChecked((), f"{rule.name}: fuel at take-off is not stated")
        return
    terms = find_reserve_need(route, rule)
    known = [(term.name, term.amount) for term in terms if term.amount is not None]
    needed = sum(amount for _, amount in known)
    if exceeds(needed - supply.amount, 0.0, supply.rounding):
        parts = " + ".join(f"{name} {write_mass(round(amount))}" for name, amount in known)
        at_least = "at least " if len(known) < len(terms) else ""
        message = (
            f"{rule.name} asks for {at_least}{in_unit(round(needed), load)} at take-off: {parts}. On board are "
            f"{in_unit(supply.amount, load)} ({supply.words})."
        )
        yield Finding((), message, Weight.WRONG, _facts(supply, needed, load), citations=(rule.citation,))
    elif lacking := list(dict.fromkeys(term.lacks for term in terms if term.lacks)):
        yield NotChecked((), _say_not_judged(load, rule, lacking))


def _say_not_judged(load: Load, rule: ReserveRule, lacking: list[str]) -> str:
    if lacking != [TYPICAL_ONLY]:
        return f"fuel is not judged by {rule.name}: {listing(lacking)}"
    sums = [one for name, one in load_sums(load).items() if name in FUEL_SUMS and one.stated is not None]
    adds_up = sums and not any(one.is_off or one.missing for one in sums)
    return f"fuel not judged: {TYPICAL_ONLY}" + (". The plan's own arithmetic adds up" if adds_up else "")
