"""A page with a route in it: the route is found and said, the rest is counted, plain route text stays what it is."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.model import Use
from routecheck.reading.inputs import read_input, recognise_format
from routecheck.reading.page import read_page

ROUTE = "N0430F350 LENDU DCT PIKAR UM12 TOVIK"


def read_all(text):
    return list(read_input(text.encode(), "mail.txt"))


def test_a_mail_with_a_route():
    (found,) = read_all(f"Dear crew,\nplease check this one for tomorrow:\n\n  {ROUTE}\n  DCT SARNO\n\nRegards, Ann\n")
    assert found.route == f"{ROUTE}\n  DCT SARNO"
    assert [one.sentence for one in found.not_used] == [
        "Not used: 3 lines of text around the plan; it begins “Dear crew,”."
    ]
    assert found.remarks == ("Taken for the route: the lines that read like one.",)


def test_a_line_of_names_alone_goes_with_the_lines_beside_it():
    (found,) = read_all(f"please check:\n{ROUTE}\nSARNO XVOR\n\nXVA OPS\n")
    assert found.route == f"{ROUTE}\nSARNO XVOR"


@pytest.mark.parametrize("label", ["Route:", "ATC route =", "Filed: "])
def test_a_label_before_the_route(label):
    (found,) = read_all(f"{label} {ROUTE}")
    assert found.route == ROUTE


def test_a_list_of_flights():
    found = read_all(f"Flight one goes\n{ROUTE}\nand the other one\nSARNO UL7 RASEL DCT MOKSI\n")
    assert [one.route for one in found] == [ROUTE, "SARNO UL7 RASEL DCT MOKSI"]
    assert [one.name for one in found] == ["mail.txt, route 1", "mail.txt, route 2"]
    assert sum(len(one.not_used) for one in found) == 2


@pytest.mark.parametrize(
    "text",
    [
        ROUTE,
        f"{ROUTE}\nDCT SARNO\n",
        "lendu dct pikar um12 tovik\ndct sarno",
        "XVAL/09 LENDU UM12 PIKOR TOVIK\nKESTO XVOR/27",
        "LENDU PIKAR TOVIK",
        "hello there",
        "",
    ],
)
def test_plain_route_text_is_no_page(text):
    assert recognise_format(text, "x").name == "text"


@given(st.lists(st.sampled_from([ROUTE, "Dear crew,", "see you", "", "SARNO DCT", "Route: LENDU DCT PIKAR", "ß ”"])))
def test_every_visible_sign_is_accounted_for(lines):
    text = "\n".join(lines)
    found = list(read_page(text, "x"))
    if not found:
        return
    assert "".join(one.pasted.text for one in found) == text
    for one in found:
        covered = set()
        for part in one.pasted.parts:
            assert part.use in (Use.USED, Use.AROUND)
            covered.update(range(*part.span))
        assert all(char.isspace() or i in covered for i, char in enumerate(one.pasted.text))


_ROUTE_LINE = "LENDU DCT PIKAR UM12 TOVIK"
_LOG_LINES = ("Point\tVia\tDist", "LENDU\tDCT\t31.2", "PIKAR\tUM12\t94.6", "TOVIK\tUM12\t141.3")


@pytest.mark.parametrize(
    "plan",
    [
        _ROUTE_LINE,
        f"Dear crew, here it is:\n{_ROUTE_LINE}",
        f"(FPL-ABC123-IS\n-B738/M-SDFGIRWY/S\n-XVAL1430\n-N0430F350 {_ROUTE_LINE}\n-XVOR0145\n-DOF/261203)",
        "\n".join(_LOG_LINES),
        "cleared to XVOR via LENDU direct PIKAR",
    ],
)
def test_rules_around_a_plan_are_named_once(plan):
    """Rules frame a plan and are no words of it; a line of dots may stand for something that was left out."""
    plain, framed = (next(read_input(text.encode(), "a.txt")) for text in (plan, f"-----\n{plan}\n=====\n* * *\n"))
    assert (framed.route, framed.unread) == (plain.route, "")
    assert framed.remarks.count("Not used: 3 lines of signs alone.") == 1
    assert framed.not_used == plain.not_used
    if plan is not _ROUTE_LINE:
        (dotted,) = read_input(f"{plan}\n...\n".encode(), "a.txt")
        assert "a line of dots “...”" in [one.name for one in dotted.not_used]


def test_signs_within_a_route_stay_words_of_it():
    for text in (f"LENDU DCT\n-----\n{_ROUTE_LINE}", f"…\n{_ROUTE_LINE}", f"---\n{_ROUTE_LINE}\n???"):
        (found,) = read_input(text.encode(), "a.txt")
        assert found.route == text
