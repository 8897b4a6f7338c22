"""Any input to RouteInputs: the registry of input formats, and which of them an input is of."""

from __future__ import annotations

import logging
from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.faults import describe_failure
from routecheck.model import InputKind, NotUsed, Origin, RouteInput
from routecheck.reading import flight_table, page, plain_text, route_file, rows
from routecheck.reading.clearances import spoken_clearance
from routecheck.reading.decoding import decode, why_no_text
from routecheck.reading.fixm import flight
from routecheck.reading.input_format import NO_CHOICES
from routecheck.reading.messages import flight_plan_message
from routecheck.reading.nav_logs import nav_log

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.reading.input_format import InputFormat, ReadingChoices

INPUT_FORMATS = (
    flight.FORMAT,
    flight_plan_message.FORMAT,
    route_file.FORMAT,
    flight_table.FORMAT,
    nav_log.FORMAT,
    rows.FORMAT,
    spoken_clearance.FORMAT,
    page.FORMAT,
    plain_text.FORMAT,
)
"""In the order in which they are tried; the last takes whatever no other does."""
_HEAD = 32_768
"""Characters by which a format is recognised: a plan may stand far down in a page."""
_LOG = logging.getLogger(__name__)


_TABLES = (rows.FORMAT, nav_log.FORMAT)
_NO_TABLE = NotUsed(InputKind.FIELD, "columns", "", "the input is no table whose columns can be named")
_NO_GROUPS = NotUsed(InputKind.FIELD, "group", "", "the input is no message that holds several routes")


def read_input(
    data: bytes, name: str, format_name: str | None = None, choices: ReadingChoices = NO_CHOICES
) -> Iterator[RouteInput]:
    """What an input holds; one RouteInput at least, with `unread` where nothing can be read.

    `name` is what the user calls the input, `format_name` one of the registry or None. Raises ValueError on another.
    `choices` say what the content leaves open.
    """
    given = _find_format(format_name) if format_name is not None else None
    return _within_fence(_read(data, name, given, choices), name)


def read_row_stream(lines: Iterator[str], name: str, choices: ReadingChoices = NO_CHOICES) -> Iterator[RouteInput]:
    """What lines of CSV rows hold, each row as soon as its lines are there; one RouteInput at least."""
    return _within_fence(_one_at_least(rows.read_row_lines(lines, name, choices), name), name)


def _within_fence(route_inputs: Iterator[RouteInput], name: str) -> Iterator[RouteInput]:
    """Whatever raises while an input is read costs what is left of it, and is said; other inputs stand."""
    try:
        for route_input in route_inputs:
            yield replace(route_input, origin=replace(route_input.origin, file=name))
    except Exception as error:
        _LOG.exception("an input could not be read")
        unread = f"{describe_failure(error)}; nothing more of it is read"
        yield RouteInput("", name=name, unread=unread, origin=Origin(name))


def _read(data: bytes, name: str, given: InputFormat | None, choices: ReadingChoices) -> Iterator[RouteInput]:
    head = decode(data[:_HEAD])
    if head is None:
        yield RouteInput("", name=name, unread=why_no_text(name))
        return
    input_format = given or _recognise_with_choices(head, name, choices)
    ignored = tuple(_find_ignored(choices, input_format))
    for route_input in _one_at_least(input_format.read(data, name, choices), name):
        yield replace(route_input, not_used=(*route_input.not_used, *ignored)) if ignored else route_input


def _find_ignored(choices: ReadingChoices, input_format: InputFormat) -> Iterator[NotUsed]:
    """The choices that leave nothing open in an input of this format."""
    if choices.columns and input_format not in _TABLES:
        yield _NO_TABLE
    if choices.group and input_format is not flight.FORMAT:
        yield _NO_GROUPS


def _one_at_least(route_inputs: Iterator[RouteInput], name: str) -> Iterator[RouteInput]:
    yield next(route_inputs, None) or RouteInput("", name=name, unread="there is nothing to read in it")
    yield from route_inputs


def is_of_a_format(text: str) -> bool:
    """Whether a text is anything but plain route text."""
    return recognise_format(text[:_HEAD], "") is not plain_text.FORMAT


def recognise_format(head: str, name: str) -> InputFormat:
    """The format of an input by its name and the beginning of its text."""
    return next(one for one in INPUT_FORMATS if one.sniff(head, name))


def _recognise_with_choices(head: str, name: str, choices: ReadingChoices) -> InputFormat:
    """As recognised; but a text that nothing else reads is the table of which the user names the columns."""
    found = recognise_format(head, name)
    return nav_log.FORMAT if choices.columns and found in (page.FORMAT, plain_text.FORMAT) else found


def _find_format(name: str) -> InputFormat:
    found = next((one for one in INPUT_FORMATS if one.name == name), None)
    if found is None:
        raise ValueError(f"no format of input is called {name}")
    return found
