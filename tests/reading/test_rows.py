"""CSV rows: every form of table a desk exports, and no bad row that stops the others."""

import csv
import datetime as dt
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.model import InputKind, NotUsed, Role
from routecheck.reading.rows import read_rows

HEAD = "departure,destination,route\n"


def rows(text, name="routes.csv", encoding="utf-8"):
    return list(read_rows(text.encode(encoding), name))


def test_all_columns():
    (route_input,) = rows(
        "name,departure,destination,route,speed,level,date,departure_runway,destination_runway,"
        "approach,aircraft_sheet\nfirst,XVAL,XVOR,LENDU DCT TOVIK,N0430,F350,2026-12-03,09,27,I27,Medium jet\n"
    )
    assert (route_input.name, route_input.departure, route_input.destination) == ("first", "XVAL", "XVOR")
    assert (route_input.route, route_input.speed, route_input.level) == ("LENDU DCT TOVIK", "N0430", "F350")
    assert (route_input.departure_runway, route_input.destination_runway, route_input.approach) == ("09", "27", "I27")
    assert (route_input.date, route_input.aircraft_sheet) == (dt.date(2026, 12, 3), "Medium jet")
    assert (route_input.role, route_input.unread, route_input.not_used) == (Role.NOT_SAID, "", ())


def test_a_row_without_a_name_is_called_by_its_line():
    assert [route_input.name for route_input in rows(HEAD + "XVAL,XVOR,A\n\nXVOR,XVAL,B\n")] == [
        "routes.csv, line 2",
        "routes.csv, line 4",
    ]


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_delimiters_line_ends_and_encodings(delimiter, end, encoding):
    table = ["departure,destination,route,note", "XVAL,XVOR,LENDU,é", "", ",,,", "XVOR,XVAL,TOVIK,ß"]
    found = rows(end.join(table).replace(",", delimiter), encoding=encoding)
    assert [(route_input.departure, route_input.destination, route_input.route) for route_input in found] == [
        ("XVAL", "XVOR", "LENDU"),
        ("XVOR", "XVAL", "TOVIK"),
    ]


def test_header_in_any_case_order_and_company():
    (route_input,) = rows('kind, Route ,"DESTINATION",Departure Runway,departure\nTEC,LENDU,XVOR,09,XVAL\n')
    assert (route_input.departure, route_input.departure_runway, route_input.destination, route_input.route) == (
        "XVAL",
        "09",
        "XVOR",
        "LENDU",
    )


def test_quoted_cells_hold_commas_quotes_and_line_breaks():
    (first, second) = rows(HEAD + 'XVAL,XVOR,"LENDU, ""TOVIK""\nDCT SARNO" \nXVOR,XVAL,B\n')
    assert first.route == 'LENDU, "TOVIK"\nDCT SARNO'
    assert (second.route, second.name) == ("B", "routes.csv, line 4")


BAD_ROWS = [
    ("XVAL,XVOR,LENDU,TOVIK", "line 2: 4 cells, but the header has 3"),
    ("XVAL,XVOR", "line 2: only 2 cells, but the header has 3"),
    ("XVAL", "line 2: only 1 cell, but the header has 3"),
    ("XVAL,XVOR,", "line 2: no route in this row; a direct flight is written DCT"),
    ('XVAL,XVOR,"LENDU', "line 2: a quotation mark opens a cell and none in the same row closes it"),
    ('"XVAL,XVOR,LENDU', "line 2: a quotation mark opens a cell and none in the same row closes it"),
]


@pytest.mark.parametrize(("row", "why"), BAD_ROWS)
def test_one_bad_row_stops_no_other(row, why):
    bad, *good = rows(HEAD + row + "\nXVAL,XVOR,A\nXVOR,XVAL,B\n")
    assert bad.unread.startswith(why)
    assert [(route_input.route, route_input.unread) for route_input in good] == [("A", ""), ("B", "")]
    assert good[0].name == "routes.csv, line 3"


