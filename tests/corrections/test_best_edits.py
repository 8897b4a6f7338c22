"""The best corrections on the demo region: each kind of error by hand, silence where nothing is wrong."""

from __future__ import annotations

import datetime as dt
from itertools import combinations, pairwise

import pytest

from routecheck.corrections.aerodrome_edits import EXIT_NEAR_FIELD
from routecheck.corrections.best_edits import FAR_BEHIND, MOST_KEPT, OTHER_WORD_GAP, best_edits, explains_as_well
from routecheck.corrections.plausibility import MOST_SHARE, SHARE
from routecheck.corrections.scoring import AS_SHIPPED, CLEAR_GAP
from routecheck.entry_errors.kinds import WORTH_SAYING, EntryError
from routecheck.geometry.legs import compute_routes
from routecheck.model import RouteInput
from routecheck.navdata.database import demo_database
from routecheck.reading.route_text import read_route
from routecheck.reading.samples import read_samples
from routecheck.resolution.resolve import resolve

DEMO = demo_database()
DAY = dt.date(2026, 12, 3)


def best_of(route_input, database=DEMO, day=DAY):
    (route,) = compute_routes([resolve(read_route(route_input), database, day)], [day])
    return best_edits(route, database, AS_SHIPPED)


def best(route, departure="XVAL", destination="XVOR"):
    return best_of(RouteInput(route, departure, destination))


def with_it(route, correction):
    span = correction.span
    return route[: span.start] + correction.new + route[span.end :]


HAND = [
    ("LENDU DCT PIKOR DCT UVAGI DCT SARNO", "LENDU DCT PIKAR DCT UVAGI DCT SARNO", EntryError.LETTER_CHANGED),
    ("LENDU DCT PIKER DCT UVAGI DCT SARNO", "LENDU DCT PIKAR DCT UVAGI DCT SARNO", EntryError.LETTER_CHANGED),
    ("LENDU DCT PIKKAR DCT UVAGI DCT SARNO", "LENDU DCT PIKAR DCT UVAGI DCT SARNO", EntryError.LETTER_ADDED),
    ("LENDU DCT PIAR DCT UVAGI DCT SARNO", "LENDU DCT PIKAR DCT UVAGI DCT SARNO", EntryError.LETTER_DROPPED),
    ("LENDU UM12 UVGAI DCT SARNO", "LENDU UM12 UVAGI DCT SARNO", EntryError.LETTERS_SWAPPED),
    ("LENDU DCT UVAGI DCT PIKAR DCT SARNO", "LENDU DCT PIKAR DCT UVAGI DCT SARNO", EntryError.POINTS_EXCHANGED),
    ("LENDU DCT PIKAR DCT PIKAR DCT UVAGI", "LENDU DCT PIKAR DCT UVAGI", EntryError.POINT_REPEATED),
    ("LENDU DCT PIKAR DCT UVAGI DCT PIKAR DCT SARNO", "LENDU DCT PIKAR DCT UVAGI DCT SARNO", EntryError.POINT_AGAIN),
    ("LENDU UM12 TUVOK DCT SARNO", "LENDU UM12 TOVIK DCT SARNO", EntryError.TWO_LETTERS),
    ("LENDU DCT RAPIK UM12 TOVIK DCT SARNO", "LENDU DCT PIKAR UM12 TOVIK DCT SARNO", EntryError.LETTERS_MIXED),
    ("LENDU UM21 UVAGI DCT SARNO", "LENDU UM12 UVAGI DCT SARNO", EntryError.AIRWAY_DIGIT),
    ("LENDU UM2 UVAGI DCT SARNO", "LENDU UM12 UVAGI DCT SARNO", EntryError.AIRWAY_LENGTH),
    ("LENDU M12 TOVIK DCT RULPO UM21 OSDEK", "LENDU M12 TOVIK DCT RULPO UM12 OSDEK", EntryError.AIRWAY_DIGIT),
    ("LENDU UM12 RULPO UN34 ESGAL UN21 ORO", "LENDU UM12 UVAGI UN34 ESGAL UN21 ORO", EntryError.EXIT_TOO_FAR),
    ("SOR T16 EMPUR DCT BURLO V27 HOSTU", "SOR T16 EMPUR DCT BURLO V27 KORAM", EntryError.EXIT_TOO_EARLY),
    ("LENDU UM12 NORVI UN34 ESGAL UN21 ORO", "LENDU UM12 UVAGI UN34 ESGAL UN21 ORO", EntryError.ENTRY_BETWEEN),
    ("LENDU UM12 TOVIK DCT SARNO SARNO4", "LENDU UM12 TOVIK DCT SARNO SARNO2", EntryError.PROCEDURE_NUMBER),
    ("LENDU7 LENDU UM12 TOVIK DCT SARNO", "LENDU1 LENDU UM12 TOVIK DCT SARNO", EntryError.PROCEDURE_NUMBER),
    ("33S002W 33S000E 33S003E 36S004E 33S006E", "33S002W 33S000E 33S003E 33S004E 33S006E", EntryError.DIGIT_CHANGED),
    ("33S002W 33S000E 33S020E 33S004E 33S006E", "33S002W 33S000E 33S002E 33S004E 33S006E", EntryError.DIGITS_SWAPPED),
    ("33S002W 33S000E 33N002E 33S004E 33S006E", "33S002W 33S000E 33S002E 33S004E 33S006E", EntryError.HEMISPHERE),
    (
        "33S002W 33S000E 02S033E 33S004E 33S006E",
        "33S002W 33S000E 33S002E 33S004E 33S006E",
        EntryError.LATITUDE_LONGITUDE,
    ),
    (
        "3300S00200W 3300S00000E 3330S00200E 3300S00400E 3300S00600E",
        "3300S00200W 3300S00000E 3300S00200E 3300S00400E 3300S00600E",
        EntryError.HALF_DEGREE,
    ),
]  # fmt: skip


