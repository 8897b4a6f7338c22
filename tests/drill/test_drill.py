"""A drill: made the same from a seed, the truth kept from the trainee, and marked as the table of marks says."""

import csv
import datetime as dt
import json
import random
from collections import Counter
from dataclasses import replace

import pytest

from routecheck.cli.main import main
from routecheck.drill.cases import BESIDE, DrillCase, planted_case
from routecheck.drill.drill_files import write_key, write_routes
from routecheck.drill.error_kinds import CLEAN, ERROR_KINDS
from routecheck.drill.making import DrillOrder, make_drill
from routecheck.drill.marking import TraineeAnswer, mark_all, mark_case
from routecheck.drill.own_cases import read_own_cases
from routecheck.drill.planters import ENDS, PLANTERS, Planted
from routecheck.drill.truth import find_error
from routecheck.drill.unused_answers import describe_unused
from routecheck.faults import UsageError
from routecheck.model import RouteInput
from routecheck.navdata.database import demo_database
from routecheck.pipeline import assess_many
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)


@pytest.fixture(scope="module")
def cases(source):
    """One of every kind and five clean."""
    mix = {**dict.fromkeys(ERROR_KINDS, 1.0), CLEAN: 5.0}
    return make_drill(DrillOrder(seed=3, count=20, mix=mix), source, demo_database(), DAY)


def right(case):
    kind = "" if case.kind == CLEAN else case.kind
    return TraineeAnswer(case.name, " ".join(case.words), kind, case.correction)


def test_every_kind_has_its_words_and_can_be_planted(cases):
    assert set(ERROR_KINDS) == {*PLANTERS, *ENDS}
    assert Counter(case.kind for case in cases) == {**dict.fromkeys(ERROR_KINDS, 1), CLEAN: 5}


def test_the_tool_names_every_planted_error_and_finds_nothing_in_the_clean(cases):
    answers = assess_many([case.as_entered() for case in cases], demo_database(), Settings(), DAY)
    for case, answer in zip(cases, answers, strict=True):
        heavy = [finding for finding in answer.findings if finding.weight != "note"]
        assert bool(heavy) == (case.kind != CLEAN), (case, [finding.message for finding in heavy])
        assert (find_error(case, answer) is not None) == (case.kind != CLEAN), case


def test_a_drill_is_the_same_for_a_seed_and_another_for_another(source):
    one, same, other = (make_drill(DrillOrder(seed=n, count=3), source, demo_database(), DAY) for n in (3, 3, 4))
    assert one == same != other


def test_who_always_answers_right_gets_all_and_who_calls_all_clean_gets_the_clean(cases):
    marks = mark_all(cases, {case.name: right(case) for case in cases})
    assert {mark.total for mark in marks} == {100}
    silent = mark_all(cases, {case.name: TraineeAnswer(case.name) for case in cases})
    assert [mark.total for mark in silent] == [100 if case.kind == CLEAN else 0 for case in cases]
    assert [mark.total for mark in mark_all(cases, {})] == [0] * len(cases)


def test_who_answers_at_random_gets_what_the_table_says_and_no_more(cases):
    """Each part of a mark is one of the table's; by chance it comes to less than a third of the whole."""
    rng = random.Random(1)
    kinds = ["", CLEAN, *ERROR_KINDS]
    totals = []
    for _ in range(40):
        for case in cases:
            words = rng.sample(case.shown_words, 2)
            given = TraineeAnswer(case.name, words[0], rng.choice(kinds), words[1], reveals=rng.randrange(3))
            mark = mark_case(case, given)
            allowed = ((0, 20, 40), (0, 15, 30), (0, 30), (0, 10, 20))
            parts = (mark.place, mark.kind, mark.correction, mark.reveals)
            assert all(part in few for part, few in zip(parts, allowed, strict=True))
            assert mark.is_false_alarm == (case.kind == CLEAN and not given.calls_it_clean)
            if case.kind == CLEAN:
                assert mark.place + mark.kind + mark.correction == (100 if given.calls_it_clean else 0)
            totals.append(mark.total)
    assert 0 < sum(totals) / len(totals) < 33


