"""Whatever raises in a stage of the pipeline costs the one route in which it happens, and is never shown as a pass."""

import datetime as dt
import json
import logging
from dataclasses import replace

import pytest

from routecheck import pipeline
from routecheck.model import AltitudeWindow, Assessment, Outcome, ParsedRoute, ResolvedRoute, Route, RouteInput
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess_many
from routecheck.presentation.assessment_view import view_assessment
from routecheck.presentation.headline import headline
from routecheck.presentation.verdict import Verdict, is_fully_checked
from routecheck.report import jsonl, text
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
DEMO = demo_database()
FAULTY = RouteInput(
    "N0430F350 LENDU DCT PIKOR UM12 TOVIK",
    "XVAL",
    "XVOR",
    name="the faulty one",
    aircraft_sheet="Medium jet",
    windows=(AltitudeWindow("PIKOR", 9_000.0, None),),
)
OTHERS = [
    RouteInput(route, "XVAL", "XVOR")
    for route in ("LENDU DCT PIKAR UM12 TOVIK DCT SARNO", "LENDU DCT PIKOR DCT UVAGI", "", "LENDU DCT PIKER DCT UVAGI")
]
ROUTES = [*OTHERS[:2], FAULTY, *OTHERS[2:]]
PLANTED = ZeroDivisionError("planted")
BEFORE_CORRECTIONS = (
    "_with_sheet", "route_date", "read_route", "resolve", "compute_routes", "add_minima", "run_checks"
)  # fmt: skip
CORRECTIONS = ("with_best_edits", "propose", "keep_most_to_the_point", "proven_edits", "edit_cases", "finding_cases")


def input_of(given):
    """The route as handed in that a stage is given, of several the faulty one."""
    if isinstance(given, list | tuple):
        return next((found for found in map(input_of, given) if found is not None and is_faulty(found)), None)
    if isinstance(given, Assessment):
        return given.route.route_input
    if isinstance(given, Route | ParsedRoute):
        return given.route_input
    return given.parsed.route_input if isinstance(given, ResolvedRoute) else given


def is_faulty(route_input):
    return route_input.name == FAULTY.name


@pytest.fixture
def plant(monkeypatch):
    """Let a stage raise for the faulty route, and for no other."""

    def planted(stage, error=PLANTED):
        real = getattr(pipeline, stage)

        def raising(first, *rest):
            found = input_of(first)
            if found is not None and is_faulty(found):
                raise error
            return real(first, *rest)

        monkeypatch.setattr(pipeline, stage, raising)

    return planted


def assessed(chunk=256):
    return list(assess_many(ROUTES, DEMO, Settings(), DAY, chunk=chunk))


@pytest.fixture(scope="module")
def expected():
    return assessed()


@pytest.mark.parametrize("chunk", [1, 2, 256])
@pytest.mark.parametrize("stage", [*BEFORE_CORRECTIONS, *CORRECTIONS])
def test_the_other_routes_of_the_chunk_stand_in_their_order(plant, stage, chunk, expected):
    plant(stage)
    answers = assessed(chunk)
    assert [answer.route.route_input.route for answer in answers] == [route_input.route for route_input in ROUTES]
    assert [a for a in answers if not is_faulty(a.route.route_input)] == [expected[i] for i in (0, 1, 3, 4)]
    assert [bool(a.could_not_run) for a in answers] == [False, False, True, False, False]


@pytest.mark.parametrize("error", [PLANTED, RecursionError("planted"), MemoryError("planted")])
@pytest.mark.parametrize("stage", BEFORE_CORRECTIONS)
def test_of_a_route_that_our_program_failed_on_no_check_could_run(plant, stage, error, caplog):
    plant(stage, error)
    answer = assessed()[2]
    because = f"our program failed on this route ({type(error).__name__}: planted)"
    assert answer.failure == because
    assert answer.findings == answer.not_checked == ()
    assert {outcome for _, outcome in answer.outcomes} == {Outcome.COULD_NOT_RUN}
    assert answer.could_not_run == tuple((check.name, because) for check in pipeline.collect())
    assert not is_fully_checked(answer)
    assert type(error).__name__ in caplog.text


