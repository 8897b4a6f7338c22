"""Real published routes from runway to runway, by whatever approach the data has: nothing breaks or is lost."""

import csv
import datetime as dt
import random

import pytest

from routecheck.model import RouteInput
from routecheck.pipeline import assess_many
from routecheck.settings import Settings
from routecheck.settings.sheets import shipped_sheets

FLOWN = dt.date(2023, 2, 1)
EVERY = 12
"""Of so many routes one is taken, so that it is quick; all of them were tried once."""


@pytest.fixture(scope="module")
def assessed(country, shared_data):
    with (shared_data / "faa_preferred_routes_2023_part.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))[::EVERY]
    rng = random.Random(4)
    route_inputs = [_somehow(country, row, rng) for row in rows]
    # Here the fix of the approach lies 18 m from the enroute fix of that name.
    apart = RouteInput("GDM T608 YANTC", "KEEN", "KGON", off_block=FLOWN, approach="R23")
    return list(assess_many([*route_inputs, apart], country, Settings(sheets=shipped_sheets()), FLOWN))


def _somehow(database, row, rng):
    """The route with runways that its airports have, for two in three with an approach instead of a runway."""
    approaches = database.procedure_names(row["destination"], "APPROACH")
    approach = rng.choice(approaches) if approaches and rng.random() < 0.67 else ""
    return RouteInput(
        row["route"],
        row["departure"],
        row["destination"],
        departure_runway=_runway(database, row["departure"], rng),
        destination_runway="" if approach else _runway(database, row["destination"], rng),
        approach=approach,
        speed="N0300",
        level="F240",
        off_block=FLOWN,
        aircraft_sheet="Turboprop",
    )


def _runway(database, airport, rng):
    known = [runway.ident for runway in database.runways(airport)]
    return rng.choice(known) if known else ""


def test_nothing_breaks_and_both_readings_of_every_length_agree(assessed):
    assert len(assessed) > 400
    assert [a.could_not_run for a in assessed if a.could_not_run] == []
    assert [(a.route.route_input, a.route.own_mistakes) for a in assessed if a.route.own_mistakes] == []


def test_every_leg_has_a_length_or_a_reason(assessed):
    legs = [leg for a in assessed for leg in a.route.legs]
    assert all((leg.distance_nm is None) == bool(leg.gap) for leg in legs)
    assert sum(bool(leg.shape) for leg in legs) > 3


def test_procedures_are_followed_and_windows_stand_at_their_points(assessed):
    kinds = [connection.procedure_kind for a in assessed for connection in a.route.resolved.connections]
    assert min(kinds.count(kind) for kind in ("SID", "STAR", "APPROACH")) > 50
    coded = [w for a in assessed for at in a.route.windows for w in at]
    assert len(coded) > 1000
    assert not any(window.typed for window in coded)


def test_the_user_chose_no_point_inside_a_procedure(assessed):
    for answer in assessed:
        connections = answer.route.resolved.connections
        for i, leg in enumerate(answer.route.legs[:-1]):
            if connections[leg.connection].procedure and answer.route.legs[i + 1].connection == leg.connection:
                assert answer.route.points[i + 1].route_point is None
                assert answer.route.turns[i + 1] is None
