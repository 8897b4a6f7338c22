"""The routes of the demo region to make drills of, checked once."""

import datetime as dt

import pytest

from routecheck.drill.making import DrillSource
from routecheck.drill.sources import read_demo_source
from routecheck.navdata.database import demo_database
from routecheck.settings import Settings


@pytest.fixture(scope="session")
def source() -> DrillSource:
    return read_demo_source(demo_database(), Settings(), dt.date(2026, 12, 3))