CASE = DrillCase(
    name="r", departure="XVAL", destination="XVOR", route="A UM12 B C", kind="exit too far", words=("B",),
    beside=("UM12", "C", "DCT"), correction="D", astray=("INNER",),
)  # fmt: skip


@pytest.mark.parametrize(
    ("given", "marks"),
    [
        (TraineeAnswer("r", "b", "Exit too far", " d "), (40, 30, 30, 100)),
        (TraineeAnswer("r", "C", "entry too far", ""), (20, 15, 0, 35)),
        (TraineeAnswer("r", "UM12", "half degree", "X"), (20, 0, 0, 20)),
        (TraineeAnswer("r", "A", "airway number", "D"), (0, 15, 30, 45)),
        (TraineeAnswer("r", "B", "exit too far", "D", reveals=2), (40, 30, 30, 80)),
        (TraineeAnswer("r", "A", "", "", reveals=3), (0, 0, 0, 0)),
        (TraineeAnswer("r", "", "clean"), (0, 0, 0, 0)),
        (TraineeAnswer("r", "INNER", "", "D/N0440F370"), (40, 0, 30, 70)),
        (TraineeAnswer("r", "A B C", "", ""), (40, 0, 0, 40)),
        (TraineeAnswer("r", "A B C UM12", "", ""), (0, 0, 0, 0)),
        (TraineeAnswer("r", "DCT", "", ""), (0, 0, 0, 0)),
        (TraineeAnswer("r", "dct b", "", ""), (40, 0, 0, 40)),
    ],
)
def test_marks(given, marks):
    mark = mark_case(CASE, given)
    assert (mark.place, mark.kind, mark.correction, mark.total) == marks


def test_a_wrong_word_that_stands_everywhere_can_be_pointed_at():
    case = replace(CASE, words=("DCT",))
    assert mark_case(case, TraineeAnswer("r", "dct")).place == 40


def test_an_accused_clean_route_is_a_false_alarm():
    mark = mark_case(
        DrillCase(name="r", departure="", destination="", route="A"), TraineeAnswer("r", "A", "half degree")
    )
    assert (mark.total, mark.is_false_alarm) == (0, True)


@pytest.mark.parametrize(
    ("wrong", "clean", "truth"),
    [
        ("A DCT B DCT C", "A DCT X DCT C", (("B",), ("DCT", "DCT"), "X")),
        ("A B B C", "A B C", (("B",), ("B", "C"), "leave out")),
        ("A C B D", "A B C D", (("C", "B"), ("A", "D"), "B C")),
        ("A C", "A B C", (("A", "C"), (), "A B C")),
    ],
)
def test_what_is_wrong_and_what_was_meant(wrong, clean, truth):
    made = [RouteInput(text, "XVAL", "XVOR") for text in (wrong, clean)]
    case = planted_case("r", Planted("half degree", *made, spans=(), added_nm=0.0, breaks=True))
    assert (case.words, case.beside, case.correction) == truth


def test_exchanged_ends_are_the_wrong_words():
    made = RouteInput("A B", "XVOR", "XVAL"), RouteInput("A B", "XVAL", "XVOR")
    case = planted_case("r", Planted("ends exchanged", *made, spans=(), added_nm=0.0, breaks=True))
    assert (case.words, case.beside, case.correction) == (("XVOR", "XVAL"), ("A", "B"), "XVAL XVOR")


def test_the_truth_is_not_in_the_routes(cases):
    rows = list(csv.DictReader(write_routes(cases).splitlines()))
    assert list(rows[0]) == ["name", "departure", "destination", *BESIDE, "route", "clearance"]
    assert [row["name"] for row in rows] == [case.name for case in cases]
    assert not any(kind in row["name"] for row in rows for kind in ERROR_KINDS)
    assert len(write_key(cases).splitlines()) == len(cases)


