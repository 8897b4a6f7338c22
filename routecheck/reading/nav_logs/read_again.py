"""A pasted nav log read again with what the user says its columns are. What else stands beside the route stays."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from routecheck.reading.input_format import ReadingChoices
from routecheck.reading.nav_logs.nav_log import read_nav_log

if TYPE_CHECKING:
    from routecheck.model import RouteInput

_OF_THE_TABLE = ("route", "claims", "stated_totals", "remarks", "not_used", "columns", "pasted", "unread")
_OF_EITHER = ("departure", "destination", "wind", "load")
"""What the table may say, and the user may have typed since."""


def read_again(given: RouteInput, columns: str) -> RouteInput:
    """The input with its pasted table read by these columns; `unread` says why that cannot be.

    Corrections made in the route text go with it: they are about another text.
    """
    if given.pasted is None:
        return given
    text = given.pasted.text
    found = read_nav_log(text, given.name, ReadingChoices(columns=columns))
    if found.unread:
        return replace(given, unread=found.unread)
    before = read_nav_log(text, given.name, ReadingChoices(columns=given.columns))
    values: dict[str, Any] = {name: getattr(found, name) for name in _OF_THE_TABLE}
    for name in _OF_EITHER:
        if getattr(given, name) == getattr(before, name):
            values[name] = getattr(found, name)
    return replace(given, **values, changed=())
