"""The samples that only known routes can judge: quiet without them, flagged with them, and what was meant is first."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

import pytest
from sample_files import FOLDER, fields, meant, route_input

from routecheck.known.choice import KnownChoice
from routecheck.model import Assessment, RouteInput, Weight
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.settings import Settings

if TYPE_CHECKING:
    from routecheck.known.known_routes import KnownRoutes

DAY = dt.date(2026, 12, 3)
PLANTED = sorted((FOLDER / "known").glob("*.route.toml"))


@pytest.fixture(scope="module")
def known() -> KnownRoutes:
    found = KnownChoice((str(FOLDER / "known" / "demo-region.csv"),)).load(demo_database(), DAY)
    assert found is not None
    (collection,) = found.collections
    assert (collection.about.routes, collection.about.describe_lost(), collection.about.columns) == (8, "", ())
    return found


def heavy(answer: Assessment) -> list[str]:
    text = answer.route.route_input.route
    findings = [one for one in answer.findings if one.weight is not Weight.NOTE]
    return [f"{one.check}: {' '.join(text[s.start : s.end] for s in one.spans)}" for one in findings]


def assessed(given: RouteInput, known: KnownRoutes | None) -> Assessment:
    return assess(given, demo_database(), Settings(), DAY, known)


def test_there_are_two() -> None:
    assert len(PLANTED) == 2


@pytest.mark.parametrize("path", PLANTED, ids=lambda path: path.name)
def test_only_known_routes_can_judge_it(path, known: KnownRoutes) -> None:
    sample, corrected = fields(path), meant(path)
    assert heavy(assessed(route_input(sample), None)) == []
    answer = assessed(route_input(sample), known)
    assert heavy(answer) == sample["expect"]
    (finding,) = (one for one in answer.findings if one.weight is not Weight.NOTE)
    assert "known routes leave UM12 there" in finding.message
    assert finding.likely_intended[0].route == corrected["route"]
    assert heavy(assessed(route_input(corrected), known)) == []


def test_the_known_routes_themselves_are_quiet(known: KnownRoutes) -> None:
    routes = known.collections[0].routes_between("XVAL", "XVOR")
    assert len(routes) == 4
    for one in routes:
        assert "unlike-known" not in " ".join(heavy(assessed(RouteInput(one.text, "XVAL", "XVOR"), known)))
