"""Check fuel-chain."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from routecheck.checks.catalogue import Family, Limits, case, check, exceeds
from routecheck.checks.claim_queries import match_claims, spans_of_leg
from routecheck.checks.load_queries import NO_LOAD, check_sums, lacking_load
from routecheck.model import Claim, Fact, Finding, Load, NotChecked, Weight
from routecheck.performance.load_sums import FUEL_SUMS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

_PARTS: dict[str, Any] = {
    "taxi_fuel": 200.0,
    "trip_fuel": 4_500.0,
    "contingency_fuel": 225.0,
    "alternate_fuel": 1_100.0,
    "final_reserve_fuel": 1_200.0,
}


def _lacking_fuel(route: Route) -> str:
    claims = route.route_input.claims
    return "" if any(claim.fuel_left_kg is not None for claim in claims) or not lacking_load(route) else NO_LOAD


@check(
    "fuel-chain",
    Weight.WRONG,
    family=Family.LOAD,
    sentence="The plan's own fuel does not add up, or what is left of it grows on the way.",
    explanation=(
        "Taxi, trip, contingency, alternate, final reserve and extra fuel make the block fuel; block fuel less taxi "
        "and trip fuel is left at the destination. Parts that alone exceed the block fuel are wrong whatever is "
        "missing; else a sum that lacks a figure is not checked: extra fuel of none is stated as 0. What is left falls "
        "from point to point of a nav log."
    ),
    false_alarms="fuel that is rounded to hundreds without saying so; additional fuel that the plan names otherwise.",
    requires=(_lacking_fuel,),
    flagged=[
        case("LENDU", load=Load("kg", block_fuel=7_825.0, extra_fuel=0.0, **_PARTS), whole=True),
        case("LENDU", load=Load("kg", block_fuel=7_000.0, **_PARTS), whole=True),
        case("LENDU", load=Load("kg", block_fuel=7_225.0, landing_fuel=5_225.0, **_PARTS), whole=True),
        case("LENDU DCT «PIKAR»", claims=(Claim("LENDU", fuel_left_kg=5_000.0), Claim("PIKAR", fuel_left_kg=5_600.0))),
    ],
    quiet=[
        case("LENDU", load=Load("kg", block_fuel=7_225.0, extra_fuel=0.0, landing_fuel=2_525.0, **_PARTS)),
        case("LENDU", load=Load("kg", block_fuel=7_825.0, **_PARTS)),
        case("LENDU DCT PIKAR", claims=(Claim("LENDU", fuel_left_kg=5_600.0), Claim("PIKAR", fuel_left_kg=5_000.0))),
        "LENDU",
    ],
)
def fuel_chain(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    if route.route_input.load:
        yield from check_sums(route.route_input.load, FUEL_SUMS)
    yield from _check_remaining(route)


def _check_remaining(route: Route) -> Iterator[Finding]:
    """The first point of the nav log at which more is left than at the point before it."""
    for leg in match_claims(route).legs:
        now, then = leg.claim.fuel_left_kg, leg.before.fuel_left_kg if leg.before else None
        if now is None or then is None or leg.before is None:
            continue
        if exceeds(now - then, 0.0, leg.claim.half("fuel_left_kg") + leg.before.half("fuel_left_kg")):
            message = (
                f"The plan has {then:,.0f} kg left at {leg.before.to} and {now:,.0f} kg at {leg.claim.to} after it."
            )
            facts = Fact("left before", then, "kg"), Fact("left there", now, "kg")
            yield Finding(spans_of_leg(route, leg.end), message, Weight.WRONG, facts, points=(leg.end,))
            return
