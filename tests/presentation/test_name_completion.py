"""Names for a half-typed word: the likeliest point first, those of an airway in order, none for a whole name."""

import pytest

from routecheck.model import Span
from routecheck.presentation.name_completion import offer_names, typed_word


def names(text, flown, demo, computed=None):
    route = flown(text.rpartition(" ")[0] if computed is None else computed)
    return [offer.name for offer in offer_names(text, len(text), demo, route)]


def test_the_nearest_to_where_the_route_is_and_goes_comes_first(flown, demo):
    assert names("LENDU DCT PI", flown, demo) == ["PIKAR", "PIKOR"]
    assert names("LENDU DCT PIKAR DCT SARN", flown, demo)[-2:] == ["SARNO", "SARNU"]
    assert names("SARNU DCT LEN", flown, demo) == ["LENDU", "LENDO"]


def test_an_offer_says_what_it_is_and_where_it_lies_from_the_last_point(flown, demo):
    first = offer_names("lendu dct pik", 13, demo, flown("lendu dct"))[0]
    assert (first.name, first.kind, first.where) == ("PIKAR", "fix", "94.0 NM 075°T from LENDU")


def test_after_an_airway_its_own_points_stand_in_their_order(flown, demo):
    (piece,) = demo.airways("UM12")
    idents = [place.ident for place in piece.places]
    for first, last in ((0, -1), (-1, 0)):
        text = f"{idents[first]} UM12 "
        order = idents[1:] if first == 0 else idents[-2::-1]
        for letter in dict.fromkeys(ident[0] for ident in order):
            wanted = [ident for ident in order if ident.startswith(letter)]
            assert names(text + letter, flown, demo, f"{text}{idents[last]}") == wanted


def test_airways_by_the_last_point_and_procedures_of_the_two_ends(flown, demo):
    assert names("LENDU DCT PIKAR UM", flown, demo) == ["UM12"]
    offers = offer_names("SAR", 3, demo, flown(""))
    assert (offers[0].name, offers[0].kind) == ("SARNO2", "STAR of XVOR")
    assert names("LEND", flown, demo)[0] == "LENDU1"
    assert "LENDU1" not in names("LENDU DCT PIKAR DCT LEND", flown, demo)


@pytest.mark.parametrize("text", ["LENDU DCT PIKAR", "DCT", "LENDU DC", "L", "LENDU ", "", "QQ", "N0430F350", "LENDU/"])
def test_nothing_is_offered_for_a_whole_name_or_for_none(text, flown, demo):
    assert names(text, flown, demo) == []


def test_without_a_route_the_names_are_offered_and_no_distance(demo):
    offers = offer_names("PIK", 3, demo, None)
    assert {offer.name for offer in offers} == {"PIKAR", "PIKOR"}
    assert {offer.where for offer in offers} == {""}


def test_a_word_counts_where_the_cursor_stands_at_its_end():
    assert typed_word("LENDU PIK TOVIK", 9) == Span(6, 9)
    assert typed_word("LENDU PIKAR", 8) is None
    assert typed_word("LENDU/PIK", 9) is None


def test_a_route_computed_of_another_text_says_nothing_of_the_words_that_differ(flown, demo):
    offers = offer_names("LENDO DCT PIK", 13, demo, flown("LENDU DCT PIKAR"))
    assert all(offer.where.endswith("from XVAL") for offer in offers)
