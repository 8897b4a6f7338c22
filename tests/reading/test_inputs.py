"""What an input is, told by its content, and a sentence for whatever is none."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from routecheck.reading.inputs import KINDS, read_input

# ICAO Doc 4444 Appendix 3, 2.3.1 (second hand).
MESSAGE = (
    "(FPL-ACA101-IS-B773/H-CHOV/C-EGLL1400-N0450F310 L9 UL9 STU285036/M082F310 UL9 LIMRI 52N020W 52N030W 50N040W "
    "49N050W-CYQX0455 CYYR-EET/EISN0026 EGGX0111 020W0136 CYQX0228 040W0330 050W0415 SEL/FJEL)"
)


def entries(text, name="standard input", kind=None):
    data = text if isinstance(text, bytes) else text.encode()
    return list(read_input(data, name, kind))


def test_the_kinds():
    assert KINDS == ("route-file", "message", "rows", "text")


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
    (entry,) = entries(text)
    assert (entry.route, entry.unread) == ("LENDU", "")


def test_a_broken_route_file_is_still_one():
    (entry,) = entries('schema = 1\nroute = "A')
    assert "the route file is broken" in entry.unread
    (entry,) = entries("LENDU", "my.route.toml")
    assert "the route file is broken" in entry.unread


@pytest.mark.parametrize(
    "text",
    [
        "departure,destination,route\nXVAL,XVOR,A\n",
        "Route;Destination;Departure\nA;XVOR;XVAL",
        "\n\nroute\tdeparture\tdestination\nA\tXVAL\tXVOR",
    ],
)
def test_rows(text):
    (entry,) = entries(text)
    assert (entry.departure, entry.destination, entry.route) == ("XVAL", "XVOR", "A")


def test_rows_without_a_header():
    (entry,) = entries("XVAL,XVOR,A", "x.csv")
    assert "needed are departure, destination and route" in entry.unread


@pytest.mark.parametrize(
    "text", [MESSAGE, "ZCZC 1\n\n" + MESSAGE.lower(), "(CNL-DLH522-EDBB0900-LFPO-0)", "(CHGA/F016A/F014-GABWE"]
)
def test_a_message_is_told_apart_and_not_read_in_this_version(text):
    (entry,) = entries(text)
    assert entry.unread.startswith("a flight-plan message is not read in this version: give its Item 15")
    assert entry.route == ""


@pytest.mark.parametrize(
    "text", ["LENDU DCT PIKAR UM12 TOVIK\n", "  LENDU\nDCT\nPIKAR UM12 TOVIK ", "\ufeffLENDU, PIKAR", "LENDU (FPL) A"]
)
def test_plain_text_is_one_route(text):
    (entry,) = entries(text, "route.txt")
    assert entry.route == text.strip("\ufeff \n")
    assert (entry.name, entry.unread) == ("route.txt", "")


def test_text_in_an_old_encoding_and_in_utf_16():
    assert entries("LENDU é".encode("cp1252"))[0].route == "LENDU é"
    assert entries("LENDU é".encode("utf-16"))[0].route == "LENDU é"


@pytest.mark.parametrize("kind", [None, *KINDS])
@pytest.mark.parametrize("data", [b"", b" \r\n\t", b"\xef\xbb\xbf", b"\xff\xfe", b"\n" * 10_000])
def test_nothing_in_it(data, kind):
    (entry,) = entries(data, kind=kind)
    assert entry.unread in ("there is nothing to read in it", "the table is empty")


@pytest.mark.parametrize("data", [b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", b"PK\3\4\x14\0\0\0\x08\0" * 9, bytes(range(256))])
def test_no_text(data):
    (entry,) = entries(data, "x.csv")
    assert "no text" in entry.unread


def test_the_kind_given_overrides():
    assert entries(MESSAGE, kind="text")[0].route == MESSAGE
    assert "broken" in entries("LENDU", kind="route-file")[0].unread
    assert "needed are" in entries("LENDU", kind="rows")[0].unread
    assert "message" in entries("LENDU", kind="message")[0].unread
    with pytest.raises(ValueError, match="no kind of input"):
        entries("LENDU", kind="picture")


@given(
    st.binary() | st.text().map(str.encode),
    st.sampled_from(["x", "x.csv", "x.route.toml"]),
    st.sampled_from([None, *KINDS]),
)
def test_any_bytes_give_an_entry(data, name, kind):
    found = entries(data, name, kind)
    assert found
    for entry in found:
        assert bool(entry.unread) != bool(entry.route)
