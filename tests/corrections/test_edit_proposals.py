"""Proposals: never more than three, each proven by assessing the corrected text, each the edit it says and no more."""

from __future__ import annotations

import datetime as dt
import random
import time
from dataclasses import replace

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from routecheck.corrections import verify
from routecheck.corrections.best_edits import OTHER_WORD_GAP, best_edits
from routecheck.corrections.cases import edit_cases
from routecheck.corrections.proposals import propose
from routecheck.corrections.scoring import AS_SHIPPED, CLEAR_GAP
from routecheck.corrections.verify import BEST_EDIT
from routecheck.drill.planters import ENDS, PLANTERS, plant, with_position
from routecheck.entry_errors.kinds import WORTH_SAYING
from routecheck.geometry.legs import compute_routes
from routecheck.model import Assessment, Finding, RouteInput, Weight
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess
from routecheck.reading.route_text import read_route
from routecheck.reading.samples import read_samples
from routecheck.resolution.resolve import resolve
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
DEMO = demo_database()
RANK = {Weight.NOTE: 1, Weight.DOUBTFUL: 2, Weight.WRONG: 3}
CLEAN = [route_input for _, route_input in read_samples("clean") if route_input.departure]
CLEAN += [
    RouteInput("LENDU UM12 UVAGI UN34 ESGAL UN21 ORO", "XVAL", "XVOR"),
    RouteInput("SOR T16 DISEM V40 ROPIN UN21 ULDET", "XVSU", "XVAL"),
    RouteInput("3300S00200W 3300S00000E 3300S00200E 3300S00400E 3300S00600E", "XVAL", "XVOR"),
]
ROUND = """
    TOLGI OKNEP GILTA FARVO ROPIN ULDET KORAM WESUP LUSIR ANDOS DAKRO DISEM EMPUR BOLKI
    MOKSI GADUN KESTO ESGAL MUVEK TIBOK RENDA CIVUK TOLGI OKNEP GILTA FARVO ROPIN ULDET
"""
ROUND_POINTS = ROUND.split()


def said(route_input: RouteInput) -> Assessment:
    return assess(route_input, DEMO, Settings(), DAY)


def heavy(assessment: Assessment) -> list[Finding]:
    return [f for f in assessment.findings if f.weight is not Weight.NOTE]


def told(assessment: Assessment) -> dict[tuple[str, str], Finding]:
    """Findings heavier than a Note by their check and the words they are pinned to."""
    text = assessment.route.route_input.route
    return {(f.check, " ".join(text[s.start : s.end] for s in f.spans).upper()): f for f in heavy(assessment)}


def corrected(route_input: RouteInput, proposal) -> RouteInput:
    """The entry as the proposal would have it."""
    beside = {change.field: change.new for change in proposal.beside}
    return replace(route_input, route=proposal.route, **beside)


planted = st.builds(
    lambda kind, route_input, seed, typed: _plant(kind, route_input, random.Random(seed), typed=typed),
    st.sampled_from([*PLANTERS, *ENDS]), st.sampled_from(CLEAN), st.integers(0, 10_000), st.booleans(),
)  # fmt: skip


def _plant(kind, route_input, rng, *, typed):
    base = (with_position(route_input, DEMO, DAY, rng) or route_input) if typed else route_input
    return plant(kind, base, DEMO, DAY, rng)


@settings(max_examples=40)
@given(planted)
@pytest.mark.slow
def test_what_a_proposal_promises_holds(error):
    assume(error is not None)
    answer = said(error.route_input)
    typed = error.route_input.route
    for finding in answer.findings:
        offers = finding.likely_intended
        assert len(offers) <= 3
        assert len({(p.span, p.new) for p in offers}) == len(offers)
        assert not offers or finding.weight is not Weight.NOTE
        for proposal in offers:
            if proposal.span is None:
                assert proposal.route == typed
            else:
                assert proposal.route == typed[: proposal.span.start] + proposal.new + typed[proposal.span.end :]
                assert proposal.route != typed
            assert finding.check in proposal.clears
            assert proposal.new.split()[0] in proposal.why


