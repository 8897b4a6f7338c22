"""An assessment as GPX 1.1: its placed points as a route, what is flown between them as tracks that end at each gap."""

from __future__ import annotations

from typing import TYPE_CHECKING
from xml.etree import ElementTree

from routecheck import __version__
from routecheck.formatting import short
from routecheck.model import CAUTION_IN_FULL
from routecheck.presentation.headline import headline
from routecheck.report.lines_on_earth import unbroken_lines

if TYPE_CHECKING:
    from routecheck.model import Assessment, PathPoint

_NAMESPACE = "http://www.topografix.com/GPX/1/1"


def write_gpx(assessment: Assessment) -> str:
    """The whole file. A point that is not placed is left out, and the description says how much was checked."""
    route = assessment.route
    root = ElementTree.Element("gpx", {"version": "1.1", "creator": f"Routecheck {__version__}", "xmlns": _NAMESPACE})
    metadata = ElementTree.SubElement(root, "metadata")
    _text(metadata, "name", _name(assessment))
    _text(metadata, "desc", f"{headline(assessment).sentence} {CAUTION_IN_FULL}")
    rte = ElementTree.SubElement(root, "rte")
    _text(rte, "name", _name(assessment))
    for index, point in enumerate(route.points):
        gap = route.legs[index].gap if index < len(route.legs) and route.legs[index].distance_nm is None else ""
        _add_point(rte, point, gap)
    trk = ElementTree.SubElement(root, "trk")
    _text(trk, "name", _name(assessment))
    for line in unbroken_lines(route):
        segment = ElementTree.SubElement(trk, "trkseg")
        for lat, lon in line:
            ElementTree.SubElement(segment, "trkpt", _position(lat, lon))
    ElementTree.indent(root)
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{ElementTree.tostring(root, encoding="unicode")}\n'


def _add_point(rte: ElementTree.Element, point: PathPoint, gap: str) -> None:
    if point.place is None:
        return
    element = ElementTree.SubElement(rte, "rtept", _position(point.place.lat, point.place.lon))
    _text(element, "name", point.text)
    if gap:
        _text(element, "cmt", f"No fixed path from here: {gap}.")


def _position(lat: float, lon: float) -> dict[str, str]:
    east = -180.0 if lon == 180.0 else lon  # GPX has longitudes below 180
    return {"lat": f"{lat:.8f}", "lon": f"{east:.8f}"}


def _text(parent: ElementTree.Element, tag: str, text: str) -> None:
    ElementTree.SubElement(parent, tag).text = "".join(char for char in text if char.isprintable())


def _name(assessment: Assessment) -> str:
    points, route_input = assessment.route.points, assessment.route.route_input
    ends = f"{short(points[0].text) or '?'}–{short(points[-1].text) or '?'}"
    return " ".join(filter(None, (route_input.title or route_input.name, ends)))
