"""Positions written in another form of Item 15, so that an error of one form can be planted where the other stands."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from routecheck.model import RouteInput

HALF_DEGREE = "half degree"
"""The kind of error that takes positions in degrees and minutes."""
_IN_DEGREES = re.compile(r"\b(\d\d)([NS])(\d{3})([EW])\b")


def with_minutes(route_input: RouteInput) -> RouteInput | None:
    """The same route with its positions in whole degrees written with minutes of 00; None where it has none."""
    written, count = _IN_DEGREES.subn(r"\g<1>00\2\g<3>00\4", route_input.route)
    return replace(route_input, route=written) if count else None
