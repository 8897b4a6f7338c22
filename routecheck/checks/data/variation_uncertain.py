"""Check variation-uncertain."""

from __future__ import annotations

import datetime as dt
from functools import lru_cache
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limit, Limits, case, check, exceeds
from routecheck.checks.route_queries import spans_of_point
from routecheck.earth import magnetic
from routecheck.formatting import date, list_first
from routecheck.model import Fact, Finding, NotChecked, PathPoint, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

CAUTION = Limit("caution_nt", 6000.0, "nT", "wmm", why="horizontal intensity below which the model asks for caution")
BLACKOUT = Limit("blackout_nt", magnetic.BLACKOUT_NT, "nT", "wmm", why="below it a compass is of no use")


@check(
    "variation-uncertain",
    Weight.NOTE,
    family=Family.DATA,
    sentence="Magnetic courses are unsure: the day is outside 2025 to 2029, or the route comes near a magnetic pole.",
    explanation=(
        "Outside its years the World Magnetic Model is not used: the variations in the data's own records serve "
        "instead, of the point itself or of a fix within 30 NM, and where there is neither, no magnetic course is "
        "shown. The alignment of a station is never taken for the variation."
    ),
    false_alarms="nearly all of them, which is why it is a Note.",
    limits=[CAUTION, BLACKOUT],
    citations=["wmm"],
    flagged=[
        case("LENDU DCT PIKAR", off_block=dt.date(2023, 2, 1), whole=True),
        case("«85N100W» «86N110W» 60N020W", departure="", destination=""),
    ],
    quiet=["LENDU DCT PIKAR", case("60N020W 60N030W", departure="", destination="")],
)
def variation_uncertain(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    if not magnetic.wmm_covers(route.date):
        yield _outside_model(route.date)
        return
    strengths = [(point, _horizontal_nt(route, point)) for point in route.points]
    weak = [(point, strength) for point, strength in strengths if exceeds(limit[CAUTION], strength)]
    if weak:
        lowest = min(strength for _, strength in weak)
        listed = list_first([point.text for point, _ in weak], 4)
        advice = "of no use" if lowest < limit[BLACKOUT] else "to be used with caution"
        message = f"Near the magnetic pole, at {listed}: magnetic courses are {advice}."
        spans = tuple(span for point, _ in weak for span in spans_of_point(point))
        yield Finding(spans, message, Weight.NOTE, (Fact("horizontal intensity", round(lowest), "nT"),))


@lru_cache(maxsize=64)
def _outside_model(day: dt.date) -> Finding:
    message = (
        f"The magnetic model holds from 2025 to 2029, not on {date(day)}: magnetic courses rest on the variations in "
        "the data's own records, or are not shown."
    )
    return Finding((), message, Weight.NOTE)


def _horizontal_nt(route: Route, point: PathPoint) -> float:
    place = point.place
    field = magnetic.declination(place.lat, place.lon, route.date) if place else None
    return field.horizontal_nt if field else float("inf")
