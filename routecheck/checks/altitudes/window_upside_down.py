"""Check window-upside-down."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.altitude_queries import unplaced_windows
from routecheck.checks.catalogue import Family, Limits, case, check, exceeds
from routecheck.checks.route_queries import spans_of_point
from routecheck.formatting import altitude
from routecheck.model import AltitudeWindow, Fact, Finding, NotChecked, Weight
from routecheck.vertical.transition import levels_from_ft
from routecheck.vertical.windows import intersect_windows

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Route
    from routecheck.vertical.room import Bounds


@check(
    "window-upside-down",
    Weight.WRONG,
    family=Family.ALTITUDES,
    sentence="The lowest altitude allowed at a point is above the highest, so that no altitude is left.",
    explanation="Usually the two were exchanged, or a digit of one of them is wrong.",
    false_alarms="none known.",
    citations=["altitude-rules"],
    requires=(preconditions.lacking_windows,),
    flagged=[
        case("LENDU DCT «PIKAR» UM12 TOVIK", windows=(AltitudeWindow("PIKAR", 12_000, 9_000),)),
        case("LENDU DCT «PIKAR»", windows=(AltitudeWindow("PIKAR", 9_000, None), AltitudeWindow("PIKAR", None, 8_000))),
        case("LENDU DCT PIKAR", windows=(AltitudeWindow("XVOR", 3_000, 2_000),), whole=True),
    ],
    quiet=[
        case(
            "LENDU DCT PIKAR UM12 TOVIK",
            windows=(AltitudeWindow("PIKAR", 9_000, 12_000), AltitudeWindow("LENDU", 9_000, 9_000)),
        ),
        case(
            "LENDU DCT PIKAR UM12 TOVIK",
            windows=(AltitudeWindow("PIKAR", None, 12_000), AltitudeWindow("TOVIK", 31_000, None)),
        ),
        "LENDU DCT PIKAR UM12 TOVIK",
    ],
)
def window_upside_down(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    yield from unplaced_windows(route)
    for index, windows in enumerate(route.windows):
        for low, high in _bounds_to_judge(windows):
            if low is not None and high is not None and exceeds(low, high):
                yield _finding(route, index, low, high)
                break


def _bounds_to_judge(windows: Sequence[AltitudeWindow]) -> list[Bounds]:
    """Each window by itself, then those that were stated all together."""
    each = [(window.low_ft, window.high_ft) for window in windows]
    typed = [window for window in windows if window.typed]
    return [*each, intersect_windows(typed)] if len(typed) > 1 else each


def _finding(route: Route, index: int, low: float, high: float) -> Finding:
    point = route.points[index]
    lowest, highest = (altitude(feet, levels_from_ft(route, index)) for feet in (low, high))
    message = f"{point.text} at or above {lowest} and at or below {highest}: no altitude is both."
    facts = Fact("lowest", round(low), "ft"), Fact("highest", round(high), "ft")
    return Finding(spans_of_point(point), message, Weight.WRONG, facts, points=(index,))
