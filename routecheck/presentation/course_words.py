"""Courses as charts have them, in words. Which course that is, is found in geometry."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck import formatting

if TYPE_CHECKING:
    from routecheck.model import ChartedCourse


def charted_from(charted: ChartedCourse | None) -> str | None:
    """Whether a charted course is "coded" in the data or "reckoned" by our rule; None where there is none."""
    if charted is None:
        return None
    return "coded" if charted.coded else "reckoned"


def charted_words(charted: ChartedCourse) -> str:
    """A charted course and what explains it: "charted 091°, LAL aligned 1°E"."""
    course = formatting.course(charted.course_deg)
    by = f", {charted.station} aligned {_alignment(charted.alignment_deg or 0.0)}" if charted.station else ""
    return f"charted {course}{by}" if charted.coded else f"charted about {course}, none is coded{by}"


def _alignment(degrees: float) -> str:
    """The alignment of a station, in whole degrees where it is whole: "1°E", "0°", "12.4°W"."""
    return f"{abs(degrees):g}°{('E' if degrees > 0 else 'W') if degrees else ''}"
