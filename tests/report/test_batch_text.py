"""Many routes as text for a person: shared findings once, what is in order only counted, nothing lost."""

import datetime as dt
from dataclasses import replace

import pytest
from written_runs import write_run

from routecheck.model import Finding, RouteInput, Weight
from routecheck.model.text import Origin
from routecheck.pipeline import assess
from routecheck.report.batch_text import BatchReport
from routecheck.report.output_options import EVERYTHING, OutputOptions
from routecheck.report.text import Text
from routecheck.settings import Settings

CLEAN = "LENDU DCT PIKAR UM12 TOVIK DCT SARNO"
TURN = "LENDU DCT PIKAR DCT LENDU DCT SARNO"


def rows(*routes, file="rows.csv"):
    return [
        RouteInput(
            route,
            "XVAL",
            "XVOR",
            name=f"{file}, line {line}",
            off_block=dt.date(2026, 12, 3),
            origin=Origin(file, line),
        )
        for line, route in enumerate(routes, start=2)
    ]


def described(route_inputs, options=EVERYTHING):
    return write_run(Text, route_inputs, options)[0]


def test_a_finding_that_rows_share_is_said_once_with_word_cure_and_rows():
    out = described(rows(*["LENDU DCT PIKER DCT UVAGI"] * 7, CLEAN))
    assert out.count("PIKER is not in the loaded data") == 1
    assert "    likely intended: PIKAR: one letter away" in out
    assert "    7 routes: line 2 XVAL–XVOR, line 3 XVAL–XVOR, line 4 XVAL–XVOR, line 5 XVAL–XVOR and 3 more\n" in out
    assert "line 9" not in out


def test_the_flagged_words_stand_there_where_the_sentence_does_not_name_them():
    out = described(rows("LENDU UM12 PIKOR DCT UVAGI", CLEAN))
    assert "■ Wrong: UM12 … PIKOR: " in out or "PIKOR is not on UM12" in out


def test_rows_in_order_are_hidden_and_all_shows_each():
    routes = rows(CLEAN, CLEAN, "LENDU DCT PIKER")
    assert "line 2" not in described(routes)
    shown = described(routes, OutputOptions(every_route=True))
    assert [shown.count(f"line {n}, XVAL–XVOR: ") for n in (2, 3, 4)] == [1, 1, 1]


def test_what_holds_for_the_run_is_said_once_at_its_end():
    old = [RouteInput(CLEAN, "XVAL", "XVOR", off_block=dt.date(2027, 3, 1), name=f"r{n}") for n in range(5)]
    out = described(old)
    assert out.count("The data holds from") + out.count("cycle 2612") <= 3
    assert "Doubtful on all 5 routes: " in out


def test_what_was_not_checked_is_counted_by_reason():
    out = described(rows("LENDU DCT PIKER", "LENDU DCT PIKER DCT SARNO", CLEAN))
    assert "2 routes not checked in full: PIKER: not in the loaded data (2)." in out


def test_counts_by_check_and_what_is_hidden_add_up():
    routes = rows("LENDU DCT PIKER", TURN, CLEAN)
    out = described(routes, OutputOptions(least=Weight.WRONG))
    assert "Findings by check: unknown-name 1 Wrong; " in out
    assert "◆" not in out
    assert "Not shown: " in out
    without = described(routes, OutputOptions(without=frozenset({"unknown-name"})))
    assert "PIKER is not" not in without
    assert "unknown-name 1 Wrong" in without
    assert "1 with something Wrong" in without
    only = described(routes, OutputOptions(only=frozenset({"unknown-name"})))
    assert "PIKER is not" in only
    assert "◆" not in only


def test_worst_first_puts_the_heaviest_route_on_top():
    routes = rows(CLEAN, TURN, "LENDU DCT PIKER", "")
    out = described(routes, OutputOptions(every_route=True, worst_first=True))
    order = [line.split(",")[1].strip() for line in out.splitlines() if line.startswith("rows.csv")]
    assert order == ["line 4", "line 5", "line 3", "line 2"]


def test_a_second_file_is_named_and_the_first_is_not():
    out = described(rows("LENDU DCT PIKER", CLEAN) + rows("LENDU DCT PIKER", file="more.csv"))
    assert "2 routes: line 2 XVAL–XVOR and more.csv line 2 XVAL–XVOR" in out


def test_a_failure_of_ours_is_always_shown(monkeypatch):
    from routecheck import pipeline

    real = pipeline.resolve

    def broken(parsed, *rest):
        if parsed.route_input.route == "SARNO":
            raise ZeroDivisionError("on purpose")
        return real(parsed, *rest)

    monkeypatch.setattr(pipeline, "resolve", broken)
    out = " ".join(described(rows(CLEAN, "SARNO"), OutputOptions(least=Weight.WRONG)).split())
    assert "our program failed on this route (ZeroDivisionError: on purpose). line 3 XVAL–XVOR" in out


@pytest.mark.parametrize("width", [60, 100, 160])
def test_no_line_is_wider_than_asked(width):
    out = described(rows("LENDU DCT PIKER", TURN, CLEAN), OutputOptions(width=width))
    assert max(map(len, out.splitlines())) <= width


def test_what_other_routes_say_in_other_figures_is_said_to_be_worded_as_for_the_first():
    unread = [
        RouteInput(
            "", "XVAL", "XVOR", name=f"rows.csv, line {n}", unread=f"line {n}: no route", origin=Origin("rows.csv", n)
        )
        for n in (2, 3, 4)
    ]
    out = described(unread)
    assert "■ Wrong: Line 2: no route. [unread-row]\n" in out, "what is Wrong is never said of the run as a whole"
    assert "    3 routes, worded as for the first: line 2 XVAL–XVOR, line 3 XVAL–XVOR and line 4 XVAL–XVOR\n" in out
    assert "worded as for the first" not in described(rows(*["LENDU DCT PIKER"] * 3))


def test_what_was_assumed_stands_there_once_with_its_routes():
    """What the result names in its remarks is in the text too, also where every route is shown by itself."""
    inputs = rows("LENDU1 LENDU DCT PIKAR", "LENDU1 LENDU DCT PIKAR DCT SARNO", CLEAN)
    assumed = "No runway is stated: "
    out = described(inputs)
    assert out.count(assumed) == 1
    assert "2 routes: line 2 XVAL–XVOR and line 3 XVAL–XVOR" in " ".join(out.split())
    assert described(inputs, OutputOptions(every_route=True)).count(assumed) == 2


def test_of_many_doubtful_findings_of_a_check_the_rest_is_counted(demo):
    """Of a few each is listed; a choice of what is shown lists every one, too."""
    answer = assess(RouteInput(" ".join(f"31S{deg:03}E" for deg in range(61))), demo, Settings(), dt.date(2026, 12, 3))
    spans = [word.span for word in answer.route.parsed.words]

    def listed(number, options=EVERYTHING):
        report = BatchReport(options, "rows.csv")
        for one in spans[:number]:
            found = Finding((one,), "It turns.", Weight.DOUBTFUL, check="dogleg")
            report.add(replace(answer, findings=(found,)))
        return "".join(report.write())

    assert listed(61).count("[dogleg]") == 5
    assert "◆ Doubtful: 56 more findings on 56 routes: --only dogleg lists them." in listed(61)
    assert listed(61, OutputOptions(only=frozenset({"dogleg"}))).count("[dogleg]") == 61
    assert listed(60).count("[dogleg]") == 60
