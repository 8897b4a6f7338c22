"""Check window-error."""

from __future__ import annotations

from itertools import accumulate, pairwise
from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.altitude_queries import allowed_altitudes, allowed_in_words, unplaced_windows
from routecheck.checks.catalogue import Family, Limit, Limits, case, check, exceeds
from routecheck.checks.route_queries import spans_of_point
from routecheck.citations import OWN_CHOICE
from routecheck.formatting import altitude
from routecheck.model import AltitudeWindow, Fact, Finding, NotChecked, Weight
from routecheck.vertical.transition import levels_from_ft
from routecheck.vertical.windows import field_elevation_ft

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Route
    from routecheck.vertical.room import Bounds

NEAR = Limit(
    "near_nm", 30.0, "NM", OWN_CHOICE, highest=100.0, why="as near to a field a window below it is below that field"
)
ABOUT = Limit(
    "about", 1.6, "times", OWN_CHOICE, lowest=1.05, highest=3.0, why="how far off ten times still counts as ten times"
)
_FACTORS = ((10.0, "ten times"), (0.1, "a tenth of"), (0.01, "a hundredth of"))

_ROUTE = "LENDU DCT {} UM12 TOVIK DCT SARNO DCT KEBUL DCT {}"


def _windows_with(middle: float) -> tuple[AltitudeWindow, ...]:
    return (
        AltitudeWindow("LENDU", 9_000, None),
        AltitudeWindow("PIKAR", middle, middle),
        AltitudeWindow("SARNO", 20_000, 24_000),
    )


