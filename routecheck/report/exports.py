"""The registry of exports: one route as a file of an open standard, by the suffix of the file."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass
from routecheck.presentation.leg_table import leg_csv
from routecheck.report.geojson import write_geojson
from routecheck.report.gpx import write_gpx

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.model import Assessment


@dataclass(frozen=True, slots=True)
class Export:
    """One kind of file that a route is exported as."""

    title: str
    """What a user reads of it where he chooses a kind."""
    write: Callable[[Assessment], str]


EXPORTS = {
    ".gpx": Export("GPX 1.1", write_gpx),
    ".geojson": Export("GeoJSON", write_geojson),
    ".csv": Export("Leg table, CSV", leg_csv),
}
"""By the suffix of the file; GeoJSON as RFC 7946 has it."""
