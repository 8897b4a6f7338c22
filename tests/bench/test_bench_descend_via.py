"""Descend via, on the country file: every SID and STAR with every sheet, and what is caught when a window changes.

Data: U.S. FAA CIFP, cycle 2301 (public domain). The trial's shares were measured on it by another program.
Run with: pytest -m bench tests/bench/test_bench_descend_via.py -s
"""

import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

import pytest
from changed_windows import (
    CODED,
    KINDS_OF_CHANGE,
    OVER_CODED,
    STATED,
    Tally,
    as_published,
    findings,
    height_checks,
    into_approaches,
    one_of_each,
    route_of,
    tallied,
    with_windows,
)
from descend_via import KINDS, Combination, barred, combinations, flown, gradients_of

from routecheck.model import AircraftSheet, Route, Weight
from routecheck.navdata.database import NavDatabase
from routecheck.settings.sheets import shipped_sheets
from routecheck.vertical.room import Gradients

pytestmark = pytest.mark.bench
SEED = 2301
ANY = 10_000.0
"""A gradient that binds nobody, ft/NM."""
TRIAL = {"STAR": 0.06, "SID": 0.09}
"""Percent of combinations with an empty room at 450 ft/NM that a trial reached."""
Routes = list[tuple[str, Route]]


@pytest.fixture(scope="module")
def say(request: pytest.FixtureRequest) -> Iterator[list[str]]:
    """Takes the rows of the table, which is printed when all is measured."""
    rows: list[str] = []
    yield rows
    with request.config.pluginmanager.getplugin("capturemanager").global_and_fixture_disabled():
        sys.stdout.write("\ndescend via, whole-country file\n  " + "\n  ".join(rows) + "\n")


@pytest.fixture(scope="module")
def cases(country: NavDatabase) -> dict[str, list[Combination]]:
    return {kind: list(combinations(country, kind)) for kind in KINDS}


@pytest.fixture(scope="module")
def own_sheet() -> AircraftSheet:
    """The medium jet as if it were the user's own, so that a Wrong may be said."""
    return replace(next(sheet for sheet in shipped_sheets() if sheet.name == "Medium jet"), typical=False)


@pytest.fixture(scope="module")
def routes(country: NavDatabase, cases: dict[str, list[Combination]], own_sheet: AircraftSheet) -> Routes:
    """One route by each procedure, as the pipeline makes it."""
    made = [(kind, route_of(country, one, own_sheet)) for kind in KINDS for one in one_of_each(cases[kind], SEED)]
    assert all(route for _, route in made)
    return [(kind, route) for kind, route in made if route]


@pytest.mark.parametrize("kind", KINDS)
def test_the_room_at_a_gradient(cases: dict[str, list[Combination]], kind: str, say: list[str]) -> None:
    names, procedures = ({key(one) for one in cases[kind]} for key in (lambda one: one.name, lambda one: one.procedure))
    say.append(
        f"{kind}: empty rooms of {len(cases[kind]):,} combinations, {len(names)} names, at {len(procedures)} pairs of "
        "airport and name"
    )
    for most in (318.0, 330.0, 400.0, 450.0, 500.0):
        found = flown(cases[kind], Gradients(ANY, most) if kind == "STAR" else Gradients(most, ANY))
        names = f"{', '.join(found.names_empty)}" if len(found.names_empty) < 6 else ""
        say.append(
            f"  {most:.0f} ft/NM {found.empty:>5} {found.share:6.2f} %, names {len(found.names_empty):>3} "
            f"{found.names_share:6.2f} %  {names}"
        )
        if most == 450.0:
            assert found.share <= TRIAL[kind] + 0.005


