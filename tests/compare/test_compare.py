"""Comparing two versions: every difference named once, none invented."""

import datetime as dt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from routecheck.compare.compare import compare_routes
from routecheck.model import AltitudeWindow, DifferenceKind, Role, RouteInput
from routecheck.pipeline import assess
from routecheck.presentation.comparison import (
    difference_sentence,
    difference_sentences,
    seen_sentence,
    verdict_sentence,
    version_names,
)
from routecheck.presentation.headline import headline
from routecheck.presentation.unseen import sum_unseen_nm
from routecheck.settings import Settings

OCEAN = "52N020W 52N030W 50N040W 49N050W"
"""From the route of the flight-plan message printed in ICAO Doc 4444, Appendix 3, 2.3.1."""
LAND = "LENDU DCT PIKAR UM12 TOVIK DCT SARNO DCT KEBUL DCT RIPAS"

SLIPS = (
    ("52N020W 52N030W 51N040W 49N050W", "In the second, 51N040W in place of 50N040W: 60.1 NM apart.", -8.3),
    ("52N020W 50N040W 49N050W", "52N030W: missing in the second, between 52N020W and 50N040W.", -2.8),
    ("52N020W 5230N03000W 50N040W 49N050W", "In the second, 5230N03000W in place of 52N030W: 30.0 NM apart.", 7.3),
    ("52N020W 52N030W 50N030W 49N050W", "In the second, 50N030W in place of 50N040W: 387 NM apart.", 109.7),
    ("52N020W 50N040W 52N030W 49N050W", "50N040W comes after 52N030W in the first, after 52N020W in the second.", 783),
    ("52N020W 52N030E 50N040W 49N050W", "In the second, 52N030E in place of 52N030W: 2,160 NM apart.", 3600),
)
"""Typical slips of that route and what each adds to it, NM: our own figures, by geographiclib."""


@pytest.mark.parametrize(("second", "sentence", "added"), SLIPS)
def test_slips_of_an_ocean_route_are_told_apart(compare, second, sentence, added):
    found = compare(OCEAN, second)
    assert [difference_sentence(found, one) for one in found.differences] == [sentence]
    change = found.second.totals.distance_nm - found.first.totals.distance_nm
    assert change == pytest.approx(added, abs=0.05 if isinstance(added, float) else 0.5)
    assert seen_sentence(found) == ""


@pytest.mark.parametrize(
    ("first", "second"),
    [
        (OCEAN, "5200N02000W 52N030W DCT 50N040W 4900N05000W"),
        ("LENDU UM12 TOVIK", "LENDU UM12 PIKAR UM12 TOVIK"),
        (LAND, f"  {LAND.lower().replace(' ', chr(10))}+"),
    ],
)
def test_another_way_of_writing_is_no_difference(compare, first, second):
    found = compare(first, second)
    assert found.differences == ()
    assert verdict_sentence(found).startswith("No difference in ")
    assert len(found.same_points) >= len(found.first.points)


def test_an_equal_ocean_stretch_is_said_to_be_compared(compare):
    assert seen_sentence(compare(OCEAN, OCEAN)) == "Compared point by point and the same: XVAL–XVOR."


@pytest.mark.parametrize(
    ("second", "sentences"),
    [
        (LAND.replace("PIKAR UM12", "PIKAR DCT"), ["PIKAR–TOVIK: by UM12 in the first, DCT in the second."]),
        (
            LAND.replace("PIKAR UM12 TOVIK DCT ", ""),
            [
                "PIKAR and TOVIK: missing in the second, between LENDU and SARNO.",
                "LENDU–SARNO: by UM12 in the first, not by UM12 in the second.",
            ],
        ),
        (LAND + " DCT UVAGI", ["UVAGI: only in the second, between RIPAS and XVOR."]),
        (LAND.replace("PIKAR", "PIKOR"), ["In the second, PIKOR in place of PIKAR: 154 NM apart."]),
        (
            "LENDU DCT PIKAR UM12 TOVIK DCT KEBUL DCT SARNO DCT RIPAS",
            ["KEBUL comes after SARNO in the first, after TOVIK in the second."],
        ),
        (LAND + " ?", ["?: only in the second, between RIPAS and XVOR."]),
        (LAND + " T", ["Words that are no points: none in the first, T after RIPAS in the second."]),
        (
            LAND.replace("SARNO", "SARNO/N0430F370"),
            ["Speed or level from SARNO: not stated in the first, N0430 and F370 in the second."],
        ),
    ],
)
def test_differences_of_the_text(compare, second: str, sentences: list[str]):
    found = compare(LAND, second)
    assert [difference_sentence(found, one) for one in found.differences] == sentences


