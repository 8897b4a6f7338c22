"""What a plan states of the demo route, leg by leg, as cells of a table."""

import datetime as dt
import itertools

import pytest

from routecheck.model import RouteInput
from routecheck.pipeline import assess
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
ROUTE = "LENDU UM12 PIKAR UM12 UVAGI UM12 TOVIK DCT SARNO"


def minutes(degrees, letters, width):
    whole = int(abs(degrees))
    return f"{letters[degrees < 0]}{whole:0{width}}{(abs(degrees) - whole) * 60:04.1f}"


@pytest.fixture(scope="module")
def rows(demo):
    """What a plan of the demo route states, leg by leg."""
    route = assess(RouteInput(f"N0430F350 {ROUTE} DCT", "XVAL", "XVOR"), demo, Settings(), DAY).route
    so_far, found, fuel = 0.0, [], 9000
    whole = route.totals.distance_nm
    for leg, (_, end) in zip(route.legs, itertools.pairwise(route.points), strict=True):
        so_far += leg.distance_nm
        fuel -= 500
        found.append(
            {
                "fix": end.text,
                "airway": leg.via,
                "lat": minutes(end.place.lat, "NS", 2),
                "lon": minutes(end.place.lon, "EW", 3),
                "true": f"{leg.course_true_deg:03.0f}",
                "mag": f"{leg.course_magnetic_deg:03.0f}",
                "dist": f"{leg.distance_nm:.1f}",
                "so far": f"{so_far:.1f}",
                "left": f"{whole - so_far:.1f}",
                "gs": "440",
                "time": f"0:{leg.distance_nm / 440 * 60:02.0f}",
                "time so far": f"{so_far / 440 // 1:.0f}:{so_far / 440 * 60 % 60 // 1:02.0f}",
                "wind": "280/45",
                "level": "350",
                "fuel": "500",
                "fuel left": f"{fuel}",
            }
        )
    return found


@pytest.fixture(scope="module")
def found(demo):
    """The findings about claims that a pasted text leads to, by check."""
    from routecheck.reading.input_format import ReadingChoices
    from routecheck.reading.inputs import read_input

    def made(text, columns=""):
        (given,) = read_input(text.encode(), "log.txt", None, ReadingChoices(columns=columns))
        answer = assess(given, demo, Settings(), DAY)
        return {one.check: one for one in answer.findings if one.check in CLAIM_CHECKS}

    return made


CLAIM_CHECKS = {"claimed-course", "claimed-distance", "claimed-time", "sums", "total-distance", "position-disagrees"}