def must_be_proven(route_input: RouteInput, *, senseless: bool = False) -> None:
    """Judged from outside, by assessing each corrected text as if it had been typed.

    A senseless route may have another best edit at the same word once one is made.
    """
    answer = said(route_input)
    before = told(answer)
    for finding in heavy(answer):
        for proposal in finding.likely_intended:
            after = said(corrected(route_input, proposal))
            now = told(after)
            name = (finding.check, " ".join(route_input.route[s.start : s.end] for s in finding.spans).upper())
            assert name not in now or (senseless and finding.check == BEST_EDIT)
            most = max(RANK[f.weight] for f in before.values() if f.check in proposal.clears)
            raised = [f for key, f in now.items() if key[0] not in {check for check, _ in before} | {"best-edit"}]
            assert all(RANK[f.weight] <= most for f in raised), (proposal.new, raised)
            assert after.route.totals.distance_nm == pytest.approx(proposal.distance_nm, abs=0.05)


@pytest.mark.slow
@settings(max_examples=40)
@given(planted)
def test_a_proposal_clears_its_finding_and_raises_nothing_heavier(error):
    assume(error is not None)
    must_be_proven(error.route_input)


SALAD = """
    LENDU PIKAR PIKOR UVAGI UVAGO TOVIK RULPO KIVAN SARNO SARNU NILAK SEBRO BINOT ESGAL MUVEK UM12 M12 UL7 UN34 UN21
    DCT DCT SARNO2 LENDU1 KEBUL RIPAS 33S001E 33S003E
"""


@pytest.mark.slow
@settings(max_examples=40)
@given(st.lists(st.sampled_from(SALAD.split()), min_size=3, max_size=8))
@example(["LENDU1", "UVAGI", "LENDU"])
@example(["LENDU1", "TOVIK", "MUVEK", "BINOT", "M12", "MUVEK", "RULPO"])
def test_the_same_of_any_order_of_words(words):
    must_be_proven(RouteInput(" ".join(words), "XVAL", "XVOR"), senseless=True)


def test_a_correction_that_raises_something_heavier_is_tried_and_not_proposed():
    """SARNO would be flown over twice."""
    route_input, never = RouteInput("BINOT DCT SARNU SEBRO SARNO", "XVAL", "XVOR"), "SARNO"
    (route,) = compute_routes([resolve(read_route(route_input), DEMO, DAY)], [DAY])
    drawn = best_edits(route, DEMO, AS_SHIPPED)
    assert never in {c.new for b in drawn for c in b.corrections if c.gain > WORTH_SAYING}
    answer = said(route_input)
    assert never not in {p.new for f in answer.findings for p in f.likely_intended}
    assert all(f.likely_intended for f in heavy(answer) if f.check == BEST_EDIT), "none without proof"


@pytest.mark.slow
@settings(max_examples=40)
@given(planted)
def test_one_correction_stands_under_one_cause(error):
    """The best edit's own finding never stands beside one that names what the same correction would change."""
    assume(error is not None)
    offering = [f for f in heavy(said(error.route_input)) if f.likely_intended]
    own = {first(f) for f in offering if f.check == BEST_EDIT}
    to_the_point = (f for f in offering if bool(f.spans) == any(p.span for p in f.likely_intended))
    assert not own & {first(f) for f in to_the_point if f.check != BEST_EDIT}


def first(finding):
    """What it proposes first, in the text and beside it."""
    return finding.likely_intended[0].route, finding.likely_intended[0].beside


@pytest.mark.parametrize(
    ("route_input", "cause", "marked"),
    [
        (
            RouteInput("LENDU DCT PIKAR UM12 TOVIK DCT SARNO DCT KEBUL DCT RIPAS", "XVOR", "XVAL"),
            "ends-exchanged",
            "XVOR XVAL",
        ),
        (RouteInput("LENDU UM12 TOVIK UM12 DUL", "XVAL", "XVSU"), "best-edit", "XVSU"),
    ],
    ids=["ends exchanged", "airport letter"],
)
def test_of_a_mistaken_aerodrome_the_aerodrome_is_spoken_of_not_the_bend_it_makes(route_input, cause, marked):
    answer = said(route_input)
    (finding,) = heavy(answer)
    assert (finding.check, finding.spans) == (cause, ())
    assert [answer.route.points[i].text for i in finding.points] == marked.split()
    explained = [n for n in answer.not_checked if n.check == "dogleg"]
    assert {n.because for n in explained} == {f"explained by {cause}"}