@check(
    "window-error",
    Weight.WRONG,
    family=Family.ALTITUDES,
    sentence=(
        "An altitude window as stated lies below the field, or is off by a digit from those around it or the coded one."
    ),
    explanation=(
        "Below the elevation of the aerodrome near it (away from them: of both): Wrong. About ten times or a tenth of "
        "the windows before and after, a level typed as feet, or two digits exchanged against the coded window: "
        "Doubtful."
    ),
    false_alarms="a step down from cruise to the traffic pattern with one window between.",
    limits=[NEAR, ABOUT],
    citations=["altitude-reports"],
    requires=(preconditions.lacking_windows,),
    flagged=[
        case(_ROUTE.format("«PIKAR»", "RIPAS"), windows=_windows_with(140_000)),
        case(_ROUTE.format("«PIKAR»", "RIPAS"), windows=_windows_with(1_400)),
        case(_ROUTE.format("«PIKAR»", "RIPAS"), windows=_windows_with(140)),
        case("31S002E «3110S00800E»", windows=(AltitudeWindow("3110S00800E", None, 300),)),
    ],
    quiet=[
        case(_ROUTE.format("PIKAR", "RIPAS"), windows=_windows_with(14_000)),
        case(_ROUTE.format("PIKAR", "RIPAS"), windows=_windows_with(30_000)),
        case(
            _ROUTE.format("PIKAR", "RIPAS"),
            windows=(AltitudeWindow("PIKAR", 140_000, None), AltitudeWindow("SARNO", 20_000, None)),
        ),
        "LENDU DCT PIKAR",
    ],
)
def window_error(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    yield from unplaced_windows(route)
    if not any(window.typed for windows in route.windows for window in windows):
        return
    around = _Surroundings(route)
    for index, windows in enumerate(route.windows):
        coded = [window for window in windows if not window.typed]
        for window in windows:
            finding = window.typed and (
                _below_field(around, index, window, limit[NEAR])
                or _against_coded(around, index, window, coded)
                or _against_neighbours(around, index, window, limit[ABOUT])
            )
            if finding:
                yield finding
                break


class _Surroundings:
    """What the windows of a route are compared with: the altitudes allowed at its points, and the way to each."""

    def __init__(self, route: Route) -> None:
        self.points = route.points
        self.allowed = allowed_altitudes(route)
        self.along = list(accumulate((leg.least_nm or 0.0 for leg in route.legs), initial=0.0))
        known = [index for index, window in enumerate(self.allowed) if _middle_ft(window) > 0]
        self.before = dict(zip(known[1:], known, strict=False))
        self.after = dict(pairwise(known))
        self.route = route


def _finding(around: _Surroundings, index: int, window: AltitudeWindow, rest: str, weight: Weight) -> Finding:
    point = around.points[index]
    message = f"{allowed_in_words(around.route, index, (window.low_ft, window.high_ft))} {rest}"
    bounds = (("lowest", window.low_ft), ("highest", window.high_ft))
    facts = tuple(Fact(name, round(feet), "ft") for name, feet in bounds if feet is not None)
    return Finding(spans_of_point(point), message, weight, facts, points=(index,))


def _below_field(around: _Surroundings, index: int, window: AltitudeWindow, near_nm: float) -> Finding | None:
    field = _elevation_below_ft(around, index, near_nm)
    if field is None or window.high_ft is None or not exceeds(field, window.high_ft):
        return None
    return _finding(around, index, window, f"is below the field, {field:,.0f} ft.", Weight.WRONG)


def _elevation_below_ft(around: _Surroundings, index: int, near_nm: float) -> float | None:
    """The elevation that a window at a point cannot be below: of the field near it, else of the lower one."""
    along = around.along
    fields = [
        (along[index], field_elevation_ft(around.points[0])),
        (along[-1] - along[index], field_elevation_ft(around.points[-1])),
    ]
    distance, nearer = min(fields, key=lambda field: field[0])
    if distance <= near_nm:
        return nearer
    known = [feet for _, feet in fields if feet is not None]
    return min(known) if len(known) == 2 else None


def _against_coded(
    around: _Surroundings, index: int, window: AltitudeWindow, coded: Sequence[AltitudeWindow]
) -> Finding | None:
    for other in coded:
        for typed_ft, coded_ft in ((window.low_ft, other.low_ft), (window.high_ft, other.high_ft)):
            if error := _entry_error(typed_ft, coded_ft, levels_from_ft(around.route, index)):
                return _finding(around, index, window, f"is {error}.", Weight.DOUBTFUL)
    return None


def _entry_error(typed_ft: float | None, coded_ft: float | None, levels_from_ft: float) -> str:
    """The entry error in words that makes the typed altitude of the coded one; "" where none does."""
    if typed_ft is None or coded_ft is None or typed_ft == coded_ft:
        return ""
    coded = f"the coded {altitude(coded_ft, levels_from_ft)}"
    if _are_digits_exchanged(f"{typed_ft:.0f}", f"{coded_ft:.0f}"):
        return f"{coded} with two digits exchanged"
    return next((f"{words} {coded}" for factor, words in _FACTORS if typed_ft == coded_ft * factor), "")


def _are_digits_exchanged(one: str, other: str) -> bool:
    """Whether the texts differ by two neighbouring digits that are exchanged."""
    off = [i for i, (a, b) in enumerate(zip(one, other, strict=False)) if a != b]
    if len(one) != len(other) or len(off) != 2 or off[1] != off[0] + 1:
        return False
    return one[off[0]] == other[off[1]] and one[off[1]] == other[off[0]]


def _against_neighbours(around: _Surroundings, index: int, window: AltitudeWindow, about: float) -> Finding | None:
    before, after = around.before.get(index), around.after.get(index)
    typed_ft = _middle_ft((window.low_ft, window.high_ft))
    if before is None or after is None or typed_ft <= 0:
        return None
    ratios = [typed_ft / _middle_ft(around.allowed[i]) for i in (before, after)]
    error = next(
        (words for factor, words in _FACTORS if all(factor / about <= r <= factor * about for r in ratios)), ""
    )
    if not error:
        return None
    neighbours = " and ".join(allowed_in_words(around.route, i, around.allowed[i]) for i in (before, after))
    return _finding(
        around, index, window, f"is about {error} what is allowed around it: {neighbours}.", Weight.DOUBTFUL
    )


def _middle_ft(window: Bounds) -> float:
    """One altitude for a window; 0 where it is open."""
    known = [bound for bound in window if bound is not None]
    return sum(known) / len(known) if known else 0.0
