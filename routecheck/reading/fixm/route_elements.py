"""One element of a FIXM route or trajectory: its point, what leads on from it, its figures. FIXM 4.2 and 4.3."""

from __future__ import annotations

import datetime as dt
import math
import re
from dataclasses import fields
from typing import TYPE_CHECKING, Any

from routecheck.frozen_dataclass import dataclass
from routecheck.reading.figures import measure_decimals

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

METRES_PER_NM = 1852.0
_NM_IN = {"M": METRES_PER_NM, "NM": 1.0, "KM": METRES_PER_NM / 1000.0, "FT": METRES_PER_NM / 0.3048}
"""How much of each unit is a NM."""
_MINUTES_OFF = 1e-5
_DIRECT = "DIRECT"
_WGS_84 = "urn:ogc:def:crs:EPSG::4326"
"""Latitude first. Where nothing is said it is this one, as FIXM 4.3 has it."""
_DURATION = re.compile(
    r"P(?:0*Y)?(?:(\d+)Y)?(?:0+M)?(?:(\d+)D)?(?:T(?:(\d+(?:\.\d+)?)H)?(?:(\d+(?:\.\d+)?)M)?(?:(\d+(?:\.\d+)?)S)?)?"
)
_MOMENT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d(?::\d\d(?:\.\d{1,9})?)?(?:Z|[+-]\d\d:\d\d)?")
_NAME = re.compile(r"[A-Z0-9]{1,7}")


@dataclass(frozen=True, slots=True)
class StatedPosition:
    """A position in degrees, and half of the last digit it is written to."""

    lat: float
    lon: float
    precision_deg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RouteElement:
    """An element with what of it is used. `word` "" = its point has no name, nor a position that Item 15 can write."""

    word: str
    is_aerodrome: bool
    position: StatedPosition | None
    """That of its start point, or else that of the trajectory there."""
    trajectory_position: StatedPosition | None
    """Where both are given, that of the trajectory."""
    distance_nm: float | None
    distance_half_nm: float
    minutes: float | None
    absolute_time: str
    via: str
    """The designator to the next element; "DCT" for direct, "" where none is given."""
    via_kind: str
    """"SID", "STAR", or "" for a route."""
    speed: str
    level: str
    """With `speed` the change that is made there; "" = none."""
    flown_level: str
    """The level at which the trajectory passes it; "" = not given. Likewise `flown_ft`, in feet."""
    flown_ft: float | None
    wind: tuple[float, float] | None
    """Where the wind there comes from, degrees, and its speed, knots."""
    temperature_c: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ElementNodes:
    """What of a route element is read: each node once, None where there is none. All else that it holds is not used."""

    name: Any
    own_position: Any
    flown_position: Any
    distance: Any
    relative_time: Any
    absolute_time: Any
    via: Any
    speed: Any
    level: Any
    flown_level: Any
    wind_direction: Any
    wind_speed: Any
    temperature: Any

    def each(self) -> Iterator[tuple[str, Any]]:
        """The nodes that are there, with what each is."""
        for field in fields(self):
            if (node := getattr(self, field.name)) is not None:
                yield field.name, node


def find_element_nodes(element: Any) -> ElementNodes:
    """Find what is read of a route element."""
    start, point = _find(element, "elementStartPoint"), _find(element, "point4D")
    weather, change = _find(point, "metData"), _find(element, "routeChange")
    return ElementNodes(
        name=_find_first(start, _POINT_NAMES),
        own_position=_find_position(start),
        flown_position=_find_position(point),
        distance=_find(element, "alongRouteDistance"),
        relative_time=_find(point, "time", "relativeTimeFromInitialPredictionPoint"),
        absolute_time=_find(point, "time", "absoluteTime"),
        via=_find_first(_find(element, "routeDesignatorToNextElement"), _DESIGNATORS),
        speed=_find(change, "speed", "speed"),
        level=_find_level(_find(change, "level", "level")),
        flown_level=_find_level(_find(point, "level")),
        wind_direction=_find(weather, "windDirection"),
        wind_speed=_find(weather, "windSpeed"),
        temperature=_find(weather, "temperature"),
    )


_POINT_NAMES = (
    ("aerodromeReferencePoint", "locationIndicator"),
    ("designatedPoint", "designator"),
    ("navaid", "designator"),
)
_DESIGNATORS = (
    ("standardInstrumentDeparture", "designator"),
    ("standardInstrumentArrival", "designator"),
    ("routeDesignator",),
    ("otherRouteDesignator",),
)
"""The first that is there counts."""


