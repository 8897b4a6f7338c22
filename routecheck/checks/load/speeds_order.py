"""Check speeds-order."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limits, case, check, exceeds
from routecheck.formatting import listing
from routecheck.model import LOAD_NAMES, Fact, Finding, Load, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

_SPEEDS = ("v1_kt", "vr_kt", "v2_kt")
_LEAST = 2


def _lacking_speeds(route: Route) -> str:
    load = route.route_input.load
    stated = [name for name in _SPEEDS if load and load.get(name) is not None]
    return "" if len(stated) >= _LEAST else "fewer than two of V1, VR and V2 are stated"


@check(
    "speeds-order",
    Weight.WRONG,
    family=Family.LOAD,
    sentence="V1 is above VR, or VR above V2, as they are stated.",
    explanation=(
        "V1 may be no more than VR, and VR no more than V2 (14 CFR 25.107, from memory). Whether the speeds fit "
        "weight, runway and air is not looked at: that is the manual's."
    ),
    false_alarms="none known.",
    requires=(_lacking_speeds,),
    flagged=[
        case("LENDU", load=Load(v1_kt=142.0, vr_kt=135.0, v2_kt=141.0), whole=True),
        case("LENDU", load=Load(v1_kt=132.0, v2_kt=114.0), whole=True),
    ],
    quiet=[
        case("LENDU", load=Load(v1_kt=132.0, vr_kt=135.0, v2_kt=141.0)),
        case("LENDU", load=Load(v1_kt=135.0, vr_kt=135.0, v2_kt=135.0)),
        case("LENDU", load=Load(vr_kt=135.0)),
        "LENDU",
    ],
)
def speeds_order(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    load = route.route_input.load
    if load is None:
        return
    speeds = [(name, speed) for name in _SPEEDS if (speed := load.get(name)) is not None]
    faults = [(low, high) for low, high in pairwise(speeds) if exceeds(low[1], high[1])]
    if faults:
        words = listing([f"{_name(low)} is above {_name(high)}" for low, high in faults])
        facts = tuple(Fact(LOAD_NAMES[name], speed, "kt") for name, speed in speeds)
        yield Finding((), f"{words}: V1, VR and V2 do not fall.", Weight.WRONG, facts)
    elif len(speeds) < len(_SPEEDS):
        missing = listing([LOAD_NAMES[name] for name in _SPEEDS if load.get(name) is None])
        yield NotChecked((), f"{missing} is not stated")


def _name(speed: tuple[str, float]) -> str:
    return f"{LOAD_NAMES[speed[0]]} {speed[1]:g} kt"
