"""Flight-plan messages: recognised, so that none is taken for a route, and not read in this version."""

from __future__ import annotations

import re

from routecheck.model import RouteInput
from routecheck.reading.input_format import InputFormat, read_whole

_NOT_READ = (
    "a flight-plan message is not read in this version: give its Item 15 (speed, level and route) as the route, "
    "Item 13 as departure and Item 16 as destination"
)
# ICAO Doc 4444 Appendix 3: a message is an open bracket, three letters of its kind, perhaps numbers, a hyphen.
_MESSAGE = re.compile(r"\((?:FPL|CHG|CNL|DLA|DEP|ARR|CPL|EST|CDN|ACP|RQP|RQS|SPL|ALR)[A-Z0-9/]{0,20}\s*-")


def _looks_like_message(head: str) -> bool:
    return bool(_MESSAGE.search(head.upper()))


def _refuse_message(_text: str, name: str) -> RouteInput:
    return RouteInput("", name=name, unread=_NOT_READ)


FORMAT = InputFormat(name="message", looks_like=_looks_like_message, read=read_whole(_refuse_message))
