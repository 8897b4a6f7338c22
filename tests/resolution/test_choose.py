"""The choice among places of one name: the whole route decides, over all words at once."""

import dataclasses
import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.earth import geo
from routecheck.model import Airway, AirwaySegment, Place, PlaceKind, Via
from routecheck.navdata.database import empty_database
from routecheck.resolution import airways
from routecheck.resolution.chain import Chain, PendingConnection, PendingPoint
from routecheck.resolution.choose import NEAR_LINE_NM, choose_places


def place(lat, lon, ident="X"):
    return Place(ident, lat, lon, PlaceKind.FIX)


def chain_of(*columns):
    """Slots with these candidates, joined directly."""
    slots = [PendingPoint(i, f"S{i}", tuple(column)) for i, column in enumerate(columns)]
    return Chain(empty_database(), slots, [PendingConnection(Via.DIRECT)] * (len(slots) - 1))


def length_nm(places):
    return sum(geo.rough_nm(a.lat, a.lon, b.lat, b.lon) for a, b in itertools.pairwise(places))


def placed(columns, chosen):
    return [column[pick] for column, pick in zip(columns, chosen, strict=True) if pick is not None]


def test_the_nearest_to_the_point_before_is_the_wrong_one():
    """From 0E to 10E: one place of the name lies 60 NM behind the start, the other 300 NM ahead on the line."""
    start, end = place(0, 0), place(0, 10)
    near_behind, far_ahead = place(0, -1), place(0, 5)
    columns = [[start], [near_behind, far_ahead], [end]]
    choice = choose_places(chain_of(*columns))
    assert geo.rough_nm(0, 0, 0, -1) < geo.rough_nm(0, 0, 0, 5)
    assert placed(columns, choice.chosen) == [start, far_ahead, end]
    assert choice.longer_nm[1][0] == pytest.approx(2 * geo.rough_nm(0, 0, 0, -1))


def test_two_names_decide_together():
    """Each alone would choose the northern place; both northern ones together lie on the way, both southern not."""
    columns = [[place(0, 0)], [place(3, 3), place(-1, 3)], [place(3, 6), place(-4, 6)], [place(3, 9)]]
    greedy_first = min(columns[1], key=lambda p: geo.rough_nm(0, 0, p.lat, p.lon))
    choice = choose_places(chain_of(*columns))
    assert greedy_first is columns[1][1]
    assert choice.chosen == (0, 0, 0, 0)


places = st.builds(place, st.integers(-89, 89), st.integers(-180, 180))
columns_of_places = st.lists(st.lists(places, min_size=0, max_size=4), min_size=2, max_size=5)


@given(columns_of_places)
def test_no_combination_is_shorter(columns):
    choice = choose_places(chain_of(*columns))
    active = [column for column in columns if column]
    best = min((length_nm(way) for way in itertools.product(*active)), default=0.0)
    assert [pick is None for pick in choice.chosen] == [not column for column in columns]
    assert length_nm(placed(columns, choice.chosen)) == pytest.approx(best, abs=1e-5)


@given(columns_of_places)
def test_every_loser_says_what_the_best_route_with_it_adds(columns):
    choice = choose_places(chain_of(*columns))
    active = [(i, column) for i, column in enumerate(columns) if column]
    if all(len(column) == 1 for _, column in active):
        assert all(set(longer) <= {0.0} for longer in choice.longer_nm)
        return
    ways = list(itertools.product(*(column for _, column in active)))
    best = min(map(length_nm, ways))
    for position, (i, column) in enumerate(active):
        for pick, candidate in enumerate(column):
            through = min(length_nm(way) for way in ways if way[position] is candidate)
            assert choice.longer_nm[i][pick] == pytest.approx(through - best, abs=1e-5)


def test_no_place_at_all():
    assert choose_places(chain_of([], [], [])).chosen == (None, None, None)


def test_being_on_the_airway_decides_before_length(demo):
    """The northern TOVIK is on UM12 only, the southern on M12 only: the longer way is taken if the airway says so."""
    (north, south), (lendu,) = demo.places("TOVIK"), demo.places("LENDU")
    beyond_south, beyond_north = place(-33, 4), place(-28, 4)
    for airway, beyond, taken in (("UM12", beyond_south, north), ("M12", beyond_north, south)):
        slots = [
            PendingPoint(0, "LENDU", (lendu,)),
            PendingPoint(1, "TOVIK", (north, south)),
            PendingPoint(2, "X", (beyond,)),
        ]
        chain = Chain(
            demo,
            slots,
            [PendingConnection(Via.AIRWAY, (), airway, pieces=demo.airways(airway)), PendingConnection(Via.DIRECT)],
        )
        assert slots[1].candidates[choose_places(chain).chosen[1]] is taken


def along(*places):
    """An airway through these places, of which nothing but the line is known."""
    figures = {field.name: None for field in dataclasses.fields(AirwaySegment)} | {"one_way": ""}
    return Airway("Y262", "USA", places, (AirwaySegment(**figures),) * (len(places) - 1))


def test_the_station_coded_on_the_airway_is_not_lost_to_one_of_its_name_beside_the_line():
    """MAXIM Y262 ZFP went to the NDB ZFP, 4.71 NM before the VOR/DME that the airway is coded to: 65.6 NM for 70.3."""
    start, middle = place(26.0, -80.0, "MAXIM"), place(26.2, -79.4, "MIDDL")
    coded = Place("ZFP", 26.5, -78.7, PlaceKind.VOR_DME)
    beside = Place("ZFP", 26.4665, -78.7785, PlaceKind.NDB)
    pieces = (along(start, middle, coded),)
    assert airways.position_on(pieces[0], beside) is not None
    for candidates in ((beside, coded), (coded, beside)):
        slots = [PendingPoint(0, "MAXIM", (start,)), PendingPoint(2, "ZFP", candidates)]
        chain = Chain(empty_database(), slots, [PendingConnection(Via.AIRWAY, (1,), "Y262", pieces=pieces)])
        choice = choose_places(chain)
        assert candidates[choice.chosen[1]] is coded
        assert max(choice.longer_nm[1]) >= NEAR_LINE_NM - 100


def test_where_none_of_that_name_is_coded_the_one_beside_the_line_is_taken():
    start, end = place(26.0, -80.0, "MAXIM"), place(26.5, -78.7, "ENDED")
    beside, far = Place("ZFP", 26.25, -79.35, PlaceKind.NDB), Place("ZFP", 26.5, -78.0, PlaceKind.NDB)
    slots = [PendingPoint(0, "MAXIM", (start,)), PendingPoint(2, "ZFP", (far, beside))]
    pieces = (along(start, end),)
    chain = Chain(empty_database(), slots, [PendingConnection(Via.AIRWAY, (1,), "Y262", pieces=pieces)])
    assert choose_places(chain).chosen == (0, 1)