@pytest.mark.parametrize(
    ("beside", "sentence"),
    [
        ({"departure_runway": "09"}, "Departure runway: not stated in the first, 09 in the second."),
        ({"destination": "XVMA"}, "Destination: XVOR in the first, XVMA in the second."),
        ({"alternate": ("XVMA",)}, "Alternate: not stated in the first, XVMA in the second."),
        ({"approach": "I27"}, "Approach: not stated in the first, I27 in the second."),
        ({"level": "F350"}, "Speed or level from the departure: not stated in the first, F350 in the second."),
        (
            {"windows": (AltitudeWindow("KEBUL", 11_000.0, None),)},
            "Altitude window at KEBUL: not stated in the first, at or above 11,000 ft in the second.",
        ),
    ],
)
def test_differences_beside_the_text(compare, beside: dict, sentence: str):
    found = compare(LAND, LAND, **beside)
    assert sentence in [difference_sentence(found, one) for one in found.differences]


def test_a_procedure_is_compared_by_its_name(compare):
    found = compare("LENDU UM12 TOVIK SARNO2", "LENDU UM12 TOVIK SARNO1")
    assert [one.kind for one in found.differences] == [DifferenceKind.PROCEDURE]
    assert found.differences[0].spans == ((17, 23),)


def test_versions_are_called_by_their_roles(read):
    found = compare_routes(
        read(OCEAN, role=Role.FILED), read(OCEAN.replace("51", "50"), role=Role.CLEARED, level="F370")
    )
    assert "not stated as filed, F370 as cleared" in difference_sentence(found, found.differences[0])


def test_what_is_nowhere_is_compared_by_its_letters_and_said(compare):
    found = compare("LENDU DCT QQQQQ DCT TOVIK", "LENDU DCT QQQQQ DCT TOVIK")
    assert found.differences == ()
    assert "by its letters only, for it is at no known place: QQQQQ" in verdict_sentence(found)


@pytest.fixture
def answer(demo):
    """The answer about a route that is compared with another version, None = with none."""

    def made(text, other=None):
        version = None if other is None else RouteInput(other, "XVAL", "XVOR")
        route_input = RouteInput(text, "XVAL", "XVOR", other=version)
        return assess(route_input, demo, Settings(), dt.date(2026, 12, 3))

    return made


def test_what_cannot_be_seen_alone_is_lifted_by_an_equal_version_only(answer):
    alone, same, differs = answer(OCEAN), answer(OCEAN, OCEAN), answer(OCEAN, OCEAN.replace("50N", "51N"))
    assert "cannot be seen from the route alone. Compare with the clearance: not yet done." in headline(alone).sentence
    assert "cannot be seen" not in headline(same).sentence
    assert "Compared point by point and the same: XVAL–XVOR." in headline(same).sentence
    assert "cannot be seen from the route alone. The other version differs there." in headline(differs).sentence
    assert sum_unseen_nm(same) == 0.0 < sum_unseen_nm(alone) == sum_unseen_nm(differs)


def test_a_word_typed_since_is_compared_anew(answer):
    assert answer(OCEAN, OCEAN).comparison.differences == ()
    assert answer(f"{OCEAN} 48N060W", OCEAN).comparison.differences[0].first == ("48N060W",)


SOME = "LENDU PIKAR PIKOR UM12 TOVIK SARNO KEBUL DCT 52N020W 50N040W ? T SARNO2 QQQQQ TOVIK/N0430F350"
WORDS = st.lists(st.sampled_from(SOME.split()), max_size=9).map(" ".join)


@settings(max_examples=30)
@given(first=WORDS, second=WORDS)
@pytest.mark.slow
def test_nothing_is_invented_and_nothing_hidden(demo, first, second):
    one, other = (
        assess(RouteInput(text, "XVAL", "XVOR"), demo, Settings(), dt.date(2026, 12, 3)).route
        for text in (first, second)
    )
    assert compare_routes(one, one).differences == ()
    found, mirrored = compare_routes(one, other), compare_routes(other, one)
    assert bool(found.differences) == bool(mirrored.differences)
    if not found.differences:
        assert [leg.distance_nm for leg in one.legs] == pytest.approx([leg.distance_nm for leg in other.legs])
    for difference in found.differences:
        assert difference_sentence(found, difference).endswith(".")


def test_a_version_whose_role_is_known_is_called_by_it(compare):
    other = LAND.replace("PIKAR UM12", "PIKAR DCT")
    assert version_names(compare(LAND, other)) == ("the first", "the second")
    named = compare(LAND, other, role=Role.CLEARED)
    assert list(difference_sentences(named)) == ["PIKAR–TOVIK: by UM12 in the first, DCT as cleared."]
