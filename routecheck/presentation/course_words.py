"""Courses in words, true and magnetic, and as charts have them. Which course that is, is found in geometry."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.resolution.radials import compass_variation

if TYPE_CHECKING:
    import datetime as dt

    from routecheck.model import ChartedCourse, Place


def course_words(start: Place, true_deg: float, date: dt.date) -> str:
    """A course from a place, "088°T  109°M"; the true one alone where nobody knows the variation or it is of no use."""
    variation = compass_variation(start, date)
    magnetic = formatting.course((true_deg - variation[0]) % 360.0, "M") if variation else ""
    return "  ".join(filter(None, (formatting.course(true_deg, "T"), magnetic)))


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
    side = "E" if degrees > 0 else "W"
    return f"{abs(degrees):g}°{side if degrees else ''}"
