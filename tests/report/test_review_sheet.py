"""The review sheet says all that was checked, found, accepted and not looked at; nothing of an input is markup."""

import datetime as dt
import re
from html import unescape

from written_runs import assess_on_demo

from routecheck.checks.read_across_rows import read_across_rows
from routecheck.model import CAUTION, NOT_LOOKED_AT, Accepted, Change, ReadAcross, ReadMark, Role, RouteInput
from routecheck.presentation.headline import headline, outcomes_line
from routecheck.presentation.limits import changed_limits
from routecheck.report.review_sheet import write_sheet

AT = dt.datetime(2026, 12, 3, 14, 30, tzinfo=dt.UTC)
ROUTE = "LENDU UM12 PIKOR DCT SARNO"


def sheet(route_input, **more):
    (answer,) = assess_on_demo([route_input])
    html = write_sheet(answer, at=AT, **more)
    return answer, html, " ".join(unescape(re.sub(r"<[^>]+>", " ", html.partition("<body>")[2])).split())


def test_it_says_what_was_found_and_what_was_not_looked_at():
    answer, _, text = sheet(RouteInput(ROUTE, "XVAL", "XVOR", role=Role.CLEARED))
    head = headline(answer)
    for said in (head.verdict_line, head.how_much, CAUTION, NOT_LOOKED_AT, ROUTE, outcomes_line(answer)):
        assert " ".join(said.split()) in text
    assert all(finding.message in text for finding in answer.findings)
    assert "The text as cleared. Flight of 03 DEC 2026. Checked 03 DEC 2026 14:30 UTC by Routecheck" in text
    assert "Every length was computed twice" in text
    assert all(because in text for because in {one.because for one in answer.not_checked})


def test_the_original_words_and_who_accepted_what_stand_on_it():
    (before,) = assess_on_demo([RouteInput(ROUTE, "XVAL", "XVOR")])
    wrong = before.findings[0]
    words = " ".join(ROUTE[span.start : span.end] for span in wrong.spans)
    accepted = Accepted(wrong.check, words, "cleared so", "AB", at="2026-12-03T10:00:00Z", finding=wrong.message)
    changed = (Change("SARNI", "SARNO", 21), Change("PIKAR", "PIKOR", 11, ticked=True))
    _, _, text = sheet(RouteInput(ROUTE, "XVAL", "XVOR", accepted=(accepted,), changed=changed))
    assert "Accepted by AB, 03 DEC 2026 10:00 UTC: cleared so" in text
    assert "1 word differs from what you entered: SARNI → SARNO. Correct it in the aircraft unit" in text
    assert "said to be corrected elsewhere too: PIKAR → PIKOR." in text
    assert "What the text is: not said." in text


def test_nothing_of_an_input_is_markup():
    hostile = '<img src=x onerror="1">\u202e'
    _, html, text = sheet(RouteInput(f"LENDU {hostile}", "XV<AL", "XVOR", title=hostile))
    assert "<img" not in html
    assert hostile[:-1] in text
    assert "\u202e" not in html


def test_changed_limits_and_pictures_are_on_it():
    lines = list(changed_limits({"steep": {"note_ft_nm": 350.0}}))
    _, html, text = sheet(RouteInput(ROUTE, "XVAL", "XVOR"), limits=lines, pictures={"Picture": b"png"})
    assert len(lines) == 1
    assert lines[0].startswith("steep: note_ft_nm = 350 ft/NM (")
    assert lines[0] in text
    assert 'src="data:image/png;base64,cG5n"' in html


def test_without_any_route_it_is_a_sheet_all_the_same():
    _, _, text = sheet(RouteInput("", "", "", unread="line 2: nothing"))
    assert CAUTION in text


def test_what_was_read_across_and_what_differed_is_on_it():
    (before,) = assess_on_demo([RouteInput(ROUTE, "XVAL", "XVOR")])
    rows = read_across_rows(before.route)
    marks = (ReadMark(rows[0].text, is_same=True), ReadMark(rows[1].text, is_same=False, shown="PIKAR"))
    read = ReadAcross(marks, by="AB CD", at="2026-12-03T14:00:00Z")
    _, _, text = sheet(RouteInput(ROUTE, "XVAL", "XVOR", read_across=read))
    assert f"1 of {len(rows)} rows the same, 1 differing" in text
    assert "by AB CD at 2026-12-03 14:00 UTC." in text
    assert f"{rows[1].text} PIKAR" in text
