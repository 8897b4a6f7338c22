"""Two versions of a route, read on the demo region."""

import datetime as dt
from collections.abc import Callable
from typing import Any

import pytest

from routecheck.compare.compare import compare_routes
from routecheck.model import Comparison, Route, RouteInput
from routecheck.navdata.database import NavDatabase
from routecheck.pipeline import assess
from routecheck.settings import Settings

Compare = Callable[..., Comparison]


@pytest.fixture
def read(demo: NavDatabase) -> Callable[..., Route]:
    def made(text: str, departure: str = "XVAL", destination: str = "XVOR", **beside: Any) -> Route:
        route_input = RouteInput(text, departure, destination, **beside)
        return assess(route_input, demo, Settings(), dt.date(2026, 12, 3)).route

    return made


@pytest.fixture
def compare(read: Callable[..., Route]) -> Compare:
    """Compare two texts; what stands beside the second is given by its name."""

    def made(first: str, second: str, **beside: Any) -> Comparison:
        return compare_routes(read(first), read(second, **beside))

    return made
