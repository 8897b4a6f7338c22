"""Plain route text: what is of no other format is the text of one route. Its words are read in route_text."""

from __future__ import annotations

from routecheck.model import RouteInput
from routecheck.reading.input_format import InputFormat, read_whole


def _take_text(text: str, name: str) -> RouteInput:
    return RouteInput(text, name=name)


FORMAT = InputFormat(name="text", suffixes=(".txt",), looks_like=lambda _head: True, read=read_whole(_take_text))
