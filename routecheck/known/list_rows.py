"""The rows of a list of known routes: of any format that names both aerodromes, or of our own results as JSON Lines."""

from __future__ import annotations

import codecs
import json
import re
from typing import TYPE_CHECKING

from routecheck.model import Origin, RouteInput
from routecheck.reading import flight_table, route_file, rows
from routecheck.reading.decoding import decode
from routecheck.reading.fixm import flight
from routecheck.reading.inputs import read_input, recognise_format
from routecheck.reading.messages import flight_plan_message

if TYPE_CHECKING:
    from collections.abc import Iterator

_IS_RESULT = re.compile(rb'\s*\{\s*"schema"\s*:\s*"routecheck\.result/')
_SCHEMA = "routecheck.result/1"
_KEYS = ("route", "departure", "destination", "name")
_LISTS = (flight.FORMAT, flight_plan_message.FORMAT, route_file.FORMAT, flight_table.FORMAT, rows.FORMAT)
_HEAD = 32_768
_NO_LIST = "it is no list of routes: no column is named as that of the routes"


class _NoResultError(ValueError):
    """A line is no result of ours: why."""


def read_list_rows(data: bytes, name: str) -> Iterator[RouteInput]:
    """The routes of a list; what cannot be read has `unread`.

    A nav log, a clearance and a page of prose are no lists, whatever route stands in them.
    """
    if _IS_RESULT.match(data.removeprefix(codecs.BOM_UTF8)):
        return _read_results(data.removeprefix(codecs.BOM_UTF8), name)
    head = decode(data[:_HEAD])
    if head is not None and recognise_format(head, name) not in _LISTS:
        return iter([RouteInput("", name=name, unread=_NO_LIST, origin=Origin(name))])
    return read_input(data, name)


def _read_results(data: bytes, name: str) -> Iterator[RouteInput]:
    for number, line in enumerate(data.splitlines(), start=1):
        if not line.strip():
            continue
        origin = Origin(name, number)
        try:
            route, departure, destination, title = _read_result(line)
        except (ValueError, RecursionError) as error:
            yield RouteInput("", name=name, unread=f"line {number}: it is no result ({error})", origin=origin)
            continue
        unread = "" if route.strip() else f"line {number}: there is no route in this result"
        yield RouteInput(route, departure, destination, name=title, unread=unread, origin=origin)


def _read_result(line: bytes) -> list[str]:
    """The texts of a result that make it a known route. Raises ValueError, and RecursionError where it is too deep."""
    values = json.loads(line, object_pairs_hook=_without_twice)
    if not isinstance(values, dict) or values.get("schema") != _SCHEMA:
        raise _NoResultError(f"its schema is not {_SCHEMA}")
    for key in _KEYS:
        if not isinstance(values.get(key), str):
            raise _NoResultError(f"its {key} is no text")
    return [values[key] for key in _KEYS]


def _without_twice(pairs: list[tuple[str, object]]) -> dict[str, object]:
    """An object as a dictionary. Raises ValueError where a key stands twice: which of the two holds is not known."""
    values = dict(pairs)
    if len(values) < len(pairs):
        raise _NoResultError("a key stands in it twice")
    return values
