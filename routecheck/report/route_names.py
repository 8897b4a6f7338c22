"""What a route is called in the output: by its own name, or by where it stands in its file, and by its ends."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.formatting import short

if TYPE_CHECKING:
    from routecheck.model import Assessment


def name_route(assessment: Assessment) -> str:
    """Its name or title with its ends: "routes.csv, line 4, XVAL–XVOR"."""
    route_input, ends = assessment.route.route_input, name_ends(assessment)
    return f"{route_input.name or route_input.title}, {ends}" if route_input.name or route_input.title else ends


def name_among_many(assessment: Assessment, first_file: str) -> str:
    """As short as can be: "line 4 XVAL–XVOR", the file only where it is not the first one, or its own name."""
    route_input = assessment.route.route_input
    origin, name = route_input.origin, route_input.name or route_input.title
    if origin.line is None or name != f"{origin.file}, line {origin.line}":
        return f"{name} {name_ends(assessment)}".strip()
    file = "" if origin.file == first_file else f"{origin.file} "
    return f"{file}line {origin.line} {name_ends(assessment)}"


def name_ends(assessment: Assessment) -> str:
    """Departure and destination as given: "XVAL–XVOR"."""
    points = assessment.route.points
    return f"{short(points[0].text) or '?'}–{short(points[-1].text) or '?'}"
