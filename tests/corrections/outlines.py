"""Routes of the demo region outlined, clean and with an entry error planted: what several test files draw from."""

import datetime as dt
import random

from hypothesis import strategies as st

from routecheck.corrections.outline import draw_outline
from routecheck.drill.planters import PLANTERS, plant
from routecheck.model import RouteInput
from routecheck.navdata.database import demo_database
from routecheck.reading.route_text import read_route
from routecheck.resolution.resolve import resolve

DEMO = demo_database()
DAY = dt.date(2026, 12, 3)
ROUTES = [
    RouteInput("LENDU1 LENDU UM12 UVAGI UN34 ESGAL UN21 ORO", "XVAL", "XVOR"),
    RouteInput("LENDU DCT PIKAR UM12 TOVIK DCT SARNO DCT RIPAS", "XVAL", "XVOR"),
    RouteInput("SOR T16 DISEM V40 ROPIN UN21 ULDET", "XVSU", "XVAL"),
    RouteInput("NIR UL7 MAV UL7 SARNO SARNO2", "XVMA", "XVOR"),
    RouteInput("DUL J30 ORO J30 RENDA UN46 GILTA DCT KAMBE", "XVDU", "XVSU"),
]


def drawn(route_input):
    """The outline of a route."""
    return draw_outline(resolve(read_route(route_input), DEMO, DAY), DEMO)


def planted(route_input, kind, seed):
    """The route with an error of that kind, or as it is where it offers no place for one."""
    found = plant(kind, route_input, DEMO, DAY, random.Random(seed))
    return found.route_input if found else route_input


with_errors = st.builds(planted, st.sampled_from(ROUTES), st.sampled_from(sorted(PLANTERS)), st.integers(0, 999))
