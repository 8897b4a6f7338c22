"""What the tests of checks share: an example of a check as an input, and the words it marks. No tests here."""

import datetime as dt
import re

from routecheck.checks.catalogue import Case
from routecheck.model import RouteInput
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)


def route_input(case: Case) -> RouteInput:
    return RouteInput(
        route=case.route.replace("«", "").replace("»", ""),
        departure=case.departure,
        destination=case.destination,
        departure_runway=case.departure_runway,
        destination_runway=case.destination_runway,
        approach=case.approach,
        speed=case.speed,
        level=case.level,
        date=case.date,
        unread=case.unread,
        claims=case.claims,
        rules=case.rules,
        windows=case.windows,
        aircraft_sheet=case.aircraft_sheet,
        sheet=Settings().sheet(case.aircraft_sheet),
    )


def flagged(case: Case) -> set[tuple[int, int]]:
    """The spans of the words between « », in the text without the marks."""
    spans, shift = set(), 0
    for match in re.finditer("«(.*?)»", case.route):
        start = match.start() - shift
        spans.add((start, start + len(match[1])))
        shift += 2
    return spans
