"""Segments joined to pieces, whatever order they come in: forks, loops, ends, borders of areas."""

import itertools
import random
from collections.abc import Sequence

from hypothesis import given
from hypothesis import strategies as st

from routecheck.model import AirwaySegment, Place, PlaceKind
from routecheck.navdata.airway_pieces import join_segments
from routecheck.navdata.tables import PlaceRef, SegmentRecord, ref_of

PLACES = {
    ref_of(place): place
    for place in (Place(letter, float(n), 0.0, PlaceKind.FIX) for n, letter in enumerate("ABCDEFGH"))
}


def ref(letter: str) -> PlaceRef:
    return "fix", "", letter, ""


def segment(ends: str, *, last: bool = False) -> SegmentRecord:
    """From the first letter to the second; its course names it, so that figures can be followed."""
    figures = AirwaySegment(
        course_deg=float(ord(ends[0]) * 1000 + ord(ends[1])),
        distance_nm=None,
        inbound_course_deg=None,
        minimum_ft=None,
        minimum_back_ft=None,
        maximum_ft=None,
        one_way="",
    )
    return SegmentRecord(ref(ends[0]), ref(ends[1]), "", last, figures)


def joined(*areas: tuple[str, Sequence[SegmentRecord]]) -> list[str]:
    pieces = join_segments("UZ5", areas, PLACES)
    for piece in pieces:
        letters = [place.ident for place in piece.places]
        assert [s.course_deg for s in piece.segments] == [
            float(ord(a) * 1000 + ord(b)) for a, b in itertools.pairwise(letters)
        ]
    return [f"{piece.area} {''.join(place.ident for place in piece.places)}" for piece in pieces]


def in_one_area(*ends: str) -> list[str]:
    return joined(("X", [segment(one) for one in ends]))


@given(st.permutations(["AB", "BC", "CD", "DE"]))
def test_the_order_of_segments_does_not_matter(ends: list[str]) -> None:
    assert in_one_area(*ends) == ["X ABCDE"]


def test_what_does_not_meet_is_apart() -> None:
    assert in_one_area("AB", "CD", "DE") == ["X AB", "X CDE"]


def test_at_a_fork_each_branch_is_a_piece_with_what_leads_to_it() -> None:
    assert in_one_area("AB", "BC", "CD", "BE", "EF") == ["X ABCD", "X ABEF"]


def test_where_two_branches_come_together_each_goes_on_to_the_end() -> None:
    assert in_one_area("AB", "BC", "CD", "EB") == ["X ABCD", "X EBCD"]


def test_an_airway_that_crosses_itself_is_one_piece_in_coded_order() -> None:
    assert in_one_area("AB", "BC", "CD", "DB", "BE") == ["X ABCDBE"]


def test_a_ring_is_one_piece() -> None:
    assert in_one_area("AB", "BC", "CA") == ["X ABCA"]


def test_both_directions_coded_apart_are_two_pieces() -> None:
    assert in_one_area("AB", "BC", "CB", "BA") == ["X ABC", "X CBA"]


def test_nothing_is_joined_across_a_place_that_is_missing() -> None:
    assert in_one_area("AB", "BZ", "ZC", "CD") == ["X AB", "X CD"]
    assert in_one_area("YZ") == []


def test_an_end_is_believed_within_an_area_and_not_at_its_border() -> None:
    assert joined(("X", [segment("AB", last=True), segment("BC")])) == ["X AB", "X BC"]
    assert joined(("X", [segment("BC")]), ("Y", [segment("AB", last=True)])) == ["Y/X ABC"]
    assert joined(("X", [segment("AB"), segment("CD")]), ("Y", [segment("BC", last=True)])) == ["X/Y/X ABCD"]


@given(st.lists(st.sampled_from([a + b for a in "ABCDEF" for b in "ABCDEF" if a != b]), max_size=14), st.randoms())
def test_every_segment_lies_on_a_piece_and_no_piece_can_be_longer(ends: list[str], rng: random.Random) -> None:
    ends = sorted(set(ends))
    rng.shuffle(ends)
    pieces = [piece.removeprefix("X ") for piece in in_one_area(*ends)]
    runs = [[a + b for a, b in itertools.pairwise(piece)] for piece in pieces]
    assert {one for run in runs for one in run} == set(ends)
    for run in runs:
        assert len(set(run)) == len(run)
        assert not [one for one in ends if one not in run and one[0] == run[-1][1] and one[1] != run[-1][0]]
        assert not [one for one in ends if one not in run and one[1] == run[0][0] and one[0] != run[0][1]]
