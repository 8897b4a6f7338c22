"""A spoken clearance that was written down, to a RouteInput: its route; where the rest is as filed, the end is open."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.model import InputKind, NotUsed, Pasted, Role, RouteInput
from routecheck.reading.clearances.clearance import Clearance, read_clearance
from routecheck.reading.decoding import decode
from routecheck.reading.input_format import InputFormat, ReadingChoices
from routecheck.reading.messages.ledger import find_not_used, name_unused

if TYPE_CHECKING:
    from collections.abc import Iterator

_TELLING = re.compile(
    r"\b(?:RE-?)?CLEARED\s+(?:TO|DIRECT|DCT|VIA|[A-Z]{4}\s+VIA)\b|\b(?:THEN|REST(?:\s+OF\s+ROUTE)?)\s+AS\s+FILED\b"
    r"|\bREST\s+OF\s+(?:THE\s+)?ROUTE\s+(?:IS\s+)?UNCHANGED\b|\bPROCEED\s+DIRECT\b|\b(?:CLIMB|DESCEND)\s+VIA\b",
    re.IGNORECASE,
)
_ALL_AS_FILED = "the clearance is as filed and names no point: the route to check is the one that was filed"
_NOTHING = "no route is said in it"


def read_spoken_clearance(text: str, name: str) -> RouteInput:
    """Read a clearance. `unread` says why there is no route in it."""
    found = read_clearance(text)
    pasted = Pasted(text, found.pieces, found.parts)
    remarks = ("Read as a clearance.", *name_unused(pasted.parts))
    not_used = find_not_used(text, pasted.parts)
    if not found.route:
        unread = _ALL_AS_FILED if found.is_rest_as_filed else _NOTHING
        return RouteInput("", "", found.destination, name=name, unread=unread, not_used=not_used, pasted=pasted)
    return RouteInput(
        f"{found.route} T" if found.is_rest_as_filed else found.route,
        "",
        found.destination,
        name=name,
        role=Role.CLEARED,
        level=found.level,
        first_altitude=found.first_altitude,
        windows=found.windows,
        departure_runway=found.departure_runway,
        destination_runway=found.destination_runway,
        remarks=remarks,
        not_used=(*_name_rest(found), *not_used),
        pasted=pasted,
    )


def _name_rest(found: Clearance) -> Iterator[NotUsed]:
    if found.is_rest_as_filed:
        last = found.route.split()[-1]
        because = f"what was filed is not in this text: behind {last} nothing is checked"
        yield NotUsed(InputKind.TEXT, "“as filed”", "", because)


def _read(data: bytes, name: str, _choices: ReadingChoices) -> Iterator[RouteInput]:
    if text := (decode(data) or "").strip():
        yield read_spoken_clearance(text, name)


FORMAT = InputFormat(name="clearance", looks_like=lambda head: bool(_TELLING.search(head)), read=_read)
