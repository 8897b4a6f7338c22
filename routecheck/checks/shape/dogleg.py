"""Check dogleg."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.checks.catalogue import Family, Limit, Limits, Measured, case, check, exceeds
from routecheck.checks.route_queries import chosen_points, spans_of_point
from routecheck.citations import OWN_CHOICE
from routecheck.formatting import bare_nm, list_first, longer
from routecheck.model import Fact, Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route, Turn

D_VALUE = Limit(
    "d_value_nm",
    30.0,
    "NM",
    OWN_CHOICE,
    lowest=1.0,
    highest=500.0,
    why="detour × turn / 90°; a third of it next to an airport; of the same routes 15 NM would be passed by 4.7 %, "
    "20 NM by 2.0 %, 25 NM by 1.0 %, 40 NM by 0.6 %",
)


@check(
    "dogleg",
    Weight.DOUBTFUL,
    family=Family.SHAPE,
    sentence="Going by way of a point makes the stretch much longer and turns sharply there.",
    explanation=(
        "Measured by the D-value: the detour in NM × the turn in degrees / 90, a third of it at the first and last "
        "point, where real routes overshoot the field and come back. The turn is taken from the course at the end of "
        "the leg before, so that an ocean route along a parallel stays quiet. Of two neighbours over the limit only "
        "the greater is named: a point off the line bends the route beside it too. Geometry alone is never Wrong."
    ),
    false_alarms=(
        "published airways that overshoot, coastal routing, a feeder beyond the field, a way round closed airspace or "
        "weather."
    ),
    measured=Measured(doubtful=0.74),
    limits=[D_VALUE],
    citations=["geodesics"],
    flagged=["31S000E 31S002E «29S004E» 31S006E 31S008E", "LENDU DCT «PIKOR» DCT UVAGI DCT TOVIK"],
    quiet=[
        case("57S010W 57S000E 57S010E 57S020E", departure="", destination=""),
        "31S000E 31S002E 3030S00400E 31S006E",
        "LENDU DCT UVAGI DCT SARNO",
    ],
)
def dogleg(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    turns = route.turns
    unknown = [point for index, point in chosen_points(route) if turns[index] is None and point.place is not None]
    if unknown:
        spans = tuple(span for point in unknown for span in spans_of_point(point))
        listed = list_first([point.text for point in unknown], 5)
        yield NotChecked(spans, f"no known path on one side of {listed}")
    if not exceeds(max([turn.d_value_nm for turn in turns if turn], default=0.0), limit[D_VALUE]):
        return
    for index, _ in chosen_points(route):
        turn = turns[index]
        if turn is not None and exceeds(turn.d_value_nm, limit[D_VALUE]) and not _is_outdone(route, index, turn):
            yield _finding(route, index, turn, limit[D_VALUE])


def _is_outdone(route: Route, index: int, turn: Turn) -> bool:
    """Whether the point before or after bends the route more."""
    beside = (route.turns[index - 1], route.turns[index + 1])
    return any(other is not None and other.d_value_nm > turn.d_value_nm for other in beside)


def _finding(route: Route, index: int, turn: Turn, limit: float) -> Finding:
    point = route.points[index]
    before, after = route.points[index - 1].text, route.points[index + 1].text
    message = (
        f"By way of {point.text} the stretch {before}–{after} is {longer(turn.detour_nm, turn.share)} "
        f"and turns {formatting.turn(turn.turn_deg)} at {point.text}."
    )
    facts = (
        Fact("detour", round(turn.detour_nm, 1), "NM"),
        Fact("turn", round(turn.turn_deg, 1), "°", is_turn=True),
        Fact("detour × turn / 90°", round(turn.d_value_nm, 1), f"NM, limit {bare_nm(limit)}"),
    )
    return Finding(spans_of_point(point), message, Weight.DOUBTFUL, facts, points=(index,))
