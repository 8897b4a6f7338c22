"""Check sums."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from routecheck.checks.catalogue import Family, Limits, case, check, exceeds
from routecheck.checks.claim_queries import NOTHING_CLAIMED, half_of_leg_time, match_claims, spans_of_leg
from routecheck.formatting import count
from routecheck.model import Claim, Fact, Finding, NotChecked, PlanTotals, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.checks.claim_queries import ClaimedLeg
    from routecheck.model import Route


class _Quantity(NamedTuple):
    """What is summed along a plan: its names in Claim and PlanTotals, "" = it has none, and how it is said."""

    name: str
    unit: str
    of_leg: str
    so_far: str
    left: str
    whole: str


_QUANTITIES = (
    _Quantity("distance", "NM", "distance_nm", "distance_so_far_nm", "distance_left_nm", "distance_nm"),
    _Quantity("time", "min", "time_min", "time_so_far_min", "time_left_min", "time_min"),
    _Quantity("fuel", "kg", "fuel_kg", "", "fuel_left_kg", "fuel_kg"),
)


class _Fault(NamedTuple):
    """A place where the plan's own figures do not add up. `leg` None = in the whole."""

    quantity: _Quantity
    leg: ClaimedLeg | None
    sentence: str
    reckoned: float
    stated: float
    rounding: float


def _lacking_figures(route: Route) -> str:
    claims = route.route_input.claims
    names = [name for one in _QUANTITIES for name in one[2:5] if name]
    return "" if any(getattr(claim, name) is not None for claim in claims for name in names) else NOTHING_CLAIMED


