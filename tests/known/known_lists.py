"""What the tests of known routes share: a list of route texts to known routes, on the demo region. No tests here."""

import datetime as dt

from routecheck.known.collection import About, KnownRow, compile_collection
from routecheck.known.known_routes import KnownRoutes
from routecheck.known.word_sequence import word_sequence
from routecheck.model import RouteInput
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.reading.route_text import read_route
from routecheck.resolution.resolve import resolve
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
DEMO = demo_database()


def known_routes(*texts, name="known.csv"):
    """Known routes from XVAL to XVOR, or between other aerodromes where a text begins with them: "XVKE XVMA: …"."""
    rows = []
    for text in texts:
        ends, _, route = text.rpartition(": ")
        departure, destination = ends.split() if ends else ("XVAL", "XVOR")
        resolved = resolve(read_route(RouteInput(route, departure, destination)), DEMO, DAY)
        words = " ".join(word.text for word in word_sequence(resolved)[1:-1])
        rows.append(KnownRow(departure=departure, destination=destination, words=words, text=route))
    return KnownRoutes([compile_collection(rows, lambda routes: About(name=name, routes=routes), lambda _share: None)])


def assessed(route, known, departure="XVAL", destination="XVOR"):
    """A route from XVAL to XVOR, assessed with known routes."""
    return assess(RouteInput(route, departure, destination), DEMO, Settings(), DAY, known)
