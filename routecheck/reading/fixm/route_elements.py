"""One element of a FIXM route or trajectory: its point, what leads on from it, its figures. FIXM 4.2 and 4.3."""

from __future__ import annotations

import datetime as dt
import math
import re
from typing import TYPE_CHECKING, Any

from routecheck.frozen_dataclass import dataclass
from routecheck.reading.figures import measure_decimals

if TYPE_CHECKING:
    from collections.abc import Iterator

METRES_PER_NM = 1852.0
_NM_IN = {"M": METRES_PER_NM, "NM": 1.0, "KM": METRES_PER_NM / 1000.0, "FT": METRES_PER_NM / 0.3048}
"""How much of each unit is a NM."""
_MINUTES_OFF = 1e-5
_DIRECT = "DIRECT"
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


def read_route_element(node: Any) -> RouteElement:
    """Read an element. What is missing or no figure is left out."""
    start = _find(node, "elementStartPoint")
    own, flown = _find_position(start), _find_position(_find(node, "point4D"))
    via, kind = _read_designator(_find(node, "routeDesignatorToNextElement"))
    distance, half = read_distance(_find(node, "alongRouteDistance"))
    time = _find(node, "point4D", "time")
    change = _find(node, "routeChange")
    return RouteElement(
        word=_name_point(start),
        is_aerodrome=_find(start, "aerodromeReferencePoint") is not None,
        position=own or flown,
        trajectory_position=flown if own and flown else None,
        distance_nm=distance,
        distance_half_nm=half,
        minutes=read_duration(_text(time, "relativeTimeFromInitialPredictionPoint")),
        absolute_time=_text(time, "absoluteTime"),
        via=via,
        via_kind=kind,
        speed=read_speed(_find(change, "speed", "speed")),
        level=read_level(_find(change, "level", "level")),
        flown_level=read_level(_find(node, "point4D", "level")),
        flown_ft=_read_feet(_find(node, "point4D", "level")),
        wind=read_wind(_find(node, "point4D", "metData")),
        temperature_c=read_temperature(_find(node, "point4D", "metData", "temperature")),
    )


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


def _text(node: Any, *path: str) -> str:
    found = _find(node, *path)
    return "" if found is None else (found.text or "").strip()


def _name_point(start: Any) -> str:
    """The word of Item 15 for a start point; "" where it has none."""
    names = (
        _text(start, "aerodromeReferencePoint", "locationIndicator"),
        _text(start, "designatedPoint", "designator"),
        _text(start, "navaid", "designator"),
    )
    name = next(filter(None, names), "").upper()
    if is_point_name(name):
        return name
    position = read_position(_text(start, "position", "pos"))
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


def _find_position(node: Any) -> StatedPosition | None:
    """The first position anywhere below a node."""
    if node is None:
        return None
    for one in node.iter():
        if local_name(one) == "pos" and (position := read_position((one.text or "").strip())):
            return position
    return None


def read_position(text: str) -> StatedPosition | None:
    """A latitude and a longitude with a blank between, degrees; None where it is none."""
    parts = text.split()
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
    if sid := _text(node, "standardInstrumentDeparture", "designator"):
        return sid.upper(), "SID"
    if star := _text(node, "standardInstrumentArrival", "designator"):
        return star.upper(), "STAR"
    designator = (_text(node, "routeDesignator") or _text(node, "otherRouteDesignator")).upper()
    return ("DCT" if designator == _DIRECT else designator), ""


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


def read_wind(node: Any) -> tuple[float, float] | None:
    """Direction and speed of the wind; None where one is missing or in no unit that is known."""
    direction, speed = _find(node, "windDirection"), _find(node, "windSpeed")
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


def read_level(node: Any) -> str:
    """A level as Item 15 writes it; "" where there is none."""
    for one in node if node is not None else ():
        figure = _read_number(one.text or "")
        unit = one.get("uom", "")
        if figure is not None:
            return _write_level(local_name(one), unit, figure)
    return ""


def _read_feet(node: Any) -> float | None:
    """A level in feet; None where there is none."""
    for one in node if node is not None else ():
        figure, factor = _read_number(one.text or ""), _FEET.get(one.get("uom", ""))
        if figure is not None and factor is not None:
            return figure * factor
    return None


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


def leaf_names(node: Any) -> Iterator[str]:
    """The names of all elements with text below a node, itself included."""
    for one in node.iter():
        if not len(one) and (one.text or "").strip() and local_name(one):
            yield local_name(one)
