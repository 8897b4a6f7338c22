"""What becomes of the rows of a list of known routes: counted in one form, or named with the reason."""

import datetime as dt

import pytest

from routecheck.known.collection import UNCOUNTED, compile_collection
from routecheck.known.intake import Intake, take_in
from routecheck.known.word_sequence import word_sequence
from routecheck.model import RouteInput
from routecheck.pipeline import assess_many
from routecheck.report.csv_rows import CsvRows
from routecheck.report.jsonl import format_line
from routecheck.report.output_options import EVERYTHING
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
HEAD = "departure,destination,route"


@pytest.fixture
def taken(demo):
    """The intake of a file with these lines, judged or not."""

    def take(*lines, judge=None, name="list.csv"):
        intake = Intake(name)
        for _ in take_in("\n".join(lines).encode(), intake, demo, DAY, judge=judge):
            pass
        return intake

    return take


def words(intake):
    return [(row.departure, row.words, row.destination) for row in intake.rows]


def test_words_are_counted_in_one_form(resolved):
    route = "XVAL/09 N0430F350 lendu DCT um12 RULPO/N0420F330 DCT 31S002E SARNO"
    texts = [word.text for word in word_sequence(resolved(route))]
    assert texts == ["XVAL", "LENDU", "UM12", "RULPO", f"{UNCOUNTED}31S002E", "SARNO", "XVOR"]


def test_a_procedure_stands_without_its_number_and_a_joint_as_it_resolves(resolved):
    texts = [word.text for word in word_sequence(resolved("LENDU UM12 UN34 BINOT"))]
    assert texts == ["XVAL", "LENDU", "UM12", "UVAGI", "UN34", "BINOT", "XVOR"]
    assert word_sequence(resolved("FARE9Z LENDU"))[1].text in {"FARE", "FARE9Z"}


def test_what_is_no_known_route_is_counted_and_named(taken):
    intake = taken(
        f"{HEAD},valid_until,remark",
        "XVAL,XVOR,LENDU UM12 TOVIK,,",
        "XVAL,XVOR,,,",
        "XVAL,XVOR,QQQQQ DCT ZZZZZ,,",
        "XX,XVOR,DCT DCT,,",
        "XVAL,XVOR,LENDU DCT PIKAR,2026-12-02,last year's",
        '"XVAL,XVOR,LENDU,,',
    )
    assert words(intake) == [("XVAL", "LENDU UM12 TOVIK", "XVOR")]
    assert intake.counted == {"unread": 2, "unresolved": 2, "outdated": 1}
    assert [row.line for row in intake.uncounted] == [3, 4, 5, 6, 7]
    assert list(intake.columns) == ["remark"]
    about = intake.about(1)
    assert about.rows == 6 == about.routes + about.unread + about.unresolved + about.outdated


def test_the_preferred_and_the_coded_departure_routes_as_the_faa_publishes_them(northeast):
    preferred = "Orig,Route String,Dest,Hours1,Type,DCNTR\nJFK,JFK GREKI JUDDS BOS,BOS,,TEC,ZNY"
    coded = "RCode,Orig,Dest,DepFix,Route String,DCNTR\nJFKBOS1,KJFK,KBOS,GREKI,KJFK GREKI JUDDS KBOS,ZNY"
    for text in (preferred, coded):
        intake = Intake("list.csv")
        for _ in take_in(text.encode(), intake, northeast, DAY):
            pass
        assert words(intake) == [("KJFK", "GREKI JUDDS", "KBOS")]


def test_our_own_results_are_read(taken, demo):
    route_inputs = [RouteInput(text, "XVAL", "XVOR") for text in ("LENDU UM12 TOVIK", "")]
    lines = [format_line(answer) for answer in assess_many(route_inputs, demo, Settings(), DAY)]
    later = lines[0].replace("result/1", "result/2")
    intake = taken(*lines, later, lines[0][:-9], lines[0].replace('"XVAL"', "7"), "[" * 100_000, name="out.jsonl")
    assert words(intake) == [("XVAL", "LENDU UM12 TOVIK", "XVOR")]
    assert [row.line for row in intake.uncounted] == [2, 3, 4, 5, 6]
    assert "its schema is not routecheck.result/1" in intake.uncounted[1].because


