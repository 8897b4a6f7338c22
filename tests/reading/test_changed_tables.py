"""What was changed beside the text, in a route file and out of it again."""

import pytest

from routecheck.model import Change, RouteInput
from routecheck.reading.route_file import read_route_file, write_route_file

CHANGES = (
    Change("PIKOR", "PIKAR", 10),
    Change("09", "27", field="departure_runway"),
    Change("KEBUL at or above 1,100 ft", "KEBUL at or above 11,000 ft", ticked=True, field="windows"),
    Change("XVAL", "XVOR", field="departure"),
)


def test_changes_come_back_with_what_they_are_of():
    route_input = RouteInput("LENDU DCT PIKAR UM12 TOVIK", "XVOR", "XVAL", changed=CHANGES)
    read = read_route_file(write_route_file(route_input), "a")
    assert read.changed == CHANGES
    assert read.not_used == ()


@pytest.mark.parametrize("what", ['"fuel"', "3", "[1]"])
def test_a_change_of_something_else_is_kept_and_its_key_is_said(what):
    text = f'schema = 1\nroute = "LENDU"\n[[changed]]\nold = "A"\nnew = "B"\nbeside = {what}\n'
    read = read_route_file(text, "a")
    assert read.changed == (Change("A", "B"),)
    assert any(one.sentence.startswith("Not used: beside of changed 1; it must be one of ") for one in read.not_used)