@pytest.mark.parametrize("stage", CORRECTIONS)
def test_where_corrections_fail_what_the_checks_say_stands(plant, stage, caplog):
    said = assessed()[2]
    plant(stage)
    answer = assessed()[2]
    assert answer.failure == ""
    assert answer.could_not_run == (("best-edit", "ZeroDivisionError: planted"),)
    assert dict(answer.outcomes)["best-edit"] is Outcome.COULD_NOT_RUN
    assert "off-airway" in {finding.check for finding in said.findings} & {finding.check for finding in answer.findings}
    assert not is_fully_checked(answer)
    assert "corrections could not be looked for" in caplog.text


def test_whoever_stops_the_program_stops_it(plant):
    plant("resolve", KeyboardInterrupt())
    with pytest.raises(KeyboardInterrupt):
        assessed()


def test_what_the_routes_come_from_may_raise_and_the_caller_hears_of_it():
    def source():
        yield from ROUTES[:2]
        raise OSError("the file is gone")

    answers = assess_many(source(), DEMO, Settings(), DAY, chunk=2)
    assert [next(answers).route.route_input for _ in range(2)] == ROUTES[:2]
    with pytest.raises(OSError, match="the file is gone"):
        next(answers)


# ---- what such an assessment measure_stretch like


@pytest.fixture
def failed(plant, caplog):
    caplog.set_level(logging.CRITICAL)
    plant("resolve")
    return assessed()[2]


def test_as_a_result_line(failed):
    result = json.loads(jsonl.format_line(failed))
    assert (result["name"], result["route"]) == (FAULTY.name, FAULTY.route)
    assert (result["departure"], result["destination"]) == ("XVAL", "XVOR")
    assert result["headline"] == ("Checked nothing: our program failed on this route (ZeroDivisionError: planted).")
    assert result["outcomes"] == {
        "findings": 0, "nothing_found": 0, "not_checked": 0, "could_not_run": len(failed.outcomes)
    }  # fmt: skip
    assert {one["because"] for one in result["could_not_run"]} == {failed.failure}
    assert result["totals"] == {
        "distance_nm": 0.0, "direct_nm": None, "time_min": None, "gaps": 1, "checked_share": 0.0,
        "least_nm": 0.0, "lost_nm": None, "open_by_design_nm": 0, "cannot_be_seen_nm": 0,
    }  # fmt: skip
    assert [point["lat"] for point in result["points"]] == [None, None]
    assert [leg["distance_nm"] for leg in result["legs"]] == [None]
    assert result["data"]["cycle"] == "2612"


def test_as_text(failed):
    whole, brief = text.describe_route(failed), text.describe_briefly(failed)
    for said in (" ".join(whole.split()), " ".join(brief.split())):
        assert "Checked nothing: our program failed on this route (ZeroDivisionError: planted)." in said
        assert "No check could run." in said
        assert "Nothing found" not in said
        assert "all of the route" not in said
    assert "Not read." in whole
    assert "distance not known, 1 stretch without a length; direct distance not known" in whole
    assert f"0 nothing found, 0 not checked, {len(failed.outcomes)} could not run" in whole
    assert "not checked, every check: could not run: our program failed on this route" in whole


def test_in_panes(failed):
    """The window shows none of it: it has one sentence for it (tests/gui/test_session.py). A pane must bear it."""
    shown = view_assessment(failed)
    assert shown.headline.verdict is headline(failed).verdict is Verdict.FAILED
    assert shown.findings_line == "No check could run."
    assert shown.reasons == (("every check", f"could not run: {failed.failure}"),)
    assert shown.recognised.startswith("Not read.")


@pytest.mark.parametrize(
    "given",
    [
        RouteInput("", name=FAULTY.name),
        RouteInput("", name=FAULTY.name, unread="line 7: only 2 cells"),
        replace(
            FAULTY, departure="\u202exval ", destination="", off_block=dt.date(1990, 1, 1), level="F350", speed="N0450"
        ),
    ],
)
def test_whatever_was_given_it_can_be_shown(plant, given):
    plant("read_route")
    (answer,) = assess_many([given], DEMO, Settings(), DAY)
    assert answer.failure
    assert json.loads(jsonl.format_line(answer))["headline"].startswith("Checked nothing: our program failed")
    assert "our program failed" in text.describe_route(answer)
    assert view_assessment(answer).headline.verdict is Verdict.FAILED