def read_route_element(element: Any, nodes: ElementNodes) -> RouteElement:
    """Read an element of which the nodes are found. What is missing or no figure is left out."""
    own, flown = _read_position_of(nodes.own_position), _read_position_of(nodes.flown_position)
    via, kind = _read_designator(nodes.via)
    distance, half = read_distance(nodes.distance)
    return RouteElement(
        word=_name_point(nodes),
        is_aerodrome=_find(element, "elementStartPoint", "aerodromeReferencePoint") is not None,
        position=own or flown,
        trajectory_position=flown if own and flown else None,
        distance_nm=distance,
        distance_half_nm=half,
        minutes=read_duration(text_of(nodes.relative_time)),
        absolute_time=text_of(nodes.absolute_time),
        via=via,
        via_kind=kind,
        speed=read_speed(nodes.speed),
        level=read_level(nodes.level),
        flown_level=read_level(nodes.flown_level),
        flown_ft=_read_feet(nodes.flown_level),
        wind=read_wind(nodes.wind_direction, nodes.wind_speed),
        temperature_c=read_temperature(nodes.temperature),
    )


def text_of(node: Any) -> str:
    """What stands in an element, without the blanks around it; "" where there is none."""
    return "" if node is None else (node.text or "").strip()


def local_name(node: Any) -> str:
    """The name of an element without its namespace; "" for a comment."""
    return node.tag.rpartition("}")[2] if isinstance(node.tag, str) else ""


def _find(node: Any, *path: str) -> Any:
    """The first descendant along a path of local names; None where there is none."""
    for name in path:
        if node is None:
            return None
        node = next((child for child in node if local_name(child) == name), None)
    return node


def _find_first(node: Any, paths: Sequence[tuple[str, ...]]) -> Any:
    """The first of several elements that says something; None where none does."""
    found = (_find(node, *path) for path in paths)
    return next((one for one in found if text_of(one)), None)


def _name_point(nodes: ElementNodes) -> str:
    """The word of Item 15 for a start point; "" where it has none."""
    name = text_of(nodes.name).upper()
    if is_point_name(name):
        return name
    # A position that belongs to a named place stands within that; one that stands for itself does not.
    own = nodes.own_position
    is_bare = own is not None and local_name(own.getparent().getparent()) == "elementStartPoint"
    position = _read_position_of(own) if is_bare else None
    return _write_position(position) if position else ""


def is_point_name(text: str) -> bool:
    """Whether a text can be the name of a point."""
    return bool(_NAME.fullmatch(text.upper()))


def is_moment(text: str) -> bool:
    """Whether a text is a day and a time of it."""
    return read_moment(text) is not None


def read_moment(text: str) -> dt.datetime | None:
    """A day and a time of it as XML Schema writes them; None where it is none."""
    try:
        return dt.datetime.fromisoformat(text) if _MOMENT.fullmatch(text) else None
    except ValueError:
        return None


def _find_position(node: Any) -> Any:
    """The first element below a node that is a position; None where there is none."""
    found = () if node is None else (one for one in node.iter() if local_name(one) == "pos")
    return next((one for one in found if read_position(one)), None)


def _read_position_of(node: Any) -> StatedPosition | None:
    return None if node is None else read_position(node)


def read_position(node: Any) -> StatedPosition | None:
    """A latitude and a longitude with a blank between, degrees of WGS 84; None where it is none."""
    if any(one.get("srsName", _WGS_84) != _WGS_84 for one in (node, node.getparent()) if one is not None):
        return None
    parts = text_of(node).split()
    if len(parts) != 2:
        return None
    lat, lon = (_read_number(part) for part in parts)
    if lat is None or lon is None or abs(lat) > 90.0 or abs(lon) > 180.0:
        return None
    return StatedPosition(lat, lon, max(0.5 * 10.0 ** -measure_decimals(part) for part in parts))


def _write_position(position: StatedPosition) -> str:
    """Whole degrees or minutes as Item 15 writes them; "" for what lies between."""
    lat, lon = (round(abs(degrees) * 60.0, 6) for degrees in (position.lat, position.lon))
    if max(abs(lat - round(lat)), abs(lon - round(lon))) > _MINUTES_OFF * 60.0:
        return ""
    north, east = "S" if position.lat < 0 else "N", "W" if position.lon < 0 else "E"
    (lat_deg, lat_min), (lon_deg, lon_min) = divmod(round(lat), 60), divmod(round(lon), 60)
    if lat_min or lon_min:
        return f"{lat_deg:02}{lat_min:02}{north}{lon_deg:03}{lon_min:02}{east}"
    return f"{lat_deg:02}{north}{lon_deg:03}{east}"


