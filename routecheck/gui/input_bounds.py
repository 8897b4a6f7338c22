"""How much of an input the window takes, never a part of it, and the reason why no more. No widgets."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.formatting import count
from routecheck.reading.input_fields import INPUT_FIELDS

if TYPE_CHECKING:
    from routecheck.model import RouteInput

LONGEST_TEXT = 12_000
"""Characters of a route (our choice, ten times the longest route): Qt needs seconds for one line of many."""
LONGEST_PASTE = 100_000
"""Characters of a pasted text with a route in it (our choice): no plan of one flight is longer."""
LONGEST_FIELD = 2_000
"""Characters of a value that stands in a field of its own (our choice); Qt would cut it at 32,767 without a word."""
MOST_ENTRIES = 2_000
"""Entries of a value that is a list, such as claims (our choice: a route of so many characters has no more words)."""
_MOST_CHANGES = 100
"""Changes on record (our choice): each is a row under the text."""
_ELSEWHERE = "“routecheck proof FILE” takes any"


def describe_too_long(text: str) -> str:
    """Why a text is not shown in the window, and what takes it."""
    return f"The text has {len(text):,} characters, the window takes a route of up to {LONGEST_TEXT:,}; {_ELSEWHERE}"


def describe_too_much(route_input: RouteInput) -> str:
    """Why an input is not shown in the window, and what takes it; "" where it is shown."""
    if len(route_input.route) > LONGEST_TEXT:
        return describe_too_long(route_input.route)
    if route_input.pasted and len(route_input.pasted.text) > LONGEST_PASTE:
        length = count(len(route_input.pasted.text), "character")
        return f"The text around the route has {length}, the window takes {LONGEST_PASTE:,}; {_ELSEWHERE}"
    faults = [*_find_long_lists(route_input), *_find_long_fields(route_input)]
    if faults:
        return f"{faults[0]}; {_ELSEWHERE}"
    return describe_too_much(route_input.other) if route_input.other else ""


def _find_long_lists(route_input: RouteInput) -> list[str]:
    lists = {field.file_key: getattr(route_input, field.name) for field in INPUT_FIELDS}
    most = dict.fromkeys(lists, MOST_ENTRIES) | {"changed": _MOST_CHANGES}
    return [
        f"It has {len(value):,} entries of “{key}”, the window takes {most[key]:,}"
        for key, value in lists.items()
        if isinstance(value, tuple) and len(value) > most[key]
    ]


def _find_long_fields(route_input: RouteInput) -> list[str]:
    typed = dict(route_input.typed)
    texts = {
        field.file_key: field.kind.write_text(getattr(route_input, field.name)) or typed.get(field.name, "")
        for field in INPUT_FIELDS
        if field.label and field.kind.is_typed
    }
    return [
        f"Its “{key}” has {len(text):,} characters, the window takes {LONGEST_FIELD:,}"
        for key, text in texts.items()
        if len(text) > LONGEST_FIELD
    ]
