"""In what form a case is shown: the clearance in words, the entry as legs, by difficulty; the truth in neither."""

import csv
import datetime as dt
import statistics
from dataclasses import replace

import pytest

from routecheck.drill.case_forms import write_forms
from routecheck.drill.cases import DrillCase
from routecheck.drill.clearances import write_clearance
from routecheck.drill.difficulty import DIFFICULTIES, ClearanceForm
from routecheck.drill.drill_files import write_routes
from routecheck.drill.entered_legs import list_legs, write_legs
from routecheck.drill.error_kinds import CLEAN, ERROR_KINDS
from routecheck.drill.making import DrillOrder, make_drill
from routecheck.drill.truth import tell_truth
from routecheck.model import RouteInput, WordRole
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess, assess_many
from routecheck.reading.clearances.clearance import read_clearance
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
DEMO = demo_database()


def assessed(route_input: RouteInput):
    return assess(route_input, DEMO, Settings(), DAY)


@pytest.fixture(scope="module")
def drills(source):
    return {
        number: make_drill(DrillOrder(seed=5, count=8, difficulty=number), source, DEMO, DAY) for number in DIFFICULTIES
    }


def test_a_clearance_in_phrases_is_read_back_to_the_words_of_the_route(source):
    """The tool's own reader of clearances is the second reader; positions and changes of level it does not read."""
    plain = {WordRole.POINT, WordRole.AIRWAY, WordRole.DIRECT, WordRole.SID, WordRole.STAR}
    routes = [one for one in source.usable if set(one.route.resolved.roles) <= plain]
    assert len(routes) >= 6
    for one in routes:
        given = one.route.route_input
        found = read_clearance(write_clearance(one, ClearanceForm.PHRASES))
        words = (found.destination, found.route.replace(" DCT", ""))
        assert words == (given.destination, given.route.replace(" DCT", ""))


@pytest.mark.parametrize(
    ("route", "level", "phrases", "spoken"),
    [
        (
            "LENDU1 LENDU M12 UVAGI UM12 TOVIK DCT SARNO SARNO2",
            "F350",
            "via LENDU ONE departure, LENDU, M12 UVAGI, UM12 TOVIK, direct SARNO, SARNO TWO arrival. Flight level 350.",
            (
                "via Lendu one departure, Lendu, Mike one two to Uvagi, Upper Mike one two to Tovik, direct Sarno, "
                "Sarno two arrival. Flight level three five zero."
            ),
        ),
        (
            "ULDET DCT 3305S00112E/M082F370",
            "A105",
            "via ULDET, direct 33 05 south 001 12 east, from there flight level 370 at Mach 0.82. 10,500 feet.",
            (
                "via Uldet, direct three three zero five south, zero zero one one two east, from there flight level "
                "three seven zero at Mach zero eight two. One zero thousand five hundred feet."
            ),
        ),
    ],
)
def test_a_clearance_as_it_is_printed_and_as_it_is_spoken(route, level, phrases, spoken):
    clean = assessed(RouteInput(route, "XVAL", "XVOR", level=level))
    assert write_clearance(clean, ClearanceForm.PHRASES) == f"From XVAL. Cleared to XVOR {phrases}"
    ends = "From X-ray Victor Alfa Lima. Cleared to X-ray Victor Oscar Romeo"
    assert write_clearance(clean, ClearanceForm.SPOKEN) == f"{ends} {spoken}"
    assert write_clearance(clean, ClearanceForm.TYPED) == f"XVAL {route} XVOR {level}"


def test_legs_name_the_points_of_an_airway_and_are_the_same_way(source):
    for one in source.usable:
        given = one.route.route_input
        legs = write_legs(list_legs(one), given.departure, given.destination)
        inside = [point.text for point in one.route.points if point.route_point is None and not point.procedure]
        assert set(inside) <= set(legs.split())
        if not any(" " in leg.via for leg in list_legs(one)):  # two airways that share a stretch are one way to each
            again = assessed(replace(given, route=legs))
            assert again.route.totals.distance_nm == pytest.approx(one.route.totals.distance_nm, abs=0.01)


def test_a_word_that_is_on_no_leg_is_not_left_out():
    """A change of flight rules is neither a way nor a point: the words are then shown as typed."""
    assert list_legs(assessed(RouteInput("LENDU DCT PIKAR VFR DCT SARNO", "XVAL", "XVOR"))) == ()