def _read_designator(node: Any) -> tuple[str, str]:
    """The designator, and of what it is: SID, STAR, or "" for a route."""
    kinds = {"standardInstrumentDeparture": "SID", "standardInstrumentArrival": "STAR"}
    kind = "" if node is None else kinds.get(local_name(node.getparent()), "")
    designator = text_of(node).upper()
    return ("DCT" if designator == _DIRECT and not kind else designator), kind


def read_distance(node: Any) -> tuple[float | None, float]:
    """A length in NM with half of its last digit; metres are what an element without unit is in."""
    figure = None if node is None else _read_number(node.text or "")
    divisor = None if node is None else _NM_IN.get(node.get("uom", "M"))
    if figure is None or divisor is None or figure < 0.0:
        return None, 0.0
    return figure / divisor, 0.5 * 10.0 ** -measure_decimals(node.text) / divisor


def read_speed(node: Any) -> str:
    """A speed as Item 15 writes it; "" where there is none."""
    figure = None if node is None else _read_number(node.text or "")
    if node is None or figure is None:
        return ""
    unit = node.get("uom", "")
    if unit == "MACH":
        return f"M{round(figure * 100.0):03}"
    letter = {"KM_H": "K", "KT": "N"}.get(unit)
    return f"{letter}{round(figure):04}" if letter else ""


def read_wind(direction: Any, speed: Any) -> tuple[float, float] | None:
    """Direction and speed of the wind; None where one is missing or in no unit that is known."""
    if direction is None or speed is None or direction.get("uom", "DEG") != "DEG":
        return None
    degrees, figure = _read_number(direction.text or ""), _read_number(speed.text or "")
    factor = {"KT": 1.0, "KM_H": 1000.0 / METRES_PER_NM, "M_SEC": 3600.0 / METRES_PER_NM}.get(speed.get("uom", ""))
    if degrees is None or figure is None or factor is None or not 0.0 <= degrees <= 360.0 or figure < 0.0:
        return None
    return degrees, figure * factor


def read_temperature(node: Any) -> float | None:
    """A temperature in °C; None where it is none."""
    figure = None if node is None else _read_number(node.text or "")
    if node is None or figure is None:
        return None
    return {"C": figure, "K": figure - 273.15, "F": (figure - 32.0) / 1.8}.get(node.get("uom", "C"))


def _find_level(node: Any) -> Any:
    """The first element below a node that is a level; None where there is none."""
    return next((one for one in (node if node is not None else ()) if read_level(one)), None)


def read_level(node: Any) -> str:
    """A level as Item 15 writes it; "" where it is none."""
    figure = None if node is None else _read_number(node.text or "")
    return "" if figure is None else _write_level(local_name(node), node.get("uom", ""), figure)


def _read_feet(node: Any) -> float | None:
    """A level in feet; None where it is none."""
    figure = None if node is None else _read_number(node.text or "")
    factor = None if node is None else _FEET.get(node.get("uom", ""))
    return None if figure is None or factor is None else figure * factor


_FEET = {"FL": 100.0, "FT": 1.0, "M": 1.0 / 0.3048, "SM": 10.0 / 0.3048}


def _write_level(name: str, unit: str, figure: float) -> str:
    metric = "S" if name == "flightLevel" else "M"
    forms = {
        "FL": f"F{round(figure):03}",
        "FT": f"A{round(figure / 100.0):03}",
        "M": f"{metric}{round(figure / 10.0):04}",
        "SM": f"S{round(figure):04}",
    }
    return forms.get(unit, "")


def read_duration(text: str) -> float | None:
    """A duration of XML Schema in minutes; None where it is none. Years and months but zero are none either."""
    match = _DURATION.fullmatch(text) if text else None
    if not match or match[1]:
        return None
    days, hours, minutes, seconds = (float(part or 0) for part in match.group(2, 3, 4, 5))
    return days * 1440.0 + hours * 60.0 + minutes + seconds / 60.0


def _read_number(text: str) -> float | None:
    try:
        figure = float(text)
    except ValueError:
        return None
    return figure if math.isfinite(figure) and abs(figure) < 1e9 else None
