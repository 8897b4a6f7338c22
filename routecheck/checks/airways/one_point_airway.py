"""Check one-point-airway."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.catalogue import Family, Limits, Measured, check
from routecheck.checks.route_queries import path_points, spans_of_words
from routecheck.model import Finding, NotChecked, Via, Weight
from routecheck.resolution.airways import is_same_place

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route


@check(
    "one-point-airway",
    Weight.DOUBTFUL,
    family=Family.AIRWAYS,
    sentence="An airway is entered and left at the same point, so nothing of it is flown.",
    explanation="Usually the exit was typed wrong, or the airway is left over from an earlier route.",
    false_alarms="an airway written only to show that the point belongs to it.",
    measured=Measured(doubtful=0.04),
    citations=["field-15"],
    applies_to=preconditions.flies_an_airway,
    flagged=["LENDU «UM12» «LENDU» DCT PIKAR", "LENDU UM12 UVAGI «UN34» «UVAGI» DCT TOVIK"],
    quiet=["LENDU UM12 PIKAR", "LENDU UM12 UVAGI UN34 BINOT"],
)
def one_point_airway(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    route_points = route.resolved.route_points
    for index, connection in enumerate(route.resolved.connections):
        if connection.via is not Via.AIRWAY:
            continue
        start, end = route_points[index], route_points[index + 1]
        if start.place and end.place and is_same_place(start.place, end.place):
            message = f"{connection.name} is entered and left at {end.text}: nothing of it is flown."
            spans = spans_of_words(route, *connection.words, end.word)
            yield Finding(spans, message, Weight.DOUBTFUL, points=path_points(route, index, index + 1))
