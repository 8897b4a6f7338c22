"""A word, its findings, its points and its legs are picked together, from whichever end."""

from collections.abc import Callable

import pytest

from routecheck.model import Assessment, Span
from routecheck.presentation.selection import select_finding, select_leg, select_point, select_words

Assess = Callable[..., Assessment]
ROUTE = "LENDU DCT PIKOR UM12 TOVIK DCT SARNO"
PIKOR = Span(ROUTE.index("PIKOR"), ROUTE.index("PIKOR") + 5)


@pytest.fixture
def planted(assessed: Assess) -> Assessment:
    return assessed(ROUTE)


def test_from_a_word(planted: Assessment) -> None:
    picked = select_words(planted, Span(PIKOR.start + 2, PIKOR.start + 2))
    assert picked is None or picked.spans  # an empty span touches nothing
    picked = select_words(planted, Span(PIKOR.start + 2, PIKOR.start + 3))
    assert picked is not None
    assert picked.spans == (PIKOR,)
    assert picked.findings == (0,)
    assert [planted.route.points[i].text for i in picked.points] == ["PIKOR"]


def test_from_a_finding_and_from_its_point(planted: Assessment) -> None:
    finding = select_finding(planted, 0)
    assert PIKOR in finding.spans
    point = select_point(planted, finding.points[0])
    assert point.findings == (0,)
    assert point.spans == (PIKOR,)


def test_between_words_nothing_is_picked(planted: Assessment) -> None:
    assert select_words(planted, Span(PIKOR.start - 1, PIKOR.start)) is None


def test_an_airway_word_picks_its_legs_and_the_points_inside(assessed: Assess) -> None:
    route = "LENDU UM12 TOVIK"
    picked = select_words(assessed(route), Span(6, 7))
    assert picked is not None
    assert len(picked.legs) == 3
    assert len(picked.points) == 2


def test_a_leg_picks_the_word_that_says_how_it_is_flown(assessed: Assess) -> None:
    assessment = assessed("LENDU UM12 TOVIK")
    assert select_leg(assessment, 2).spans == (Span(6, 10),)


def test_a_leg_without_a_word_picks_its_ends(assessed: Assess) -> None:
    assessment = assessed("31S000E 31S002E")
    assert select_leg(assessment, 1).spans == (Span(0, 7), Span(8, 15))
    assert select_leg(assessment, 0).spans == (Span(0, 7),)


def test_an_airport_beside_the_text_has_no_word(assessed: Assess) -> None:
    picked = select_point(assessed("LENDU", departure="XVQZ"), 0)
    assert picked.spans == ()
    assert picked.points == (0,)
