"""What the tests of checks share: an example of a check as an input, and the words it marks. No tests here."""

import datetime as dt
import re
from dataclasses import replace

from routecheck.checks.catalogue import Case
from routecheck.model import RouteInput
from routecheck.reading.input_fields import settle_fields
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)


def route_input(case: Case) -> RouteInput:
    text = case.given.route.replace("«", "").replace("»", "")
    given = replace(case.given, route=text, sheet=case.given.sheet or Settings().sheet(case.given.aircraft_sheet))
    return settle_fields(given)


def flagged(case: Case) -> set[tuple[int, int]]:
    """The spans of the words between « », in the text without the marks."""
    spans, shift = set(), 0
    for match in re.finditer("«(.*?)»", case.given.route):
        start = match.start() - shift
        spans.add((start, start + len(match[1])))
        shift += 2
    return spans