@pytest.mark.parametrize(("typed", "meant", "error"), HAND, ids=[route for route, _, _ in HAND])
def test_the_first_correction_is_what_was_meant(typed, meant, error):
    first = best(typed)[0].corrections[0]
    assert with_it(typed, first) == meant
    assert first.entry_error == error.value
    assert first.old == typed[first.span.start : first.span.end]


def test_every_kind_that_is_tried_is_among_them_or_below():
    assert {error for _, _, error in HAND} == set(EntryError) - {
        EntryError.ENTRY_BEYOND,
        EntryError.ENDS_EXCHANGED,
        EntryError.AIRPORT_LETTER,
        EntryError.AS_KNOWN,
    }


def test_an_entry_off_its_airway_may_be_any_point_of_it():
    first = best("NIR DCT ELPAR UL7 MAV")[0].corrections[0]
    assert (first.old, first.new, first.entry_error) == ("ELPAR", "GADUN", EntryError.ENTRY_BEYOND.value)


@pytest.mark.parametrize("route", ["LENDU UM12 TOVIK DCT SARNO", "33S002W 33S000E 33S002E 33S004E"])
def test_ends_exchanged(route):
    (found,) = best(route, "XVOR", "XVAL")
    first = found.corrections[0]
    assert (first.entry_error, first.span) == (EntryError.ENDS_EXCHANGED.value, None)
    assert (first.departure, first.destination) == ("XVAL", "XVOR")


@pytest.mark.parametrize(
    ("route", "departure", "destination", "meant"),
    [("ORO J30 NUBEL DCT SOR", "XVOR", "XVDU", ("", "XVSU")), ("SOR DCT NUBEL J30 ORO", "XVDU", "XVOR", ("XVSU", ""))],
)
def test_one_letter_of_an_airport(route, departure, destination, meant):
    first = best(route, departure, destination)[0].corrections[0]
    assert first.entry_error == EntryError.AIRPORT_LETTER.value
    assert (first.departure, first.destination) == meant


@pytest.mark.parametrize("point", ["UVAGI", "PIKAR", "LENDU"])
def test_an_airport_in_line_with_its_far_first_point_is_not_doubted(point):
    """XVSU is a letter off XVDU and 98 to 229 NM nearer, but the way from XVDU goes nowhere round."""
    assert best(point, "XVDU", "XVAL") == ()


def test_an_airway_that_comes_by_the_field_may_explain_a_far_entry_as_well():
    """J30 begins at DUL by XVDU: there another airport costs that much more than where nothing leads to the field."""
    by_airway, direct = (
        best(route, "XVDU", "XVOR")[0].corrections[0] for route in ("SOR J30 ORO", "SOR DCT NUBEL J30 ORO")
    )
    assert by_airway.departure == direct.departure == "XVSU"
    assert direct.gain - by_airway.gain == pytest.approx(EXIT_NEAR_FIELD)


def test_ends_that_a_procedure_proves_are_never_exchanged():
    """LENDU1 is of XVAL, so that XVAL is where the route begins."""
    assert "XVOR–XVAL" not in {c.new for b in best("LENDU1 UVAGI LENDU") for c in b.corrections}


def test_a_procedure_of_the_other_end_says_that_the_ends_are_exchanged():
    first = best("NILAK1 NILAK DCT RENDA J30 SOR", "XVSU", "XVOR")[0].corrections[0]
    assert (first.entry_error, first.departure, first.destination) == (EntryError.ENDS_EXCHANGED.value, "XVOR", "XVSU")
    assert first.defects == 1


def test_an_airport_that_its_procedure_proves_is_not_doubted():
    """NILAK1 is of XVOR; nothing proves the destination."""
    proven = best("NILAK1 NILAK DCT RENDA J30 SOR", "XVOR", "XVDU")
    assert {c.departure for b in proven for c in b.corrections} == {""}
    assert {c.destination for c in proven[0].corrections} >= {"XVSU"}


@pytest.mark.parametrize(("name", "route_input"), list(read_samples("clean")), ids=str)
def test_a_clean_route_has_no_correction_worth_saying(name, route_input):
    found = best_of(route_input)
    assert [c.gain for b in found for c in b.corrections if c.gain > WORTH_SAYING] == []