def test_difficulty_says_how_much_is_shown(drills):
    for number, cases in drills.items():
        assert len(cases) == 8
        assert {case.difficulty for case in cases} == {number}
        assert all(bool(case.legs) == DIFFICULTIES[number].shows_legs for case in cases)
    assert all(case.clearance.startswith("From X-ray Victor") for case in drills[3])
    shown = [(one.shows_picture, one.shows_figures) for one in DIFFICULTIES.values()]
    assert shown == [(True, True), (True, False), (False, False)]


def test_the_effects_are_smaller_where_it_is_harder(drills):
    changes = {}
    for number, cases in drills.items():
        both = [one for case in cases if case.kind != CLEAN for one in (case.as_entered(), case.as_meant())]
        totals = [one.route.totals for one in assess_many(both, DEMO, Settings(), DAY)]
        changes[number] = statistics.median(
            abs(wrong.distance_nm - clean.distance_nm)
            for wrong, clean in zip(totals[::2], totals[1::2], strict=True)
            if not wrong.gaps
        )
    assert changes[1] > 2 * changes[3]


def test_a_clean_route_is_shown_as_it_was_cleared(drills):
    for case in drills[1]:
        words = [*case.shown_words, case.level]
        assert (case.clearance.split() == words) == (case.kind == CLEAN)


def test_of_the_truth_only_the_clearance_is_in_the_routes(drills):
    for cases in drills.values():
        rows = list(csv.DictReader(write_routes(cases).splitlines()))
        for case, row in zip(cases, rows, strict=True):
            assert row.pop("clearance") == case.clearance
            text = " ".join(row.values())
            assert not [kind for kind in ERROR_KINDS if kind in text]
            right = set(case.correction.split()) - set(case.route.split()) - {case.departure, case.destination}
            assert not right & set(text.split()) - set(row["route"].split())


def test_what_only_the_clearance_shows_the_tool_finds_against_it():
    case = DrillCase(
        name="r", departure="XVAL", destination="XVOR", kind="exit too far", words=("RULPO",), correction="TOVIK",
        route="LENDU DCT PIKAR UM12 RULPO DCT SARNO DCT KEBUL DCT RIPAS",
        meant="XVAL LENDU DCT PIKAR UM12 TOVIK DCT SARNO DCT KEBUL DCT RIPAS XVOR",
    )  # fmt: skip
    (shown,) = write_forms([case], 2, DEMO, DAY)
    assert (shown.legs[3:5], shown.astray) == ((("UM12", "TOVIK"), ("UM12", "RULPO")), ())
    truth = tell_truth(shown, assessed)
    assert truth.finding == "The tool finds nothing of it in the route alone. Against the clearance:"
    assert any("RULPO" in line for line in truth.evidence)
    assert "NASA ASRS 82259" in truth.why
    clean = DrillCase(name="r", departure="XVAL", destination="XVOR", route="LENDU DCT SARNO", looks_odd=True)
    assert tell_truth(clean, assessed).lines[0] == "It is clean. It looks odd and is right."
    accused = replace(clean, route="LENDU DCT SARNO DCT LENDU DCT SARNO", meant="")
    assert tell_truth(accused, assessed).finding.startswith("The tool: "), "an instructor may know better"


def test_points_that_only_the_error_leads_by_are_the_right_place_too():
    case = DrillCase(
        name="r", departure="XVAL", destination="XVOR", kind="exit too far", words=("ORO",), correction="ESGAL",
        route="ULDET UN21 ORO", meant="XVAL ULDET UN21 ESGAL XVOR",
    )  # fmt: skip
    (shown,) = write_forms([case], 3, DEMO, DAY)
    assert shown.astray == ("MUVEK", "TIBOK")
    assert set(shown.beside) == {"UN21", "DCT"}


def test_every_kind_says_why_in_words_of_its_own_and_cites_or_says_that_it_cannot():
    whys = {kind.why for kind in ERROR_KINDS.values()}
    assert len(whys) == len(ERROR_KINDS)
    cited = [kind.citation for kind in ERROR_KINDS.values() if kind.citation]
    assert len(set(cited)) == len(cited) == 9
    for kind in ERROR_KINDS.values():
        assert ("Reported: " in kind.explain()) == bool(kind.citation)
        assert kind.citation or kind.explain().endswith("No public report of it is known to us.")