@pytest.mark.parametrize("route_input", CLEAN, ids=lambda e: e.route)
def test_a_clean_route_carries_no_proposal(route_input):
    assert [f for f in said(route_input).findings if f.likely_intended] == []


def test_two_about_equal_are_both_named_by_the_finding_and_among_its_proposals():
    answer = said(RouteInput("LENDU UM12 OSDEK DCT SARNO", "XVAL", "XVOR"))
    (best,) = (b for b in answer.route.best_edits if b.alike)
    one, two = best.corrections[:2]
    assert one.gain - two.gain < CLEAR_GAP
    (finding,) = (f for f in heavy(answer) if f.check == BEST_EDIT)
    assert all(name in finding.message for name in (one.new, two.new))
    assert [p.new for p in finding.likely_intended[:2]] == [one.new, two.new]


def test_of_two_words_about_as_likely_both_are_named():
    """M12 beyond UVAGI and UN21 from before TIBOK: the stretch between them runs there and back."""
    text = "PIKAR M12 SEBRO DCT ESGAL UN21 ORO"
    (finding,) = heavy(said(RouteInput(text, "XVAL", "XVOR")))
    assert [text[s.start : s.end] for s in finding.spans] == ["SEBRO", "ESGAL"]
    assert "TIBOK" in finding.message
    assert "TIBOK was meant (" in finding.message
    assert "or UVAGI (left further along the airway than meant) instead of SEBRO" in finding.message
    assert [(p.new, text[p.span.start : p.span.end]) for p in finding.likely_intended[:2]] == [
        ("TIBOK", "ESGAL"), ("UVAGI", "SEBRO"),
    ]  # fmt: skip


def test_the_other_word_is_named_even_where_three_corrections_of_the_first_stand_before_it():
    """Three other exits of UN21 win more than the best other entry of J30, and only three corrections are kept."""
    text = "ULDET UN21 ORO DCT CIVUK J30 LAMPO"
    route = said(RouteInput(text, "XVKE", "XVOR")).route
    best = route.best_edits[0]
    assert [c.old for c in best.corrections] == ["ORO", "ORO", "CIVUK"]
    assert [c.old for c in best.alike] == ["ORO", "CIVUK"]
    assert best.corrections[0].gain - best.corrections[-1].gain < OTHER_WORD_GAP


def test_an_error_elsewhere_that_the_best_edit_leaves_is_no_rival_of_it():
    """LENDU twice adds no mile: UVAGO for UVAGI adds 139."""
    (best,) = said(RouteInput("LENDU LENDU UVAGO", "XVAL", "XVOR")).route.best_edits
    assert [c.new for c in best.corrections] == ["UVAGI", "LENDU"]
    assert best.alike == ()


def test_a_finding_at_other_words_gives_way_to_the_one_at_the_word_to_change():
    """The legs that cross are named by V14, MELKA and UN34; ELPAR is what is wrong."""
    text = "KEL V14 MELKA DCT ELPAR UN34 KESTO"
    answer = said(RouteInput(text, "XVAL", "XVOR"))
    (finding,) = heavy(answer)
    assert (finding.check, [text[s.start : s.end] for s in finding.spans]) == (BEST_EDIT, ["ELPAR"])
    assert "crosses-itself" in finding.likely_intended[0].clears
    assert [(n.check, n.because) for n in answer.not_checked if n.check == "crosses-itself"] == [
        ("crosses-itself", "explained by best-edit")
    ]