ALL = [typed for typed, _, _ in HAND] + [
    "LENDU UM12 OSDEK DCT SARNO", "KAMBE UN46 FARVO DCT PIKOR UN21 ORO", "SOR T16 KAMBE",
    "33S003W 33S001E 33S001W 33S003E", "LENDU DCT PIKOR DCT UVAGI DCT SARNU DCT RIPAS",
]  # fmt: skip


@pytest.mark.parametrize("route", ALL)
def test_what_is_true_of_all(route):
    stretches = best(route)
    gains = [b.corrections[0].gain for b in stretches]
    assert gains == sorted(gains, reverse=True), "best stretch first"
    assert all(a.last <= b.first or b.last <= a.first for a, b in combinations(stretches, 2)), "no leg is shared"
    for found in stretches:
        won = [c.gain for c in found.corrections]
        assert won == sorted(won, reverse=True)
        assert 1 <= len(won) <= MOST_KEPT
        assert won[0] > WORTH_SAYING - CLEAR_GAP
        assert won[0] - won[-1] < FAR_BEHIND
        first, others = found.corrections[0], found.corrections[1:]
        at_word = [c for c in others[:1] if c.span == first.span and first.gain - c.gain < CLEAR_GAP]
        elsewhere = [c for c in others if c.span and first.span and not c.span.overlaps(first.span)][:1]
        rivals = [c for c in elsewhere if first.gain - c.gain < OTHER_WORD_GAP and explains_as_well(first, c)]
        assert found.alike == (*at_word, *rivals)
        texts = {(c.span, c.new) for c in found.corrections}
        assert len(texts) == len(won)
        assert all(c.span is None or c.new != c.old for c in found.corrections)


def test_a_small_overshoot_is_worth_saying_by_the_share_of_the_way_that_it_adds():
    """M12 from PIKAR to SEBRO and back to OSDEK: 51 NM more than by UVAGI."""
    first = best("PIKAR M12 SEBRO DCT OSDEK UM12 DUL")[0].corrections[0]
    assert (first.old, first.new, first.entry_error) == ("SEBRO", "UVAGI", EntryError.EXIT_TOO_FAR.value)
    assert first.shorter_nm == pytest.approx(50.8, abs=0.1)
    assert WORTH_SAYING < first.gain < WORTH_SAYING + SHARE * MOST_SHARE


def test_two_that_are_about_equal_are_not_clear():
    """UM12 beyond TOVIK towards SARNO: leaving at TOVIK or at RULPO makes ways of nearly the same length."""
    found = best("LENDU UM12 OSDEK DCT SARNO")[0]
    assert {c.new for c in found.corrections[:2]} == {"TOVIK", "RULPO"}
    assert found.alike == found.corrections[1:2]


# ---- a name that is there twice, and points that would stand there twice


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("LENDU DCT PIKWAR UM12 TOVIK DCT SARNO", "LENDU DCT PIKAR UM12 TOVIK DCT SARNO"),
        ("LENDU1 LENDU UM12 SARNO DCT TOVIK SARNO2", "LENDU1 LENDU UM12 TOVIK DCT SARNO SARNO2"),
    ],
)
def test_a_name_there_twice_is_read_by_its_airway_once_the_error_is_out(typed, meant):
    """With the error in, the airway says nothing about TOVIK, and the other of the two is taken."""
    found = best(typed)
    assert found, "silent before: the TOVIK taken is not on UM12"
    assert with_it(typed, found[0].corrections[0]) == meant


@pytest.mark.parametrize(
    "route", ["33S002W 33S004E 33S002E 33S004E 33S006E", "33S003W 33S001E 33S001W 33S003E", "NIR DCT ELPAR UL7 MAV"]
)
def test_no_correction_makes_a_point_stand_twice_in_a_row(route):
    found = [with_it(route, c) for b in best(route) for c in b.corrections]
    assert found
    for text in found:
        words = [word for word in text.split() if word != "DCT"]
        assert all(a != b for a, b in pairwise(words)), text


def test_an_exit_that_leads_along_the_same_line_is_no_correction(country):
    """V16 and V229 go on by the same points from JFK to DIXIE: real data, since no two demo airways part so."""
    route_input = RouteInput("CCC V16 DIXIE V229 ACY", "KBDR", "KACY", off_block=dt.date(2023, 2, 1))
    found = best_of(route_input, country, dt.date(2023, 2, 1))
    assert "DIXIE" not in {correction.old for best in found for correction in best.corrections}


def test_a_route_of_which_little_is_placed_says_nothing_of_its_aerodromes():
    """XVDU and XVSU are one letter away from each other. NUBEL lies near XVSU."""
    for route in ("NUBEL DCT ZZABC DCT ZZDEF DCT ZZGHI", "NUBEL"):
        ends = ("XVDU", "XVMA") if " " in route else ("XVDU", "")
        assert not [one for edit in best(route, *ends) for one in edit.corrections if one.departure]