@check(
    "sums",
    Weight.WRONG,
    family=Family.CLAIMS,
    sentence="The plan's own figures do not add up: to what is stated so far or left, to the total, or to the speed.",
    explanation=(
        "Distance, time and fuel by themselves, without the route: each leg against the two figures around it, all "
        "legs against the total, and a leg's distance against its ground speed and time. Only what lies beyond the "
        "rounding of all figures together counts. A leg without its figure ends the sum."
    ),
    false_alarms="plans that count taxi time or fuel in the total only; a time that changes past midnight.",
    requires=(_lacking_figures,),
    flagged=[
        case(
            "LENDU DCT PIKAR DCT «UVAGI»",
            claims=(
                Claim("PIKAR", distance_nm=64.0, distance_so_far_nm=130.0),
                Claim("UVAGI", distance_nm=90.0, distance_so_far_nm=229.0),
            ),
        ),
        case("LENDU DCT «PIKAR»", claims=(Claim("PIKAR", distance_nm=210.0, ground_speed_kt=140.0, time_min=80.0),)),
        case(
            "LENDU DCT PIKAR",
            claims=(Claim("LENDU", time_min=10.0), Claim("PIKAR", time_min=9.0), Claim("XVOR", time_min=50.0)),
            stated_totals=PlanTotals(time_min=80.0),
            whole=True,
        ),
    ],
    quiet=[
        case(
            "LENDU DCT PIKAR DCT UVAGI",
            claims=(
                Claim("PIKAR", distance_nm=64.0, distance_so_far_nm=130.0),
                Claim("UVAGI", distance_nm=90.0, distance_so_far_nm=221.0),
            ),
        ),
        case("LENDU DCT PIKAR", claims=(Claim("PIKAR", distance_nm=210.0, ground_speed_kt=140.0, time_min=90.0),)),
        case(
            "LENDU DCT PIKAR", claims=(Claim("PIKAR", distance_nm=64.0),), stated_totals=PlanTotals(distance_nm=700.0)
        ),
        "LENDU DCT PIKAR",
    ],
)
def sums(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    legs = match_claims(route).legs
    for quantity in _QUANTITIES:
        faults = [*_check_steps(quantity, legs, route), *_check_whole(quantity, legs, route)]
        if faults:
            yield _make_finding(route, faults)
    if faults := [fault for leg in legs if (fault := _check_speed(leg))]:
        yield _make_finding(route, faults)


def _check_steps(quantity: _Quantity, legs: Sequence[ClaimedLeg], route: Route) -> Iterator[_Fault]:
    """Each leg against the figures stated so far, or left, at its two ends."""
    for leg in legs:
        for name, sign in ((quantity.so_far, 1.0), (quantity.left, -1.0)):
            fault = _check_step(quantity, leg, name, sign) if name else None
            if fault:
                yield fault


def _check_step(quantity: _Quantity, leg: ClaimedLeg, name: str, sign: float) -> _Fault | None:
    claim, before = leg.claim, leg.before if leg.is_next else None
    step, now = getattr(claim, quantity.of_leg), getattr(claim, name)
    then = getattr(before, name) if before else None
    if then is None and leg.before is None and leg.starts[0] == 0 and sign > 0.0:
        then = 0.0
    if step is None or now is None or then is None:
        return None
    rounding = claim.half(quantity.of_leg) + claim.half(name) + (before.half(name) if before else 0.0)
    if not exceeds(abs(then + sign * step - now), 0.0, rounding + _DUST):
        return None
    unit, word = quantity.unit, "and" if sign > 0.0 else "less"
    where = "so far" if sign > 0.0 else "left"
    sentence = (
        f"{then:g} {unit} {word} {step:g} {unit} to {claim.to} make {then + sign * step:g} {unit}; the plan has "
        f"{now:g} {unit} {where}."
    )
    return _Fault(quantity, leg, sentence, then + sign * step, now, rounding)


_DUST = 1e-9
"""Binary fractions add up to a little more or less than the decimal ones that were written."""


def _check_whole(quantity: _Quantity, legs: Sequence[ClaimedLeg], route: Route) -> Iterator[_Fault]:
    """All legs from the departure to the destination against the total; none where a leg is missing."""
    totals = route.route_input.stated_totals
    whole = getattr(totals, quantity.whole) if totals else None
    steps = [getattr(leg.claim, quantity.of_leg) for leg in legs]
    if totals is None or whole is None or not steps or None in steps or not _are_all(legs, route):
        return
    rounding = sum(leg.claim.half(quantity.of_leg) for leg in legs) + totals.half(quantity.whole)
    reckoned = sum(steps)
    if exceeds(abs(reckoned - whole), 0.0, rounding + _DUST):
        sentence = (
            f"{count(len(steps), 'leg')} add up to {reckoned:g} {quantity.unit}; the plan's total is {whole:g} "
            f"{quantity.unit}."
        )
        yield _Fault(quantity, None, sentence, reckoned, whole, rounding)


def _are_all(legs: Sequence[ClaimedLeg], route: Route) -> bool:
    """Whether the claims lead without a hole from the departure to the destination."""
    joined = all(leg.before is not None and leg.is_next for leg in legs[1:]) and not match_claims(route).unplaced
    return joined and 0 in legs[0].starts and legs[-1].end == len(route.points) - 1


def _check_speed(leg: ClaimedLeg) -> _Fault | None:
    """A leg's distance against its ground speed and time."""
    claim = leg.claim
    nm, kt, minutes = claim.distance_nm, claim.ground_speed_kt, claim.time_min
    if nm is None or kt is None or minutes is None or kt <= 0.0:
        return None
    least = max(nm - claim.half("distance_nm"), 0.0) / (kt + claim.half("ground_speed_kt")) * 60.0
    most = (nm + claim.half("distance_nm")) / max(kt - claim.half("ground_speed_kt"), 1e-6) * 60.0
    half = half_of_leg_time(claim)
    if minutes + half + _DUST >= least and minutes - half - _DUST <= most:
        return None
    reckoned = nm / kt * 60.0
    sentence = f"{nm:g} NM at {kt:g} kt take {reckoned:.1f} min; the plan gives the leg to {claim.to} {minutes:g} min."
    return _Fault(_QUANTITIES[1], leg, sentence, reckoned, minutes, half + (most - least) / 2.0)


def _make_finding(route: Route, faults: Sequence[_Fault]) -> Finding:
    first = faults[0]
    message = first.sentence
    if more := len(faults) - 1:
        message += f" It is the first such place; {more} more {'follows' if more == 1 else 'follow'}."
    unit = first.quantity.unit
    facts = (
        Fact("reckoned", round(first.reckoned, 3), unit),
        Fact("stated", first.stated, unit),
        Fact("rounding explains", round(first.rounding, 3), unit),
    )
    spans = spans_of_leg(route, first.leg.end) if first.leg else ()
    points = (first.leg.end,) if first.leg else ()
    return Finding(spans, message, Weight.WRONG, facts, points=points)
