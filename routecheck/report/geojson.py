"""An assessment as GeoJSON (RFC 7946): its placed points, and a line for each stretch without a gap."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from routecheck import __version__
from routecheck.model import CAUTION_IN_FULL
from routecheck.presentation.headline import headline
from routecheck.report.lines_on_earth import cut_at_date_line, unbroken_lines

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Assessment, Route

_DECIMALS = 7
"""A centimetre."""


def write_geojson(assessment: Assessment) -> str:
    """The whole file. What is said of the route as a whole stands beside the features."""
    collection = {
        "type": "FeatureCollection",
        "features": [*_lines(assessment.route), *_points(assessment.route)],
        "program": f"Routecheck {__version__}",
        "headline": headline(assessment).sentence,
        "cautions": CAUTION_IN_FULL,
    }
    return json.dumps(collection, allow_nan=False, ensure_ascii=False, indent=1) + "\n"


def _lines(route: Route) -> Iterator[dict[str, Any]]:
    for line in unbroken_lines(route):
        parts = [[_position(lat, lon) for lat, lon in part] for part in cut_at_date_line(line)]
        if len(parts) == 1:
            yield _feature({"type": "LineString", "coordinates": parts[0]}, {"kind": "path"})
        elif parts:
            yield _feature({"type": "MultiLineString", "coordinates": parts}, {"kind": "path"})


def _points(route: Route) -> Iterator[dict[str, Any]]:
    for index, point in enumerate(route.points):
        if point.place is None:
            continue
        gap = route.legs[index].gap if index < len(route.legs) and route.legs[index].distance_nm is None else ""
        about = {"kind": "point", "name": point.text, "place": point.place.kind.value}
        if gap:
            about["no_fixed_path_from_here"] = gap
        geometry = {"type": "Point", "coordinates": _position(point.place.lat, point.place.lon)}
        yield _feature(geometry, about)


def _feature(geometry: dict[str, Any], properties: dict[str, str]) -> dict[str, Any]:
    return {"type": "Feature", "geometry": geometry, "properties": properties}


def _position(lat: float, lon: float) -> list[float]:
    return [round(lon, _DECIMALS), round(lat, _DECIMALS)]