def test_an_open_quotation_mark_does_not_swallow_the_next_quoted_row():
    found = rows(HEAD + 'XVAL,XVOR,"LENDU\nXVAL,XVOR,"A, B"\nXVOR,XVAL,C\n')
    assert [route_input.route for route_input in found] == ["", "A, B", "C"]


def test_text_behind_a_closing_quotation_mark_is_read_as_typed():
    (route_input,) = rows(HEAD + 'XVAL,XVOR,"LENDU" TOVIK\n')
    assert route_input.route == '"LENDU" TOVIK'


def test_a_bad_row_still_says_where_it_goes():
    (route_input,) = rows(HEAD + "XVAL,XVOR,\n")
    assert (route_input.departure, route_input.destination, route_input.route) == ("XVAL", "XVOR", "")


def test_more_cells_than_the_header_are_in_order_while_empty():
    assert [route_input.route for route_input in rows(HEAD + "XVAL,XVOR,A,,\n")] == ["A"]


@pytest.mark.parametrize(
    ("cell", "day"),
    [
        ("2026-12-03", dt.date(2026, 12, 3)),
        ("20261203", dt.date(2026, 12, 3)),
        ("2026-12-03T23:30:00Z", dt.date(2026, 12, 3)),
        ("2026-12-03T23:30:00-05:00", dt.date(2026, 12, 4)),
        ("0001-01-01T00:00:00+05:00", dt.date(1, 1, 1)),
    ],
)
def test_dates(cell, day):
    (route_input,) = rows("departure,destination,route,date\n" + f"XVAL,XVOR,A,{cell}\n")
    assert (route_input.date, route_input.not_used) == (day, ())


@pytest.mark.parametrize("cell", ["3/12/2026", "2026-13-01", "soon", "2026-02-30"])
def test_a_bad_date_is_kept_as_typed(cell):
    (route_input,) = rows("departure,destination,route,date\n" + f"XVAL,XVOR,A,{cell}\n")
    assert (route_input.date, route_input.unread, route_input.route) == (None, "", "A")
    assert route_input.typed == (("off_block", cell),)


BAD_TABLES = [
    ("", "the table is empty"),
    ("\n\n", "the table is empty"),
    ("XVAL,XVOR,LENDU DCT TOVIK\n", "needed are departure, destination and route, missing here: departure, "),
    ("departure,route\nXVAL,A\n", "missing here: destination"),
    ("departure,destination,route,route\nXVAL,XVOR,A,B\n", "line 1: the column route stands twice"),
    ("\n\ndeparture,speed\n", "line 3: "),
]


@pytest.mark.parametrize(("table", "why"), BAD_TABLES)
def test_a_table_that_cannot_be_read_is_one_entry(table, why):
    (route_input,) = rows(table)
    assert why in route_input.unread


def test_no_text_is_one_entry():
    (route_input,) = read_rows(bytes(range(256)) * 10, "picture.csv")
    assert "no text" in route_input.unread


def test_nul_bytes_and_unknown_bytes_stop_nothing():
    found = list(read_rows(HEAD.encode() + b"XVAL,XVOR,LEN\0DU\nXVAL,XVOR,A\x81\xff\nXVOR,XVAL,B\n" + b" " * 200, "x"))
    assert [route_input.route for route_input in found] == ["LEN\ufffdDU", "A\ufffdÿ", "B"]


def test_huge_cells_are_read():
    (huge, after) = rows(HEAD + "XVAL,XVOR," + "A " * 500_000 + "\nXVOR,XVAL,B\n")
    assert len(huge.route) == 999_999
    assert after.route == "B"


@pytest.mark.slow
def test_many_open_quotation_marks_are_quick():
    found = rows(HEAD + 'XVAL,XVOR,"A\nXVAL,XVOR,B\n' * 2_000)
    assert [route_input.route for route_input in found] == ["", "B"] * 2_000


CELLS = st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=12).map(str.strip)


@given(st.lists(st.tuples(CELLS, CELLS, CELLS), max_size=6))
def test_what_a_table_writer_wrote_is_read_back(table):
    out = io.StringIO()
    csv.writer(out).writerows([("departure", "destination", "route"), *table])
    kept = [row for row in table if any(row)]
    found = rows(out.getvalue())
    assert [(e.departure, e.destination, e.route) for e in found if not e.unread] == [row for row in kept if row[2]]
    assert len(found) == len(kept)


