"""The nearest known route: which it is, how the route differs, and where no route is known."""

import pytest
from known_lists import assessed, known_routes

from routecheck.model import Weight
from routecheck.presentation.known_routes import nearest_sentence

KNOWN = known_routes("LENDU UM12 TOVIK SARNO", "LENDU UM12 RULPO SARNO NILAK", "XVAL XVMA: LENDU UM12 BINOT MAV")


@pytest.mark.parametrize(
    ("route", "sentence"),
    [
        ("LENDU DCT UM12 TOVIK SARNO", "As known route XVAL–XVOR 2 of 2 (known.csv)."),
        ("LENDU UM12 PIKAR SARNO", "As known route XVAL–XVOR 2 of 2 (known.csv), but PIKAR for TOVIK."),
        ("LENDU UM12 TOVIK", "As known route XVAL–XVOR 2 of 2 (known.csv), but without SARNO."),
        ("LENDU UM12 TOVIK RULPO SARNO", "As known route XVAL–XVOR 2 of 2 (known.csv), but with RULPO."),
    ],
)
def test_it_is_named_with_what_differs(route, sentence):
    assert nearest_sentence(assessed(route, KNOWN).route.usage) == sentence


def test_where_no_route_is_known_a_note_says_so_only_if_both_ends_are():
    known = known_routes("XVAL XVOR: LENDU UM12 TOVIK", "XVKE XVMA: MAV")
    answer = assessed("LENDU UM12 PIKAR DCT MAV", known, "XVAL", "XVMA")
    notes = [one.message for one in answer.findings if one.check == "unlike-known" and one.weight is Weight.NOTE]
    assert notes == ["No known route leads from XVAL to XVMA."]
    assert nearest_sentence(answer.route.usage) == ""
    elsewhere = assessed("LENDU UM12 PIKAR DCT MAV", known, "XVSU", "XVMA")
    assert not [one for one in elsewhere.findings if one.check == "unlike-known"]


def test_a_shape_that_known_routes_fly_is_a_note_and_wrong_stays_wrong():
    typed = "LENDU DCT PIKOR DCT UVAGI DCT SARNO"
    shapes = {one.check: one for one in assessed(typed, None).findings}
    assert shapes["best-edit"].weight is Weight.DOUBTFUL
    flown = known_routes(f"{typed} NILAK", typed, "VAL LENDU DCT PIKOR DCT UVAGI")
    calmed = assessed(typed, flown).findings
    assert {one.check for one in calmed if one.weight is not Weight.NOTE} == set()
    assert any(one.message.endswith("Flown so by 3 known routes.") for one in calmed)
    once = assessed(typed, known_routes(typed)).findings
    assert any(one.weight is Weight.DOUBTFUL for one in once)
    off_airway = "LENDU UM12 PIKOR DCT UVAGI"
    wrong = assessed(off_airway, known_routes(off_airway, f"{off_airway} TOVIK", f"VAL {off_airway}"))
    assert wrong.heaviest() is Weight.WRONG


def test_another_airway_between_the_same_points_is_a_note():
    known = known_routes(*(f"XVAL {end}: LENDU UM12 UVAGI" for end in ("XVOR", "XVMA", "XVDU", "XVKE", "XVSU")))
    found = [one for one in assessed("LENDU M12 UVAGI", known).findings if one.check == "unlike-known"]
    assert [(one.weight, one.message) for one in found] == [
        (
            Weight.NOTE,
            (
                "M12: no known route has it between LENDU and UVAGI. "
                "UM12: 5 known routes fly it from LENDU to UVAGI, none M12."
            ),
        )
    ]
