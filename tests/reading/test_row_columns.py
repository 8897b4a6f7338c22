"""Columns by other names: the usual ones, those that the user chooses, and what is said where neither fits."""

import pytest

from routecheck.reading.input_format import ReadingChoices
from routecheck.reading.inputs import read_input, recognise_format
from routecheck.reading.rows import read_row_lines, read_rows


def rows(text, columns=""):
    return list(read_rows(text.encode(), "x.csv", ReadingChoices(columns=columns)))


@pytest.mark.parametrize(
    "header",
    [
        "departure,destination,route",
        "ADEP,ADES,Route",
        "origin;dest;ROUTE OF FLIGHT",
        "From\tTo\tRouting",
        "dep,arr,item 15",
        "Departure-Airport,Destination Airport,route text",
    ],
)
def test_the_usual_headers_are_understood(header):
    delimiter = next(sign for sign in ",;\t" if sign in header)
    (route_input,) = rows(f"{header}\n{delimiter.join(('XVAL', 'XVOR', 'LENDU DCT PIKAR'))}\n")
    assert (route_input.departure, route_input.destination, route_input.route) == ("XVAL", "XVOR", "LENDU DCT PIKAR")
    assert route_input.origin.columns == ()
    assert recognise_format(header, "a file").name == "rows"


def test_our_own_name_goes_first_and_the_other_column_is_passed_through():
    (route_input,) = rows("from,departure,destination,route\nA,XVAL,XVOR,LENDU\n")
    assert route_input.departure == "XVAL"
    assert route_input.origin.columns == (("from", "A"),)


def test_the_user_says_which_column_is_what():
    text = "leaves,lands,FPL,departure,rfl\nXVAL,XVOR,LENDU,gate 7,F350\n"
    (route_input,) = rows(text, "departure=leaves,destination=LANDS,route=FPL")
    assert (route_input.departure, route_input.destination, route_input.route) == ("XVAL", "XVOR", "LENDU")
    assert route_input.level == "F350"
    assert route_input.origin.columns == (("departure", "gate 7"),)


@pytest.mark.parametrize(
    ("columns", "said"),
    [
        ("departur=leaves", "columns: “departur” is none of name, title, role, departure"),
        ("departur=leaves", "did you mean departure"),
        ("departure=leafs", "columns: the header has no “leafs”; did you mean leaves"),
        ("departure", "columns: the header has no “”"),
        ("", "missing here: departure and destination"),
        ("departure=leaves,,route=route", "columns: “departure=leaves,,route=route” has a comma too many"),
        ("departure=leaves,", "has a comma too many: no choice stands beside it"),
        ("departure=leaves,departure=lands", "columns: “departure=lands” says something else than what stands before"),
        ("level=leaves,departure=leaves", "columns: “departure=leaves” says something else than what stands before"),
    ],
)
def test_a_choice_that_cannot_be_followed_is_said(columns, said):
    (route_input,) = rows("leaves,lands,route\nXVAL,XVOR,LENDU\n", columns)
    assert said in route_input.unread


def test_a_header_that_is_nearly_right_is_answered_with_a_question():
    (route_input,) = rows("departur,destination,route\nXVAL,XVOR,LENDU\n")
    assert "missing here: departure; is “departur” departure?" in route_input.unread


def test_a_row_is_given_as_soon_as_its_line_is_there():
    taken = []

    def lines():
        for line in ("\n", "departure,destination,route\n", "XVAL,XVOR,LENDU\n", "XVAL,XVOR,PIKAR\n"):
            taken.append(line)
            yield line

    found = read_row_lines(lines(), "x.csv")
    assert next(found).route == "LENDU"
    assert len(taken) == 3
    assert next(found).origin.line == 4


@pytest.mark.parametrize("name", ["plan.xlsx", "PLAN.ODS"])
def test_a_spreadsheet_is_to_be_saved_as_csv(name):
    (route_input,) = read_input(b"PK\x03\x04\x14\x00\x06\x00\x08\x00\x00\x00!\x00", name)
    assert route_input.unread == "this is a spreadsheet: save it as CSV and give that"


def test_a_column_of_the_same_meaning_that_says_something_else_is_named():
    head = "departure,destination,route,level,FL,rfl\n"
    same, other = rows(f"{head}XVAL,XVOR,LENDU,F350,350,\nXVAL,XVOR,LENDU,F350,390,370\n")
    assert same.not_used == ()
    assert [one.sentence for one in other.not_used] == [
        f"Not used: the column “{title}” of line 3; another column is read as level, in which “F350” stands."
        for title in ("FL", "rfl")
    ]
