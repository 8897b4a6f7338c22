"""Check claimed-level."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from routecheck.checks.altitude_queries import allowed_altitudes, allowed_in_words
from routecheck.checks.catalogue import Family, Limit, Limits, case, check, exceeds
from routecheck.checks.claim_queries import NOTHING_CLAIMED, match_claims, name_astray, spans_of_leg
from routecheck.citations import OWN_CHOICE
from routecheck.formatting import count, level
from routecheck.model import AltitudeWindow, Claim, Fact, Finding, NotChecked, Weight
from routecheck.performance.speeds import filed_by_leg
from routecheck.vertical.levels import level_ft

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.checks.claim_queries import ClaimedLeg
    from routecheck.model import Route
    from routecheck.vertical.room import Bounds

WINDOW = Limit("window_ft", 200.0, "ft", OWN_CHOICE, why="how closely an altitude is usually held")
FILED = Limit("filed_ft", 100.0, "ft", OWN_CHOICE, why="less than one level")
_HALF_FT = 50.0
"""Half of the last digit of a level: hundreds of feet."""


class _Level(NamedTuple):
    """A level that the plan states at the end of a leg, in its own words and in feet."""

    leg: ClaimedLeg
    stated: str
    feet: float


def _lacking_levels(route: Route) -> str:
    return "" if any(claim.level for claim in route.route_input.claims) else NOTHING_CLAIMED


@check(
    "claimed-level",
    Weight.DOUBTFUL,
    family=Family.CLAIMS,
    sentence="The plan flies level where another level is filed, or has a level outside an altitude window.",
    explanation=(
        "Where the plan has the same level at two points in a row, or throughout, it is compared with the one filed "
        "there: Doubtful where the plan flies no level that is filed, a Note where it does elsewhere and here is "
        "higher than the lowest filed (lower it may level off in climb and descent). Below its "
        "highest level it is compared with the altitude windows at the point, by 200 ft and half its last digit. A "
        "plan that gives one level throughout says nothing of climb and descent, and is compared with no window."
    ),
    false_alarms="plans that give the level cleared rather than the one passed; steps that are not filed.",
    limits=[WINDOW, FILED],
    requires=(_lacking_levels,),
    flagged=[
        case(
            "N0430F350 «LENDU» DCT PIKAR DCT UVAGI",
            claims=(Claim("LENDU", level="F370"), Claim("PIKAR", level="F370"), Claim("UVAGI", level="F370")),
        ),
        case(
            "N0430F350 LENDU DCT «PIKAR» DCT UVAGI",
            claims=(Claim("PIKAR", level="F150"), Claim("UVAGI", level="F350")),
            windows=(AltitudeWindow("PIKAR", None, 12_000.0),),
        ),
    ],
    quiet=[
        case("N0430F350 LENDU DCT PIKAR", claims=(Claim("LENDU", level="F350"), Claim("PIKAR", level="F350"))),
        case(
            "N0430F350 LENDU DCT PIKAR/N0430F370 DCT UVAGI",
            claims=(Claim("LENDU", level="F350"), Claim("PIKAR", level="F350"), Claim("UVAGI", level="F370")),
        ),
        case(
            "N0430F350 LENDU DCT PIKAR DCT UVAGI DCT TOVIK",
            claims=tuple(
                Claim(to, level=level)
                for to, level in zip(
                    ("LENDU", "PIKAR", "UVAGI", "TOVIK", "XVOR"), ("F350", "F350", "A120", "A120", "A020"), strict=True
                )
            ),
        ),
        case(
            "N0430F350 LENDU DCT PIKAR DCT UVAGI",
            claims=(Claim("PIKAR", level="A122"), Claim("UVAGI", level="F350")),
            windows=(AltitudeWindow("PIKAR", None, 12_000.0),),
        ),
        case(
            "N0430F350 LENDU DCT PIKAR",
            claims=(Claim("LENDU", level="F350"), Claim("PIKAR", level="F350")),
            windows=(AltitudeWindow("LENDU", None, 12_000.0),),
        ),
        "N0430F350 LENDU DCT PIKAR",
    ],
)
def claimed_level(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    levels = [
        _Level(leg, leg.claim.level, feet)
        for leg in match_claims(route).legs
        if (feet := level_ft(leg.claim.level)) is not None
    ]
    yield from _compare_with_filed(route, levels, limit)
    yield from _compare_with_windows(route, levels, limit)
    for because in name_astray(route):
        yield NotChecked((), because)


def _compare_with_filed(route: Route, levels: Sequence[_Level], limit: Limits) -> Iterator[Finding | NotChecked]:
    filed = filed_by_leg(route)
    is_one_throughout = len({one.feet for one in levels}) == 1
    level_flight = [one for one in levels if is_one_throughout or _is_level_from_before(one)]
    known = [(one, feet) for one in level_flight if (feet := level_ft(filed[one.leg.end - 1][1])) is not None]
    if level_flight and not known:
        yield NotChecked((), "no level is filed with which the plan's could be compared")
    apart = [one for one, feet in known if exceeds(abs(one.feet - feet), limit[FILED])]
    lowest = min((feet for _, feet in known), default=0.0)
    flies_as_filed = len(apart) < len(known)
    shown = [one for one in apart if one.feet > lowest] if flies_as_filed else apart
    if shown:
        first = shown[0]
        message = f"The plan has {level(first.stated)} at {first.leg.claim.to}; filed there is "
        message += f"{level(filed[first.leg.end - 1][1])}."
        yield _make_finding(route, shown, message, Weight.NOTE if flies_as_filed else Weight.DOUBTFUL)


def _is_level_from_before(one: _Level) -> bool:
    return one.leg.before is not None and level_ft(one.leg.before.level) == one.feet


def _compare_with_windows(route: Route, levels: Sequence[_Level], limit: Limits) -> Iterator[Finding]:
    highest = max((one.feet for one in levels), default=0.0)
    passing = [one for one in levels if one.feet < highest]
    allowed = allowed_altitudes(route) if passing else ()
    outside = [one for one in passing if _is_outside(one, allowed[one.leg.end], limit)]
    if outside:
        first = outside[0]
        window = allowed_in_words(route, first.leg.end, allowed[first.leg.end])
        message = f"The plan passes {first.leg.claim.to} at {level(first.stated)}; allowed is {window}."
        yield _make_finding(route, outside, message, Weight.DOUBTFUL)


def _is_outside(one: _Level, bounds: Bounds, limit: Limits) -> bool:
    low, high = bounds
    below = 0.0 if low is None else low - one.feet
    above = 0.0 if high is None else one.feet - high
    return exceeds(max(below, above), limit[WINDOW], _HALF_FT)


def _make_finding(route: Route, levels: Sequence[_Level], message: str, weight: Weight) -> Finding:
    first = levels[0]
    if more := len(levels) - 1:
        message += f" It is the first; {count(more, 'point')} behind it {'is' if more == 1 else 'are'} such too."
    facts = Fact("stated", first.feet, "ft"), Fact("points that differ", len(levels))
    return Finding(spans_of_leg(route, first.leg.end), message, weight, facts, points=(first.leg.end,))