@given(st.binary() | st.text("a,;\"'\n\r\t\0 é").map(str.encode))
def test_any_bytes_give_entries(data):
    for route_input in [*read_rows(data, "x"), *read_rows(HEAD.encode() + data, "x")]:
        assert bool(route_input.unread) != bool(route_input.route)


def test_the_real_table(shared_data):
    found = list(read_rows((shared_data / "faa_preferred_routes_2023_part.csv").read_bytes(), "real.csv"))
    unread = {route_input.unread.partition(": ")[2] for route_input in found if route_input.unread}
    assert len(found) > 5_000
    assert unread == {"no route in this row; a direct flight is written DCT"}
    assert found[0].route == "FJC ARD CYN"


# ---- rows that stray quotation marks would swallow, and columns of other names

WIDE = "departure,destination,route,speed,note\n"


@pytest.mark.parametrize(
    "table",
    [
        HEAD + 'XVAL,XVOR,"A\nXVAL,XVOR,B\nXVAL,XVOR,C\nXVAL,XVOR,D"\nXVAL,XVOR,E\n',
        HEAD + '"XVAL,XVOR,A\nXVAL,XVOR,B\nXVAL,XVOR,C\nXVAL,XVOR,D\nXVAL",XVOR,E\n',
        WIDE + 'XVAL,XVOR,A,,"x\nXVAL,XVOR,B,,\nXVAL,XVOR,C,,\nXVAL,XVOR,D,,y"\nXVAL,XVOR,E,,\n',
        WIDE + 'XVAL,XVOR,A,"N0430\nXVAL,XVOR,B,,\nXVAL,XVOR,C",,\nXVAL,XVOR,D,,\nXVAL,XVOR,E,,\n',
    ],
)
def test_two_stray_quotation_marks_swallow_no_row(table):
    found = rows(table)
    assert [route_input.origin.line for route_input in found] == [2, 3, 4, 5, 6]
    assert found[0].unread == "line 2: a quotation mark opens a cell and none in the same row closes it"
    assert [route_input.route for route_input in found if not route_input.unread][-1] == "E"


def test_a_route_may_run_over_lines_in_its_own_column():
    found = rows(WIDE + 'XVAL,XVOR,"LENDU DCT\nPIKAR, TOVIK\nDCT SARNO",N0430,x\nXVOR,XVAL,B,,\n')
    assert [route_input.route for route_input in found] == ["LENDU DCT\nPIKAR, TOVIK\nDCT SARNO", "B"]


def test_a_misspelt_column_is_named_with_what_is_meant():
    (misspelt, empty) = rows("departure,destination,route,levle\nXVAL,XVOR,A,F350\nXVAL,XVOR,B,\n")
    because = "there is no such column; perhaps level is meant"
    assert misspelt.not_used == (NotUsed(InputKind.COLUMN, "levle", "line 2", because),)
    assert empty.not_used == ()


def test_columns_of_other_names_are_passed_through_each_with_its_own_title():
    (route_input,) = rows("departure,kind,destination,route,kind,,route_2\nXVAL,x,XVOR,A,y,z,B\n")
    assert route_input.origin.columns == (("kind", "x"), ("kind (5)", "y"), ("column 6", "z"), ("route_2", "B"))


@pytest.mark.parametrize("title", ["kind", "aircraft", "altitude", "remarks", "note", "type", "company"])
def test_a_column_of_another_thing_is_not_taken_for_misspelt(title):
    (route_input,) = rows(f"departure,destination,route,{title}\nXVAL,XVOR,A,x\n")
    assert route_input.not_used == ()


def test_a_row_that_ends_before_the_header_does_is_said():
    whole, cut = rows("departure,destination,route,level\nXVAL,XVOR,LENDU DCT PIKAR,\nXVAL,XVOR,LENDU DCT PI\n")
    assert whole.remarks == ()
    assert cut.remarks == ("Cells are missing at the end: 3 of 4; taken as empty.",)
