"""Check claimed-fuel."""

from __future__ import annotations

from statistics import median
from typing import TYPE_CHECKING, NamedTuple

from routecheck.checks.catalogue import Family, Limit, Limits, case, check, exceeds
from routecheck.checks.claim_queries import claims_some, match_claims, spans_of_leg, stated_time
from routecheck.citations import OWN_CHOICE
from routecheck.model import Claim, Fact, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.checks.claim_queries import ClaimedLeg
    from routecheck.model import Route

MOST = Limit(
    "most_times", 5.0, "times the usual", OWN_CHOICE, why="a climb burns two to three times as much, from memory"
)
LEAST = Limit(
    "least_share", 0.15, "of the usual", OWN_CHOICE, highest=1.0, why="a descent burns a third to a fifth, from memory"
)
_LEAST_LEGS = 4
_LEAST_MIN = 3.0
"""Legs of fewer minutes tell too little: their rounding alone may double the flow."""


class _Flow(NamedTuple):
    """What a leg burns an hour by its fuel and time, and the least and most that rounding leaves open."""

    leg: ClaimedLeg
    kg_h: float
    least_kg_h: float
    most_kg_h: float


@check(
    "claimed-fuel",
    Weight.DOUBTFUL,
    family=Family.CLAIMS,
    sentence="A leg of the plan burns many times more, or less, an hour than its other legs do.",
    explanation=(
        "Fuel by time of each leg of 3 minutes or more, against the middle one of all legs. What an aircraft burns is "
        "not looked up: a digit too many, or one too few, is what this sees. Sums of fuel are looked at by sums and "
        "fuel-chain."
    ),
    false_alarms="a leg with holding, or with engines out, that the plan counts into it.",
    limits=[MOST, LEAST],
    requires=(claims_some("fuel_kg"),),
    flagged=[
        case(
            "LENDU DCT PIKAR DCT «UVAGI» DCT TOVIK",
            claims=(
                Claim("LENDU", time_min=14.0, fuel_kg=1_400.0),
                Claim("PIKAR", time_min=12.0, fuel_kg=480.0),
                Claim("UVAGI", time_min=10.0, fuel_kg=4_100.0),
                Claim("TOVIK", time_min=12.0, fuel_kg=470.0),
            ),
        ),
    ],
    quiet=[
        case(
            "LENDU DCT PIKAR DCT UVAGI DCT TOVIK",
            claims=(
                Claim("LENDU", time_min=14.0, fuel_kg=1_900.0),
                Claim("PIKAR", time_min=12.0, fuel_kg=480.0),
                Claim("UVAGI", time_min=10.0, fuel_kg=410.0),
                Claim("TOVIK", time_min=12.0, fuel_kg=100.0),
            ),
        ),
        case("LENDU DCT PIKAR", claims=(Claim("LENDU", time_min=10.0, fuel_kg=400.0), Claim("PIKAR", fuel_kg=4.0))),
        "LENDU DCT PIKAR",
    ],
)
def claimed_fuel(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    flows = [flow for leg in match_claims(route).legs if (flow := _find_flow(leg))]
    if len(flows) < _LEAST_LEGS:
        yield NotChecked((), "fewer than four legs with fuel and time: what is usual is not known")
        return
    usual = median(flow.kg_h for flow in flows)
    odd = [flow for flow in flows if _is_odd(flow, usual, limit)]
    if odd:
        yield _make_finding(route, odd[0], usual)


def _find_flow(leg: ClaimedLeg) -> _Flow | None:
    fuel, time = leg.claim.fuel_kg, stated_time(leg)
    if fuel is None or time is None or time.figure < _LEAST_MIN or fuel <= 0.0:
        return None
    half = leg.claim.half("fuel_kg")
    least = max(fuel - half, 0.0) / (time.figure + time.half)
    most = (fuel + half) / (time.figure - time.half)
    return _Flow(leg, fuel / time.figure * 60.0, least * 60.0, most * 60.0)


def _is_odd(flow: _Flow, usual: float, limit: Limits) -> bool:
    return exceeds(flow.least_kg_h, limit[MOST] * usual) or exceeds(limit[LEAST] * usual, flow.most_kg_h)


def _make_finding(route: Route, flow: _Flow, usual: float) -> Finding:
    fuel, time = flow.leg.claim.fuel_kg or 0.0, stated_time(flow.leg)
    minutes = time.figure if time else 0.0
    message = (
        f"The plan burns {fuel:,.0f} kg in the {minutes:g} min to {flow.leg.claim.to}, {flow.kg_h:,.0f} kg/h; usual on "
        f"its legs is {usual:,.0f} kg/h."
    )
    facts = Fact("flow", round(flow.kg_h), "kg/h"), Fact("usual", round(usual), "kg/h")
    return Finding(spans_of_leg(route, flow.leg.end), message, Weight.DOUBTFUL, facts, points=(flow.leg.end,))
