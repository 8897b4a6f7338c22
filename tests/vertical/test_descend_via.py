"""The room over every published arrival and departure of the country file; the exceptions by name, with the fault.

The shares were measured on the same data by another program: U.S. FAA CIFP, cycle 2301 (public domain).
"""

from itertools import pairwise
from typing import NamedTuple

import pytest
from descend_via import barred, combinations, flown, gradients_of, worst
from geographiclib.geodesic import Geodesic

from routecheck.settings.sheets import shipped_sheets
from routecheck.vertical.room import Gradients, is_upside_down

ANY = 10_000.0
"""A gradient that binds nobody, ft/NM."""
BEYOND = 400.0
"""Above it `steep` is Doubtful: what asks for more, up or down, is an exception and stands below."""


class Odd(NamedTuple):
    """A pair of published windows that asks for more than BEYOND, in how many combinations, and whose fault it is."""

    kind: str
    airport: str
    name: str
    branches: str
    pair: str
    needed_ft_nm: int
    combinations: int
    fault: str


_KAPA = (
    "the data's: both AT, and the approaches I35R, L35R and R35R of KAPA begin at XBEEE at 9,000 too; within the 500 "
    "ft/NM that an initial segment may have (FAA Order 8260.3)"
)
EXCEPTIONS = [
    Odd("STAR", "KAPA", "DUNNN5", "RW35R", "XPATH 11,000, XBEEE 9,000", 463, 2, _KAPA),
    Odd("STAR", "KAPA", "ZOMBZ5", "RW35R", "XPATH 11,000, XBEEE 9,000", 463, 1, _KAPA),
    Odd("STAR", "KBOS", "JFUND2", "PONCT, RW15R", "BASEZ 14,000, WACHU 7,000", 422, 1,
        "the data's: +14,000 in the transition, for every runway, and one of them with 7,000 only 16.6 NM on"),
    Odd("STAR", "PAED", "GRUUB1", "CRUZR, RW06", "SLICK 21,000, RNICH 6,000", 401, 1,
        "the data's: as before; the transitions by DAWNE come at +19,000 and need 382"),
    Odd("SID", "KIAH", "FLYZA5", "every runway; ANKRR, KELPP, MUSYL", "BOTLL 5,000, PPALE 11,000", 413, 18,
        "the data's: -5,000 in every runway branch, +11,000 in three transitions, 14.5 NM apart"),
]  # fmt: skip


@pytest.fixture(scope="module")
def arrivals(country):
    return list(combinations(country, "STAR"))


@pytest.fixture(scope="module")
def departures(country):
    return list(combinations(country, "SID"))


def odd(cases):
    """What asks for more than BEYOND, as it stands in EXCEPTIONS, without branches and fault."""
    found = {}
    for one in cases:
        pair = worst(one)
        if pair and pair.needed_ft_nm > BEYOND:
            first, last = one.points[pair.first], one.points[pair.last]
            told = f"{first} {pair.first_ft:,.0f}, {last} {pair.last_ft:,.0f}"
            found.setdefault((one.kind, one.airport, one.name, told, round(pair.needed_ft_nm)), []).append(one)
    return {(*key, len(ones)) for key, ones in found.items()}


def listed(kind):
    return {(o.kind, o.airport, o.name, o.pair, o.needed_ft_nm, o.combinations) for o in EXCEPTIONS if o.kind == kind}


def test_every_arrival_that_asks_for_more_is_listed(arrivals):
    assert odd(arrivals) == listed("STAR")


def test_every_departure_that_asks_for_more_is_listed(departures):
    assert odd(departures) == listed("SID")


def test_the_distances_of_the_exceptions_are_those_of_the_other_library(arrivals, departures):
    """So that the expansion is not at fault: the legs between the two windows, added up by geographiclib."""
    names = {(o.airport, o.name) for o in EXCEPTIONS}
    cases = [one for one in (*arrivals, *departures) if (one.airport, one.name) in names]
    for one in cases:
        pair = worst(one)
        places = [point.place for point in one.path.points[pair.first : pair.last + 1]]
        metres = sum(Geodesic.WGS84.Inverse(a.lat, a.lon, b.lat, b.lon)["s12"] for a, b in pairwise(places))
        assert metres / 1852.0 == pytest.approx(pair.distance_nm, abs=1e-6)


# ---- the shares


def test_as_many_combinations_as_were_measured(arrivals, departures):
    assert len(arrivals) == 4_991
    assert len(departures) == 2_197
    assert not any(is_upside_down(window) for one in (*arrivals, *departures) for window in one.windows)


@pytest.mark.parametrize(
    ("descent", "share", "digit"), [(318, 3.0, 0.05), (400, 0.10, 0.005), (450, 0.06, 0.005), (500, 0, 0)]
)
def test_the_room_of_published_arrivals(arrivals, descent, share, digit):
    assert flown(arrivals, Gradients(ANY, descent)).share == pytest.approx(share, abs=digit)


def test_what_published_arrivals_ask_for(arrivals):
    """There: median 231, 95 % 305, 99 % 330, largest 463 ft/NM; none needs a climb."""
    needed = sorted(one.needed_ft_nm(climbs=False) for one in arrivals)
    at = [needed[int(share * len(needed))] for share in (0.5, 0.95, 0.99)] + needed[-1:]
    assert at == pytest.approx([231, 305, 330, 463], abs=1.0)
    assert max(one.needed_ft_nm(climbs=True) for one in arrivals) == 0.0


def test_the_room_of_published_departures(departures):
    """There: 0.68 % at 400 ft/NM and 0.09 % at 450, counted a little otherwise; no pair needs a descent."""
    assert flown(departures, Gradients(450.0, ANY)).empty == 0
    assert flown(departures, Gradients(400.0, ANY)).names_empty == ("FLYZA5",)
    assert max(one.needed_ft_nm(climbs=False) for one in departures) == 0.0


@pytest.mark.parametrize("sheet", shipped_sheets(), ids=lambda sheet: sheet.name)
def test_every_sheet_flies_what_its_category_allows(arrivals, departures, sheet):
    """The jets with 450 ft/NM down cannot fly the two of KAPA; nothing else is empty."""
    own = [one for one in (*arrivals, *departures) if not barred(one, sheet)]
    assert len(own) > 3_000
    empty = {one.procedure for one in own if one.conflicts(gradients_of(sheet))}
    assert empty == ({"KAPA DUNNN5", "KAPA ZOMBZ5"} if sheet.greatest_descent_ft_nm == 450.0 else set())
