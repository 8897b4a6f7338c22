"""What the tests of checks share: an example of a check as an input, and the words it marks. No tests here."""

import datetime as dt
import re
from dataclasses import replace
from functools import cache

from routecheck.checks.catalogue import Case
from routecheck.known.collection import About, KnownRow, compile_collection
from routecheck.known.known_routes import KnownRoutes
from routecheck.known.word_sequence import word_sequence
from routecheck.model import Assessment, RouteInput
from routecheck.navdata.database import NavDatabase, demo_database
from routecheck.pipeline import assess
from routecheck.reading.input_fields import settle_fields
from routecheck.reading.route_text import read_route
from routecheck.resolution.resolve import resolve
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
DEMO = demo_database()


def route_input(case: Case) -> RouteInput:
    text = case.given.route.replace("«", "").replace("»", "")
    given = replace(case.given, route=text, sheet=case.given.sheet or Settings().sheet(case.given.aircraft_sheet))
    return settle_fields(given)


def known_routes(case: Case, database: NavDatabase) -> KnownRoutes | None:
    """The known routes of an example; None where it has none."""
    if not case.known:
        return None
    rows = [_known_row(text, case.given, database) for text in case.known]
    collection = compile_collection(rows, lambda routes: About(name="known.csv", routes=routes), lambda _share: None)
    return KnownRoutes([collection])


@cache
def answer_to(case: Case) -> Assessment:
    """The whole answer to an example: all checks and corrections."""
    return assess(route_input(case), DEMO, Settings(), case.given.date or DAY, known_routes(case, DEMO))


def _known_row(text: str, given: RouteInput, database: NavDatabase) -> KnownRow:
    ends, _, route = text.rpartition(": ")
    departure, destination = ends.split() if ends else (given.departure, given.destination)
    resolved = resolve(read_route(RouteInput(route, departure, destination)), database, DAY)
    words = " ".join(word.text for word in word_sequence(resolved)[1:-1])
    return KnownRow(departure=departure, destination=destination, words=words, text=route)


def flagged(case: Case) -> set[tuple[int, int]]:
    """The spans of the words between « », in the text without the marks."""
    spans, shift = set(), 0
    for match in re.finditer("«(.*?)»", case.given.route):
        start = match.start() - shift
        spans.add((start, start + len(match[1])))
        shift += 2
    return spans