def test_neither_prose_nor_the_csv_rows_of_a_run_are_a_list(taken, demo):
    route_inputs = [RouteInput(f"LENDU {point}", "XVAL", "XVOR") for point in ("UM12 TOVIK", "QQQQQ ORO", "")] * 2
    answers = list(assess_many(route_inputs, demo, Settings(), DAY))
    rows = CsvRows(EVERYTHING)
    lines = [rows.begin(route_inputs).strip(), *(rows.add(answer).strip() for answer in answers)]
    for given in (lines, ["Hello, today by LENDU UM12 TOVIK and then home.", "See you soon in the office"]):
        intake = taken(*given, name="out")
        assert words(intake) == []
        assert intake.counted == {"unread": 1}


def test_rows_with_something_wrong_can_be_left_out(taken, demo):
    def judge(inputs):
        return assess_many(inputs, demo, Settings(), DAY)

    intake = taken(HEAD, "XVAL,XVOR,LENDU UM12 TOVIK", "XVAL,XVOR,LENDU UM12 SARNO", judge=judge)
    assert [row.line for row in intake.wrong.values()] == [3]
    kept = intake.without_wrong()
    assert [row.line for row in kept.rows] == [2]
    assert (kept.about(1).left_out, kept.about(1).rows) == (1, 2)


def test_a_row_on_which_we_fail_costs_itself(taken, monkeypatch):
    def fail(route_input):
        if "PIKAR" in route_input.route:
            raise RuntimeError("no")
        return read(route_input)

    from routecheck.known import intake as module

    read = module.read_route
    monkeypatch.setattr(module, "read_route", fail)
    intake = taken(HEAD, "XVAL,XVOR,LENDU DCT PIKAR", "XVAL,XVOR,LENDU UM12 TOVIK")
    assert words(intake) == [("XVAL", "LENDU UM12 TOVIK", "XVOR")]
    assert intake.counted == {"unread": 1}


def test_counts_of_pairs_and_triples(taken):
    intake = taken(
        f"{HEAD},count",
        "XVAL,XVOR,LENDU UM12 TOVIK,3",
        "XVAL,XVOR,lendu um12 TOVIK,2",
        "XVAL,XVDU,LENDU UM12 RULPO,",
        "XVAL,XVDU,LENDU UM12 RULPO,",
        "XVAL,XVOR,LENDU 31S002E TOVIK,",
    )
    collection = compile_collection(intake.rows, intake.about, lambda _share: None)
    assert collection.count_pair("LENDU", "UM12") == 6  # a row that does not say how often counts once
    assert collection.count_word("LENDU") == 7  # beside a position too
    assert collection.words_between("UM12", "XVOR") == {"TOVIK": 5}
    assert collection.words_between("LENDU", "TOVIK") == {"UM12": 5}
    assert collection.count_pair("LENDU", f"{UNCOUNTED}31S002E") == 0
    between = collection.routes_between("XVAL", "XVOR")
    assert [(route.text, route.line, route.times) for route in between] == [
        ("LENDU UM12 TOVIK", 2, 5),
        ("LENDU 31S002E TOVIK", 6, 1),
    ]
    assert collection.knows_ends("XVAL", "XVDU")
    assert not collection.knows_ends("XVDU", "XVAL")


def test_an_odd_row_changes_no_other(taken):
    odd = RouteInput("A" * 70_000)
    intake = taken(HEAD, f"XVAL,XVOR,{odd.route} LENDU", "XVAL,XVOR,\x00\x1b[2J LENDU", "XVAL,XVOR,LENDU UM12 TOVIK")
    assert ("XVAL", "LENDU UM12 TOVIK", "XVOR") in words(intake)
    collection = compile_collection(intake.rows, intake.about, lambda _share: None)
    assert collection.count_pair("LENDU", "UM12") == 1