@pytest.mark.parametrize("kind", KINDS)
def test_the_room_of_every_sheet(cases: dict[str, list[Combination]], kind: str, say: list[str]) -> None:
    say.append(f"{kind}: empty rooms by sheet, of the combinations that its category allows")
    for sheet in shipped_sheets():
        allowed = [one for one in cases[kind] if not barred(one, sheet)]
        found = flown(allowed, gradients_of(sheet))
        up, down = gradients_of(sheet).climb_ft_nm, gradients_of(sheet).descent_ft_nm
        say.append(
            f"  {sheet.name:<14} +{up:.0f} -{down:.0f} ft/NM {found.empty:>3} of {found.combinations:,} "
            f"{found.share:5.2f} %, names {len(found.names_empty)} of {found.names}  {', '.join(found.names_empty)}"
        )
        assert found.share <= TRIAL[kind] + 0.005


def test_as_published_the_checks_are_quiet(routes: Routes, say: list[str]) -> None:
    """Coded windows are believed. Typed off a chart they are not: what is said then is what is published steep."""
    checks = height_checks()
    for way in (CODED, STATED):
        found = [findings(with_windows(route, as_published(route), way), checks) for _, route in routes]
        loud = [one for several in found for one in several]
        said = ", ".join(sorted({f"{one.check} {one.weight}" for one in loud})) or "nothing"
        say.append(f"as published, {way}: {sum(map(bool, found))} of {len(routes):,} routes with a finding: {said}")
        assert way == STATED or not loud
        assert sum(one.weight is not Weight.NOTE for one in loud) <= 1  # XPATH and XBEEE of KAPA


def test_arrivals_into_approaches(
    country: NavDatabase, cases: dict[str, list[Combination]], own_sheet: AircraftSheet, say: list[str]
) -> None:
    """Two published procedures put together may be questioned, but seldom: mostly where a STAR ends in vectors."""
    checks = height_checks()
    found = [findings(route, checks) for route in into_approaches(country, cases["STAR"], own_sheet)]
    by = Counter(f"{one.check} {one.weight}" for several in found for one in several)
    wrong = sum(any(one.weight is Weight.WRONG for one in several) for several in found)
    loud = sum(any(one.weight is not Weight.NOTE for one in several) for several in found)
    say.append(
        f"STARs into approaches: {len(found):,}, Wrong {100 * wrong / len(found):.2f} %, Wrong or Doubtful "
        f"{100 * loud / len(found):.2f} % ({', '.join(f'{name} {number}' for name, number in by.most_common())})"
    )
    assert len(found) > 1_500
    assert wrong <= 0.005 * len(found)
    assert loud <= 0.01 * len(found)


LEAST = {("above for below", STATED): 95.0, ("above for below", OVER_CODED): 95.0}
"""Percent of changes that no flight in order can keep which must be caught, else 99."""


@pytest.mark.parametrize("way", [STATED, OVER_CODED])
@pytest.mark.parametrize("kind", KINDS_OF_CHANGE)
def test_one_window_changed(routes: Routes, kind: str, way: str, say: list[str]) -> None:
    found = tallied(routes, kind, way, height_checks(), SEED)
    say.append(f"{kind}, {way}: {_told(found)}")
    caught = 100.0 * (found.caught - found.caught_though_possible) / (found.tried - found.possible)
    assert caught >= LEAST.get((kind, way), 99.0)
    assert found.named >= 0.99 * found.caught


def test_a_window_changed_in_the_data_is_believed(routes: Routes) -> None:
    """By decision coded data is questioned only where it is combined with what the user chose: level and aircraft."""
    for kind in KINDS_OF_CHANGE:
        found = tallied(routes, kind, CODED, height_checks(), SEED)
        assert set(found.by) <= {f"level-never-reached {Weight.NOTE}", f"above-ceiling {Weight.WRONG}"}


def _told(found: Tally) -> str:
    impossible, caught = found.tried - found.possible, found.caught - found.caught_though_possible
    by = ", ".join(f"{name} {number}" for name, number in found.by.most_common())
    return (
        f"{found.tried:,} changed, {100 * impossible / found.tried:.1f} % against the order of flight, of which caught "
        f"{100 * caught / impossible:.1f} %; of all {100 * found.caught / found.tried:.1f} % ({by})"
    )
