"""What an input is, told by its content, and a sentence for whatever is none."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.reading.input_format import ReadingChoices
from routecheck.reading.inputs import INPUT_FORMATS, read_input

# ICAO Doc 4444 Appendix 3, 2.3.1 (second hand).
MESSAGE = (
    "(FPL-ACA101-IS-B773/H-CHOV/C-EGLL1400-N0450F310 L9 UL9 STU285036/M082F310 UL9 LIMRI 52N020W 52N030W 50N040W "
    "49N050W-CYQX0455 CYYR-EET/EISN0026 EGGX0111 020W0136 CYQX0228 040W0330 050W0415 SEL/FJEL)"
)


def route_inputs(text, name="standard input", format_name=None):
    data = text if isinstance(text, bytes) else text.encode()
    return list(read_input(data, name, format_name))


NAMES = [one.name for one in INPUT_FORMATS]


def test_the_formats_in_the_order_in_which_they_are_tried():
    assert NAMES == ["fixm", "message", "route-file", "flight-table", "nav-log", "rows", "clearance", "page", "text"]


@pytest.mark.parametrize(
    "text",
    [
        'route = "LENDU"',
        '# mine\nschema = 1\nroute = "LENDU"',
        '\ufeffroute = "LENDU"\r\n',
        'title = "x"\nroute="LENDU"',
    ],
)
def test_a_route_file(text):
    (route_input,) = route_inputs(text)
    assert (route_input.route, route_input.unread) == ("LENDU", "")


def test_a_broken_route_file_is_still_one():
    (route_input,) = route_inputs('schema = 1\nroute = "A')
    assert "the route file is broken" in route_input.unread
    (route_input,) = route_inputs("LENDU", "my.route.toml")
    assert "the route file is broken" in route_input.unread


@pytest.mark.parametrize(
    "text",
    [
        "departure,destination,route\nXVAL,XVOR,A\n",
        "Route;Destination;Departure\nA;XVOR;XVAL",
        "\n\nroute\tdeparture\tdestination\nA\tXVAL\tXVOR",
    ],
)
def test_rows(text):
    (route_input,) = route_inputs(text)
    assert (route_input.departure, route_input.destination, route_input.route) == ("XVAL", "XVOR", "A")


def test_rows_without_a_header():
    (route_input,) = route_inputs("XVAL,XVOR,A", "x.csv")
    assert "needed are departure, destination and route" in route_input.unread


@pytest.mark.parametrize("text", [MESSAGE, "ZCZC 1\n\n" + MESSAGE.lower()])
def test_a_message_is_read_by_its_items(text):
    (route_input,) = route_inputs(text)
    assert (route_input.departure, route_input.destination) == ("EGLL", "CYQX")
    assert route_input.route.upper().startswith("N0450F310 L9 UL9")


@pytest.mark.parametrize(
    "text", ["LENDU DCT PIKAR UM12 TOVIK\n", "  LENDU\nDCT\nPIKAR UM12 TOVIK ", "\ufeffLENDU, PIKAR", "LENDU (FPL) A"]
)
def test_plain_text_is_one_route(text):
    (route_input,) = route_inputs(text, "route.txt")
    assert route_input.route == text.strip("\ufeff \n")
    assert (route_input.name, route_input.unread) == ("route.txt", "")


def test_text_in_an_old_encoding_and_in_utf_16():
    assert route_inputs("LENDU é".encode("cp1252"))[0].route == "LENDU é"
    assert route_inputs("LENDU é".encode("utf-16"))[0].route == "LENDU é"


@pytest.mark.parametrize("kind", [None, *NAMES])
@pytest.mark.parametrize("data", [b"", b" \r\n\t", b"\xef\xbb\xbf", b"\xff\xfe", b"\n" * 10_000])
def test_nothing_in_it(data, kind):
    (route_input,) = route_inputs(data, format_name=kind)
    assert route_input.unread in ("there is nothing to read in it", "the table is empty")


@pytest.mark.parametrize("data", [b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", b"PK\3\4\x14\0\0\0\x08\0" * 9, bytes(range(256))])
def test_no_text(data):
    (route_input,) = route_inputs(data, "x.csv")
    assert "no text" in route_input.unread


def test_the_format_given_overrides():
    assert route_inputs(MESSAGE, format_name="text")[0].route == MESSAGE
    assert "broken" in route_inputs("LENDU", format_name="route-file")[0].unread
    assert "needed are" in route_inputs("LENDU", format_name="rows")[0].unread
    assert "message" in route_inputs("LENDU", format_name="message")[0].unread
    with pytest.raises(ValueError, match="no format of input"):
        route_inputs("LENDU", format_name="picture")


@given(
    st.binary() | st.text().map(str.encode),
    st.sampled_from(["x", "x.csv", "x.route.toml"]),
    st.sampled_from([None, *NAMES]),
)
def test_any_bytes_give_an_entry(data, name, kind):
    found = route_inputs(data, name, kind)
    assert found
    for route_input in found:
        assert bool(route_input.unread) != bool(route_input.route)


@pytest.mark.parametrize(
    ("text", "is_used"),
    [
        ("LENDU UM12 PIKOR", True),  # taken for a table of which the user names the columns
        ("departure,destination,route\nXVAL,XVOR,LENDU\n", True),
        ("(FPL-XVA12-IS\n-A320/M-S/S\n-XVAL1400\n-N0430F350 LENDU DCT PIKAR\n-XVOR0130)", False),
        ('route = "LENDU"\n', False),
    ],
)
def test_columns_named_for_what_has_none_are_said_to_be_not_used(text, is_used):
    choices = ReadingChoices(columns="route=route")
    (route_input,) = read_input(text.encode(), "plan.route.toml" if "=" in text else "plan", None, choices)
    names = [one.name for one in route_input.not_used]
    assert ("columns" not in names) == is_used
