"""The registry of exports: one route as a file of an open standard, by the suffix of the file."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.presentation.leg_table import leg_csv
from routecheck.report.geojson import write_geojson
from routecheck.report.gpx import write_gpx

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.model import Assessment

EXPORTS: dict[str, Callable[[Assessment], str]] = {".gpx": write_gpx, ".geojson": write_geojson, ".csv": leg_csv}
"""GPX 1.1, GeoJSON (RFC 7946), the Leg table as CSV."""
