"""Assessments to draw: the real pipeline on the demo region."""

import datetime as dt
from collections.abc import Callable
from typing import Any

import pytest

from routecheck.model import Assessment, RouteInput
from routecheck.navdata.database import NavDatabase, demo_database
from routecheck.pipeline import assess
from routecheck.settings import Settings

Assess = Callable[..., Assessment]


@pytest.fixture(scope="session")
def demo_library() -> NavDatabase:
    return demo_database()


@pytest.fixture
def assessed(demo_library: NavDatabase) -> Assess:
    def made(route: str, departure: str = "XVAL", destination: str = "XVOR", **beside: Any) -> Assessment:
        route_input = RouteInput(route, departure, destination, **beside)
        return assess(route_input, demo_library, Settings(), dt.date(2026, 12, 3))

    return made
