"""How near °M and our rule come to the coded courses of airways, over a whole database. No tests here."""

import datetime as dt
from collections import defaultdict
from dataclasses import dataclass

from routecheck.earth import geo, magnetic
from routecheck.geometry.charted_courses import reckon_charted_course
from routecheck.navdata.database import NavDatabase

CLASSES = {"V": "V", "J": "J", "T": "T and Q", "Q": "T and Q"}
NEAR_DEG = 3.0


@dataclass
class Shares:
    """Counts over coded segments: how many have °M within 3° of the coded course, and how the rule does unseen."""

    segments: int = 0
    computed_near: int = 0
    answered: int = 0
    within_3: int = 0


def measure_rule(database: NavDatabase, day: dt.date = dt.date(2026, 12, 1)) -> dict[str, Shares]:
    """The counts by class of airway, and of all; every coded course is hidden from the rule."""
    shares: dict[str, Shares] = defaultdict(Shares)
    for name in database.airway_names():
        for piece in database.airways(name):
            for number, segment in enumerate(piece.segments):
                if segment.course_deg is None:
                    continue
                start, end = piece.places[number : number + 2]
                true_deg = geo.inverse(start.lat, start.lon, end.lat, end.lon)[0]
                field = magnetic.declination(start.lat, start.lon, day)
                assert field is not None
                reckoned = reckon_charted_course(piece, number, true_deg, forward=True)
                for which in (shares[CLASSES.get(name[0], "others")], shares["all"]):
                    which.segments += 1
                    which.computed_near += _near(true_deg - field.declination_deg, segment.course_deg)
                    which.answered += reckoned is not None
                    which.within_3 += reckoned is not None and _near(reckoned.course_deg, segment.course_deg)
    return shares


def _near(course: float, coded: float) -> bool:
    return abs(geo.wrap180(course - coded)) <= NEAR_DEG
