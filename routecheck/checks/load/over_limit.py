"""Check over-limit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limits, case, check, exceeds
from routecheck.checks.load_queries import NO_UNIT, capitalise, in_unit, lacking_load
from routecheck.entry_errors.figures import write_mass
from routecheck.formatting import listing
from routecheck.model import KG_PER_UNIT, LOAD_NAMES, AircraftSheet, Fact, Finding, Load, NotChecked, Weight
from routecheck.performance.load_sums import load_sums

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

_LIMITS = {
    "payload": "payload_kg",
    "zero_fuel_weight": "zero_fuel_kg",
    "block_fuel": "tank_kg",
    "take_off_weight": "take_off_kg",
    "landing_weight": "landing_kg",
}
_FAR_OVER = 1.25
"""So far over a limit, a figure may be in another unit or have a digit too many: our choice."""


def _lacking_limits(route: Route) -> str:
    load, sheet = route.route_input.load, route.route_input.sheet
    if sheet is None:
        return "no Aircraft sheet is chosen, and limits come from the user's own sheet alone"
    if sheet.typical:
        return f"“{sheet.name}” has typical figures only, and limits come from the user's own sheet alone"
    return "" if load and load.unit in KG_PER_UNIT else NO_UNIT


@check(
    "over-limit",
    Weight.WRONG,
    family=Family.LOAD,
    sentence="Payload, ZFW, TOW, LW or block fuel is over the limit of the user's own Aircraft sheet.",
    explanation=(
        "As stated, or as the plan's other figures make it where it is not stated. Only an Aircraft sheet of the "
        "user's own has limits; typical figures judge nothing. Limits of the runway, of the weather and of the balance "
        "are not looked at."
    ),
    false_alarms="none known: the limits are the user's.",
    requires=(lacking_load, _lacking_limits),
    flagged=[
        case(
            "LENDU",
            load=Load("kg", take_off_weight=79_500.0),
            sheet=AircraftSheet("own", take_off_kg=79_000.0),
            whole=True,
        ),
        case("LENDU", load=Load("lb", block_fuel=20_000.0), sheet=AircraftSheet("own", tank_kg=9_000.0), whole=True),
    ],
    quiet=[
        case("LENDU", load=Load("kg", take_off_weight=79_000.0), sheet=AircraftSheet("own", take_off_kg=79_000.0)),
        case("LENDU", load=Load("lb", take_off_weight=170_000.0), sheet=AircraftSheet("own", take_off_kg=79_000.0)),
        case("LENDU", load=Load("kg", take_off_weight=99_000.0), sheet=AircraftSheet("a class", typical=True)),
        "LENDU",
    ],
)
def over_limit(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    load, sheet = route.route_input.load, route.route_input.sheet
    if load is None or sheet is None:
        return
    sums, unchecked = load_sums(load), list[str]()
    for name, field in _LIMITS.items():
        most_kg: float | None = getattr(sheet, field)
        amount = sums[name].computed if load.get(name) is None else load.get(name)
        if amount is None or most_kg is None:
            unchecked += [LOAD_NAMES[name]] if amount is not None else []
            continue
        most = round(most_kg / KG_PER_UNIT[load.unit])
        half = load.half(name) if load.get(name) is not None else sum(term.half for term in sums[name].terms)
        if exceeds(amount, most, half):
            yield _make_finding(name, amount, most, load)
    if unchecked:
        yield NotChecked((), f"the Aircraft sheet has no limit for {listing(unchecked)}")


def _make_finding(name: str, amount: float, most: float, load: Load) -> Finding:
    message = (
        f"{LOAD_NAMES[name]} {in_unit(amount, load)} is {in_unit(amount - most, load)} over the {in_unit(most, load)} "
        "of this Aircraft sheet."
    )
    message = capitalise(message)
    in_kg = round(amount * KG_PER_UNIT["lb"])
    if load.unit == "kg" and amount > _FAR_OVER * most and in_kg <= most:
        message += f" Perhaps it is in lb: {write_mass(amount)} lb are {write_mass(in_kg)} kg."
    elif amount > _FAR_OVER * most and amount / 10.0 <= most:
        message += f" Perhaps it has a digit too many: {write_mass(amount / 10.0)}."
    facts = Fact("stated", amount, load.unit), Fact("limit", round(most, 1), load.unit)
    return Finding((), message, Weight.WRONG, facts)
