"""Check weights-chain."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from routecheck.checks.catalogue import Family, Limits, case, check
from routecheck.checks.load_queries import check_sums, lacking_load
from routecheck.model import Finding, Load, NotChecked, Weight
from routecheck.performance.load_sums import WEIGHT_SUMS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

_PLAN: dict[str, Any] = {"zero_fuel_weight": 54_200.0, "block_fuel": 9_100.0, "taxi_fuel": 200.0, "trip_fuel": 6_000.0}


@check(
    "weights-chain",
    Weight.WRONG,
    family=Family.LOAD,
    sentence="The plan's own weights do not add up: payload, ZFW, TOW or LW.",
    explanation=(
        "Passengers at their weight and baggage make the payload; with the basic operating weight it makes the ZFW; "
        "with block fuel less taxi fuel that makes the TOW; less trip fuel that makes the LW. The basic operating "
        "weight counts the crew, unless the crew is stated beside it. What lies beyond the rounding of all figures is "
        "said, with the error of unit, size or digit that explains it. A sum that lacks a figure is not checked."
    ),
    false_alarms="weights that are rounded to hundreds or thousands without saying so.",
    requires=(lacking_load,),
    flagged=[
        case("LENDU", load=Load("kg", take_off_weight=64_100.0, **_PLAN), whole=True),
        case("LENDU", load=Load("kg", take_off_weight=63_100.0, landing_weight=63_100.0, **_PLAN), whole=True),
        case(
            "LENDU",
            load=Load("kg", passengers=100.0, passenger_weight=185.0, baggage=1_000.0, payload=9_400.0),
            whole=True,
        ),
    ],
    quiet=[
        case("LENDU", load=Load("kg", take_off_weight=63_100.0, landing_weight=57_100.0, **_PLAN)),
        case("LENDU", load=Load("kg", take_off_weight=63_101.0, **_PLAN)),
        case("LENDU", load=Load("kg", basic_operating_weight=41_000.0, zero_fuel_weight=54_200.0)),
        "LENDU",
    ],
)
def weights_chain(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    if route.route_input.load:
        yield from check_sums(route.route_input.load, WEIGHT_SUMS)