def test_an_instructor_brings_own_cases():
    text = """
[[case]]
departure = "XVAL"
destination = "XVOR"
route = "LENDU UM12 PIKOR DCT SARNO"
word = "PIKOR"
kind = "letter to a known name"
correction = "PIKAR"
sentence = "They sound alike."
[[case]]
departure = "XVAL"
destination = "XVOR"
route = "LENDU DCT SARNO DCT PIKAR DCT PIKAR"
word = "PIKAR DCT PIKAR"
kind = "point repeated"
correction = "PIKAR"
[[case]]
departure = "XVAL"
route = "LENDU PIKAR PIKAR"
word = "PIKAR"
kind = "point repeated"
correction = "Leave out"
[[case]]
destination = "XVOR"
route = "LENDU DCT SARNO"
"""
    planted, several, left_out, clean = read_own_cases(text, "drill.toml")
    assert (planted.words, planted.beside, planted.correction) == (("PIKOR",), ("UM12", "DCT"), "PIKAR")
    assert planted.meant == "XVAL LENDU UM12 PIKAR DCT SARNO XVOR"
    assert (clean.kind, clean.looks_odd, clean.meant) == (CLEAN, True, "LENDU DCT SARNO XVOR")
    assert several.meant == "XVAL LENDU DCT SARNO DCT PIKAR XVOR"
    assert (several.words, several.beside) == (("PIKAR", "DCT", "PIKAR"), ("DCT", "XVOR"))
    assert (left_out.correction, left_out.meant) == ("leave out", "XVAL LENDU PIKAR")
    assert all(case.as_meant().departure == case.departure for case in (planted, several, left_out, clean))


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("[[case]]\nroute = 1", "texts in quotation marks"),
        ("[[case]]\nword = 'A'", "no route"),
        ("[[case]]\nroute = 'A'\nkind = 'typo'\nword = 'A'", "no kind of entry error"),
        ("[[case]]\nroute = 'A'\nkind = 'half degree'\nword = 'B'", "no word of its route"),
        ("[[case]]\nroute = 'A'\ncorection = 'B'", "a case has no corection; it has departure"),
        ("case = 1", r"tables named \[\[case\]\]"),
        ("[[case", "no TOML"),
    ],
)
def test_own_cases_that_cannot_be_used_are_said(text, why):
    with pytest.raises(UsageError, match=why):
        read_own_cases(text, "drill.toml")


def test_what_of_answers_counts_for_nothing_is_said():
    answers = [
        TraineeAnswer("r", kind="Exit  too far"),
        TraineeAnswer("r", kind="exit to far"),
        TraineeAnswer("r", trainee="Kim"),
        *(TraineeAnswer(f"r{number}") for number in range(7)),
    ]
    assert list(describe_unused([CASE], answers)) == [
        "7 answers to no route of the key: r0, r1, r2, r3, r4 and others.",
        "Answered more than once, and the last counts: r.",
        "No kind of error: “exit to far”.",
    ]
    assert list(describe_unused([CASE], answers[:1])) == []


@pytest.mark.slow
def test_the_command_makes_and_marks(tmp_path, capsys):
    for folder in ("one", "two"):
        options = ["--seed", "7", "--count", "8", "--mix", "exit too far=2,clean=1", "--difficulty", "3"]
        assert main(["drill", "make", "--out", str(tmp_path / folder), *options]) == 0
    for name in ("routes.csv", "answers.jsonl", "drill.toml"):
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes()
    key = tmp_path / "one" / "answers.jsonl"
    truth = [json.loads(line) for line in key.read_text("utf-8").splitlines()]
    answers = tmp_path / "Alex.csv"
    with answers.open("w", newline="", encoding="utf-8") as file:
        rows = [(one["name"], " ".join(one["words"]), one["kind"], one["correction"]) for one in truth]
        csv.writer(file).writerows([("name", "word", "kind", "correction"), *rows])
    capsys.readouterr()
    assert main(["drill", "mark", str(answers), "--key", str(key), "-o", str(tmp_path / "marks.csv")]) == 0
    out = capsys.readouterr().out
    assert out.startswith("Alex: 100 of 100 on average over 8 routes; 0 false alarms\n")
    assert "  exit too far: 100 (" in out
    assert len((tmp_path / "marks.csv").read_text("utf-8").splitlines()) == 9
    key.write_text("{}\n", "utf-8")
    assert main(["drill", "mark", str(answers), "--key", str(key)]) == 2
    assert "answers.jsonl, line 1: no line of an answer key: its name is no text" in capsys.readouterr().err
