"""What the tests of reckon share: the demo region, a route resolved and reckoned, hand-made places. No tests here."""

import datetime as dt

import pytest

from routecheck.model import Entry, Place, PlaceKind
from routecheck.navdata.database import demo_database
from routecheck.reading.route_text import read_route
from routecheck.reckon.legs import reckon
from routecheck.reckon.resolve import resolve

DAY = dt.date(2026, 12, 3)


@pytest.fixture(scope="session")
def demo():
    return demo_database()


@pytest.fixture(scope="session")
def resolved(demo):
    """A route text to stops and links, by default from XVAL to XVOR on the demo region."""

    def made(route, departure="XVAL", destination="XVOR", *, database=demo, date=DAY):
        return resolve(read_route(Entry(route, departure, destination)), database, date)

    return made


@pytest.fixture(scope="session")
def flown(resolved):
    """The same to points, legs and totals."""

    def made(route, departure="XVAL", destination="XVOR", *, date=DAY, **more):
        return reckon([resolved(route, departure, destination, date=date, **more)], [date])[0]

    return made


@pytest.fixture(scope="session")
def spot():
    """A typed position as a place."""

    def made(lat, lon, ident=""):
        return Place(ident or f"{lat}/{lon}", lat, lon, PlaceKind.TYPED)

    return made
