"""Which field of a message is which item, by their order and by the form each must have. What is in them: items."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from routecheck.model import Span

if TYPE_CHECKING:
    from collections.abc import Sequence

_FORMS: dict[int, re.Pattern[str]] = {
    item: re.compile(pattern, re.DOTALL)
    for item, pattern in (
        (7, r"[A-Z0-9]{1,7}(?:/[A-Z]\d{4})?"),
        (8, r"[IVYZ][A-Z]?"),
        (9, r"\d{0,2}[A-Z][A-Z0-9]{1,3}(?:/[A-Z])?"),
        (10, r"(?![A-Z]{4}\s?\d{4}$)[A-Z0-9\s]+(?:/[A-Z0-9\s]*)?"),
        (13, r"[A-Z]{4}\s?\d{4}"),
        (15, r"(?:[NKM]\d{2,4}|VFR\s).*"),
        (16, r"[A-Z]{4}\s?\d{0,5}(?:\s+[A-Z]{4}){0,2}"),
        (18, r"0|[A-Z0-9]{2,10}/.*"),
        (19, r"[EPRSJDANC]/.*"),
    )
}
"""The items of a filed flight plan in their order (Doc 4444 Appendix 2), each with the form that its text begins with.

Wider than the standard, so that an item with a slip in it is still known for what it is.
"""
ITEMS = tuple(_FORMS)
_MAY_HOLD_HYPHENS = frozenset({15, 18})
_AMENDMENT = re.compile(r"(7|8|9|10|13|15|16|18|19)/\s*")


class Assignment(NamedTuple):
    """The items of a message with the place of each, and the fields that are none.

    `replaced` are items of a change as they were before it.
    """

    items: dict[int, Span]
    unknown: tuple[Span, ...]
    replaced: tuple[tuple[int, Span], ...] = ()


def assign_fields(text: str, fields: Sequence[Span]) -> Assignment:
    """Take each field for the first item, at or behind the one before, whose form it has.

    A field of no form belongs to the route or to Item 18 where it stands in them (somebody typed a hyphen there); else
    it is unknown. An aerodrome before the route is that of departure, though its time is none.
    """
    items: dict[int, Span] = {}
    unknown: list[Span] = []
    last = 0
    for number, field in enumerate(fields):
        item = _find_item(text[field.start : field.end], last)
        if item is None and last in _MAY_HOLD_HYPHENS:
            items[last] = Span(items[last].start, field.end)
        elif item is None and last == 13:
            items[15], last = field, 15
        elif item is None:
            unknown.append(field)
        elif item == 16 and last < 13 and any(_is_route(text, other) for other in fields[number + 1 :]):
            items[13], last = field, 13
        else:
            items[item], last = field, item
    return Assignment(items, tuple(field for field in unknown if field.end > field.start))


def _is_route(text: str, field: Span) -> bool:
    return bool(_FORMS[15].fullmatch(text[field.start : field.end]))


def assign_amendments(text: str, fields: Sequence[Span]) -> Assignment:
    """The items of a change: Items 7, 13 and 16 as they stand, and those that it gives anew as “15/…”."""
    items: dict[int, Span] = {}
    unknown: list[Span] = []
    replaced: list[tuple[int, Span]] = []
    for field in fields:
        amendment = _AMENDMENT.match(text, field.start, field.end)
        item = int(amendment[1]) if amendment else _find_identity(text[field.start : field.end], items)
        if item is None:
            unknown.append(field)
            continue
        if item in items:
            replaced.append((item, items[item]))
        items[item] = Span(amendment.end() if amendment else field.start, field.end)
    return Assignment(items, tuple(field for field in unknown if field.end > field.start), tuple(replaced))


def _find_identity(field: str, items: dict[int, Span]) -> int | None:
    order = (7, 13, 16, 18)
    begun = max((order.index(item) + 1 for item in items if item in order), default=0)
    forms = {**_FORMS, 13: _FORMS[16]}
    return next((item for item in order[begun:] if forms[item].fullmatch(field)), None)


def _find_item(field: str, last: int) -> int | None:
    return next((item for item in ITEMS if item > last and _FORMS[item].fullmatch(field)), None)
