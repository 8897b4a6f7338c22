"""The table of input fields: every value of a RouteInput has its row, and every door reads and writes by the rows."""

import csv
import dataclasses
import io
import re

import pytest
from full_input import FULL_INPUT

from routecheck.model import InputKind, NotUsed, RouteInput
from routecheck.reading.input_fields import INPUT_FIELDS, is_given, read_texts
from routecheck.reading.route_file import read_route_file, write_route_file
from routecheck.reading.rows import read_rows

NOT_GIVEN = {"name", "unread", "remarks", "not_used", "typed", "sheet", "origin", "pasted", "groups", "is_routeless"}
"""What a RouteInput says of the input itself, and what is put in later."""
TYPED = [field for field in INPUT_FIELDS if field.kind.is_typed]


def test_every_value_of_a_route_input_has_its_row():
    names = [field.name for field in INPUT_FIELDS]
    assert len(set(names)) == len(names)
    assert {*names} == {field.name for field in dataclasses.fields(RouteInput)} - NOT_GIVEN
    assert len({field.file_key for field in INPUT_FIELDS}) == len(names)


def test_the_full_input_has_every_value():
    assert [field.name for field in INPUT_FIELDS if not is_given(FULL_INPUT, field)] == []
    assert [field.name for field in INPUT_FIELDS if is_given(RouteInput(""), field)] == []


def test_every_value_is_read_back_from_a_route_file():
    back = read_route_file(write_route_file(FULL_INPUT), "a.route.toml")
    assert back == FULL_INPUT


def test_every_column_is_read():
    fields = [field for field in INPUT_FIELDS if field.column]
    out = io.StringIO()
    cells = [field.kind.write_text(getattr(FULL_INPUT, field.name)) for field in fields]
    csv.writer(out).writerows([[field.name for field in fields], cells])
    (route_input,) = read_rows(out.getvalue().encode(), "routes.csv")
    assert {field.name for field in fields} >= {"departure", "destination", "route", "off_block", "aircraft_sheet"}
    for field in fields:
        assert getattr(route_input, field.name) == getattr(FULL_INPUT, field.name)


@pytest.mark.parametrize("field", TYPED, ids=lambda field: field.name)
def test_a_line_is_read_as_it_is_written(field):
    value = getattr(FULL_INPUT, field.name)
    assert read_texts([(field, field.kind.write_text(value))]).values == {field.name: value}
    nothing = getattr(RouteInput(""), field.name)
    assert read_texts([(field, field.kind.write_text(nothing))]).values == {field.name: nothing}


@pytest.mark.parametrize("field", [field for field in INPUT_FIELDS if field.example], ids=lambda field: field.name)
def test_an_example_is_one(field):
    read = read_texts([(field, field.example)])
    assert read.faults == {}
    assert read.values[field.name]


def test_what_cannot_be_read_is_a_fault_and_no_value():
    by_name = {field.name: field for field in INPUT_FIELDS}
    texts = {"off_block": "soon", "wind": "280", "role": "planned", "level": "F350"}
    read = read_texts((by_name[name], text) for name, text in texts.items())
    assert {*read.faults} == {"off_block", "wind", "role"}
    assert all(why.startswith(f"“{texts[name]}” is n") and why[-1] != "." for name, why in read.faults.items())
    bare = RouteInput("")
    assert read.values == {"off_block": bare.off_block, "wind": bare.wind, "role": bare.role, "level": "F350"}


def test_a_kind_without_a_line_refuses_one():
    windows = next(field for field in INPUT_FIELDS if field.name == "windows")
    with pytest.raises(TypeError, match="no form in one line"):
        read_texts([(windows, "PIKAR")])


@pytest.mark.parametrize("field", INPUT_FIELDS, ids=lambda field: field.name)
def test_a_key_that_is_left_out_or_misspelt_is_seen(field):
    """What is left out changes the input; what is misspelt does too, and is named."""
    text = write_route_file(FULL_INPUT)
    misspelt = re.sub(rf"^((?:\[\[?)?){field.file_key}\b", r"\1mis_spelt", text, flags=re.MULTILINE)
    assert misspelt != text
    read = read_route_file(misspelt, "f")
    if field.name == "route":
        assert read.unread
        return
    assert getattr(read, field.name) != getattr(FULL_INPUT, field.name)
    assert NotUsed(InputKind.KEY, "mis_spelt", "", "there is no such key") in read.not_used
