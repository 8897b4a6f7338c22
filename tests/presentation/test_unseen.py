"""What the headline adds to coverage: what cannot be seen from the route alone, and claims that nothing compares."""

import json
from collections.abc import Callable

import pytest

from routecheck.model import Assessment, Claim
from routecheck.presentation.headline import headline
from routecheck.presentation.unseen import find_unseen_stretches, sum_unseen_nm
from routecheck.presentation.verdict import Verdict, is_fully_checked
from routecheck.report import jsonl

Assess = Callable[..., Assessment]
OCEAN = "45N050W 46N040W 49N030W 50N020W"
NO_ENDS = {"departure": "", "destination": ""}


def test_an_ocean_crossing_is_not_all_said_by_checked_all_of_the_route(assessed: Assess) -> None:
    answer = assessed(OCEAN, **NO_ENDS)
    said = headline(answer).sentence
    assert "a one-degree slip or a missing point cannot be seen from the route alone" in said
    assert "Compare with the clearance: not yet done." in said
    assert json.loads(jsonl.format_line(answer))["totals"]["cannot_be_seen_nm"] == pytest.approx(
        answer.route.totals.distance_nm, abs=0.001
    )


@pytest.mark.parametrize(
    ("route", "stretches"),
    [
        ("LENDU DCT PIKAR UM12 TOVIK DCT SARNO", []),
        # Two positions in a row, with the legs to and from them.
        ("LENDU DCT 31S004E 31S006E DCT SARNO", [("LENDU", "SARNO")]),
        # One alone among near points: a degree off would lengthen the way by dozens of miles.
        ("LENDU DCT 3130S00240E DCT PIKAR DCT SARNO", []),
        # One alone in the middle of the ocean hides it as well as several do.
        ("50N010W DCT 50N030W DCT 50N050W", [("50N010W", "50N050W")]),
    ],
)
def test_the_stretches_on_which_a_slip_cannot_be_seen(assessed: Assess, route: str, stretches: list) -> None:
    ends = NO_ENDS if route.startswith("50N") else {}
    answer = assessed(route, **ends)
    drawn = answer.route
    assert [
        (drawn.points[one.first].text or route[:7], drawn.points[one.last].text or route[-7:])
        for one in find_unseen_stretches(drawn)
    ] == stretches
    assert (sum_unseen_nm(answer) > 0) is bool(stretches)


def test_claims_that_nothing_compares_stand_under_no_clean_verdict(assessed: Assess) -> None:
    answer = assessed("LENDU DCT PIKAR UM12 TOVIK DCT SARNO", claims=(Claim("PIKAR", level="F350"),))
    assert not is_fully_checked(answer)
    assert headline(answer).verdict is Verdict.NOTHING_FOUND_IN_PART
    assert headline(answer).verdict_line == "Nothing found in what was checked."
    assert "Not checked: levels of the plan." in headline(answer).sentence
    filed = assessed("LENDU DCT PIKAR UM12 TOVIK DCT SARNO", claims=(Claim("PIKAR", level="F350"),), level="F350")
    assert "levels of the plan" not in headline(filed).sentence