def test_a_bend_at_other_words_gives_way_even_where_its_finding_was_joined_by_the_word_to_change():
    """The symptom: 3,600 NM to the other hemisphere and back, and all that was said was a bend of 70 NM at KEBUL."""
    assessment = said(RouteInput("KEBUL DCT SARNO DCT 3030N00730E", "XVAL", "XVOR"))
    (finding,) = heavy(assessment)
    assert (finding.check, finding.likely_intended[0].new) == (BEST_EDIT, "3030S00730E")


def test_one_well_ahead_is_named_alone():
    (finding,) = heavy(said(RouteInput("LENDU DCT UVAGI DCT PIKAR DCT SARNO", "XVAL", "XVOR")))
    assert "PIKAR DCT UVAGI" in finding.message
    assert " or " not in finding.message


def test_a_note_gets_no_proposal_and_nothing_is_tried_where_nothing_is_heavy():
    def never(_):
        pytest.fail("tried")

    answer = said(CLEAN[0])
    assert propose(answer, edit_cases(answer, WORTH_SAYING), never) is answer


# ---- long routes: fewer corrections are tried

WEST = " ".join(f"3130S{lon:03d}00W" for lon in range(31, 4, -2))
EAST = " ".join(f"3030S{lon:03d}00E" for lon in range(4, 32, 2))
MIDDLES = [
    ("LENDU DCT PIKOR UM12 UVAGI", "PIKAR"),
    ("LENDU UM21 UVAGI", "UM12"),
    ("LENDU DCT PIKER DCT UVAGI", "PIKAR"),
    ("LENDU DCT PIKOR DCT UVAGI", "PIKAR"),
    ("LENDU DCT UVAGI DCT PIKAR", "PIKAR DCT UVAGI"),
    ("LENDU DCT PIKAR DCT PIKAR DCT UVAGI", "PIKAR"),
    ("LENDU DCT PIKAR 3150N00200E", "3150S00200E"),
]


def long_route(middle: str, west: str = WEST) -> RouteInput:
    """Along a parallel from the west, by the demo region, and on to the east."""
    return RouteInput(f"{west} {middle} {EAST}")


@pytest.mark.parametrize("middle", ["LENDU DCT PIKAR DCT UVAGI", "LENDU UM12 UVAGI"])
def test_the_long_route_is_in_order_without_the_error(middle):
    assert heavy(said(long_route(middle))) == []


def offered(answer: Assessment) -> set[str]:
    return {proposal.new for finding in answer.findings for proposal in finding.likely_intended}


@pytest.mark.parametrize(("middle", "meant"), MIDDLES, ids=[m for m, _ in MIDDLES])
def test_an_error_in_a_long_route_is_corrected(middle, meant):
    assert meant in offered(said(long_route(middle)))


def test_where_a_route_has_more_points_than_may_be_assessed_again_that_is_said(monkeypatch):
    whole = said(long_route(MIDDLES[0][0]))
    monkeypatch.setattr(verify, "MOST_POINTS", 3 * len(whole.route.points) - 1)
    answer = said(long_route(MIDDLES[0][0]))
    assert answer.route.best_edits == ()
    assert offered(answer) == set()
    assert "corrections at 1 more place not tried: too much of this route is suspect" in {
        one.because for one in answer.not_checked
    }


def test_five_hundred_points_in_a_second_and_no_worse_than_in_proportion():
    took = {}
    for points in (125, 500):
        rng = random.Random(4)
        names = [rng.choice(ROUND_POINTS) for _ in range(points)]
        start = time.process_time()
        answer = said(RouteInput(" DCT ".join(names), "XVAL", "XVOR"))
        took[points] = time.process_time() - start
        assert answer.could_not_run == ()
    assert took[500] < 1.0
    assert took[500] < 16 * took[125] + 0.2, "four times the points: the square of it at the very most"


def test_dropping_a_repeat_is_no_proposal_for_the_bend_beside_it():
    """LENDU twice and UVAGO for UVAGI are two errors: each finding carries its own correction."""
    offers = {
        f.check: [p.new for p in f.likely_intended]
        for f in heavy(said(RouteInput("LENDU LENDU UVAGO", "XVAL", "XVOR")))
    }
    assert offers == {"repeated-point": ["LENDU"], "best-edit": ["UVAGI"]}
