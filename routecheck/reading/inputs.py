"""Any input to entries: its kind is told by the content. The kinds themselves are read in modules of their own."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.model import RouteInput
from routecheck.reading.decoding import NO_TEXT, decoded
from routecheck.reading.route_file import read_route_file
from routecheck.reading.rows import names_columns, read_rows

if TYPE_CHECKING:
    from collections.abc import Iterator

ROUTE_FILE, MESSAGE, ROWS, TEXT = "route-file", "message", "rows", "text"
KINDS = (ROUTE_FILE, MESSAGE, ROWS, TEXT)

NO_MESSAGES = (
    "a flight-plan message is not read in this version: give its Item 15 (speed, level and route) as the route, "
    "Item 13 as departure and Item 16 as destination"
)
_HEAD = 4_096
# ICAO Doc 4444 Appendix 3: a message is an open bracket, three letters of its kind, perhaps numbers, a hyphen.
_MESSAGE = re.compile(r"\((?:FPL|CHG|CNL|DLA|DEP|ARR|CPL|EST|CDN|ACP|RQP|RQS|SPL|ALR)[A-Z0-9/]{0,20}\s*-")
_TOML_KEY = re.compile(r"^[ \t]*(?:route|schema)[ \t]*=", re.MULTILINE)


def read_input(data: bytes, name: str, kind: str | None = None) -> Iterator[RouteInput]:
    """The entries of an input; one at least, with `unread` where nothing can be read. `kind` is one of KINDS or None.

    `name` is what the user calls the input. Raises ValueError on another kind.
    """
    if kind is not None and kind not in KINDS:
        raise ValueError(f"no kind of input is called {kind}")
    head = decoded(data[:_HEAD])
    if head is None:
        yield RouteInput("", name=name, unread=NO_TEXT)
        return
    route_inputs = _read(data, name, kind or kind_of(head, name))
    yield next(route_inputs, None) or RouteInput("", name=name, unread="there is nothing to read in it")
    yield from route_inputs


def kind_of(head: str, name: str) -> str:
    """The kind of an input by the beginning of its text; the suffix of its name decides where that leaves it open."""
    if _MESSAGE.search(head.upper()):
        return MESSAGE
    if name.lower().endswith(".toml") or _TOML_KEY.search(head):
        return ROUTE_FILE
    first = head.lstrip().partition("\n")[0]
    if name.lower().endswith((".csv", ".tsv")) or names_columns(first):
        return ROWS
    return TEXT


def _read(data: bytes, name: str, kind: str) -> Iterator[RouteInput]:
    if kind == ROWS:
        yield from read_rows(data, name)
    elif text := (decoded(data) or "").strip():
        yield _one(text, name, kind)


def _one(text: str, name: str, kind: str) -> RouteInput:
    if kind == ROUTE_FILE:
        return read_route_file(text, name)
    return RouteInput("", name=name, unread=NO_MESSAGES) if kind == MESSAGE else RouteInput(text, name=name)
