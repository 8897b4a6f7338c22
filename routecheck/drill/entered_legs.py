"""A route as entered, leg by leg: every point with the way to it, those inside airways too; procedures as one leg."""

from __future__ import annotations

import math
from itertools import groupby
from typing import TYPE_CHECKING, NamedTuple

from routecheck.formatting import column_nm
from routecheck.formatting import course as course_text
from routecheck.presentation.headline import totals_line

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from routecheck.model import Assessment, Leg, PathPoint, Route, Span

DIRECT = "DCT"


class EnteredLeg(NamedTuple):
    """The way to a point, and the point, both as typed; figures where the leg has them."""

    via: str
    to: str
    course_true_deg: float | None = None
    distance_nm: float | None = None


def list_legs(assessment: Assessment) -> tuple[EnteredLeg, ...]:
    """The legs of a route as entered, from the departure on; none where a word of it would not be among them."""
    route = assessment.route
    keys = [_leg_key(route, index) for index in range(len(route.legs))]
    legs = []
    for _, group in groupby(range(len(route.legs)), key=keys.__getitem__):
        indices = list(group)
        parts = [route.legs[index] for index in indices]
        via = _write_way(route, parts[0])
        known = [leg.distance_nm for leg in parts if leg.distance_nm is not None]
        distance = sum(known) if len(known) == len(parts) else None
        course = parts[0].course_true_deg if len(parts) == 1 else None
        legs.append(EnteredLeg(via, _write_point(route, route.points[indices[-1] + 1]), course, distance))
    return tuple(legs) if _shows_all_words(route, legs) else ()


def write_legs(legs: Iterable[Sequence[str]], departure: str, destination: str) -> str:
    """Ways and points as one line of words, without the two ends: "LENDU UM12 PIKAR UM12 TOVIK DCT SARNO"."""
    words = [word for leg in legs for word in leg[:2]]
    if words[-1:] == [destination]:
        words.pop()
    if departure and words[:1] == [DIRECT]:
        words = words[1:]
    return " ".join(words[:-1] if words[-1:] == [DIRECT] else words)


FIGURE_HEADS = "by", "to", "course", "NM", "sum NM"


def figure_rows(assessment: Assessment) -> list[tuple[str, ...]]:
    """The figures of each leg under FIGURE_HEADS. A sum ends where a leg has no length."""
    rows: list[tuple[str, ...]] = []
    total = 0.0
    for leg in list_legs(assessment) or _plain_legs(assessment.route):
        total = math.nan if leg.distance_nm is None else total + leg.distance_nm
        distance = "" if leg.distance_nm is None else column_nm(leg.distance_nm)
        course = "" if leg.course_true_deg is None else course_text(leg.course_true_deg, "T")
        rows.append((leg.via, leg.to, course, distance, "" if math.isnan(total) else column_nm(total)))
    return rows


def total_line(assessment: Assessment) -> str:
    """How long the route is and how long the direct line between its ends."""
    return f"Along the route {totals_line(assessment)}."


def _plain_legs(route: Route) -> list[EnteredLeg]:
    """Every leg by the ends of its path, for a route with a word that is on no leg."""
    ends = zip(route.legs, route.points[1:], strict=True)
    return [EnteredLeg(leg.via, point.text, leg.course_true_deg, leg.distance_nm) for leg, point in ends]


def _leg_key(route: Route, index: int) -> tuple[object, ...]:
    """Legs of one key are one leg: those inside a procedure, also where it leads on into an approach."""
    leg = route.legs[index]
    connection = route.resolved.connections[leg.connection]
    return ("procedure", *connection.words) if connection.procedure else ("leg", index)


def _write_way(route: Route, leg: Leg) -> str:
    connection, words = route.resolved.connections[leg.connection], route.resolved.parsed.words
    return " ".join(words[index].text for index in connection.words) or connection.name or DIRECT


def _write_point(route: Route, point: PathPoint) -> str:
    """The point as it was typed, with what is attached to it."""
    if point.span is None:
        return point.text
    attached = (word.text for word in route.resolved.parsed.words if word.attached and _follows(word.span, point.span))
    return "/".join([point.text, *attached])


def _follows(span: Span, before: Span) -> bool:
    return span.start == before.end + 1


def _shows_all_words(route: Route, legs: Iterable[EnteredLeg]) -> bool:
    words = " ".join(word for leg in legs for word in leg[:2])
    shown = set(words.replace("/", " ").split())
    return all(word.text in shown or word.text == DIRECT for word in route.resolved.parsed.words)
