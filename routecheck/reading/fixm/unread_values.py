"""What stands in a flight of FIXM and is not used: unreadable, there twice, unknown. It is named here."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Any

from routecheck.formatting import count, quote
from routecheck.model import InputKind, NotUsed
from routecheck.reading.fixm.route_elements import (
    is_moment,
    is_point_name,
    local_name,
    read_distance,
    read_duration,
    read_level,
    read_position,
    read_speed,
    read_temperature,
    read_wind,
    text_of,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from routecheck.reading.fixm.route_elements import ElementNodes

_MOST_QUOTED = 40
UNREADABLE, TWICE, BETWEEN = "it could not be read", "it stands there before", "it stands between elements"
ELSEWHERE = "nothing is read there"
_IS_READABLE: dict[str, Callable[[str, Any], bool]] = {
    "name": lambda text, _: is_point_name(text),
    "distance": lambda _, node: read_distance(node)[0] is not None,
    "relative_time": lambda text, _: read_duration(text) is not None,
    "absolute_time": lambda text, _: is_moment(text),
    "speed": lambda _, node: bool(read_speed(node)),
    "temperature": lambda _, node: read_temperature(node) is not None,
}
"""Of the nodes of a route element. Positions and levels that cannot be read are none of these nodes."""
_POSITIONS_AND_LEVELS: dict[str, Callable[[Any], object]] = {
    "pos": read_position,
    "flightLevel": read_level,
    "altitude": read_level,
}
NAMES_READ = frozenset(
    {"locationIndicator", "designator", "pos", "routeDesignator", "otherRouteDesignator", "speed", "flightLevel"}
    | {"altitude", "absoluteTime", "relativeTimeFromInitialPredictionPoint", "alongRouteDistance", "windDirection"}
    | {"windSpeed", "temperature"}
)
"""What looks as if it were of the route wherever it stands."""
_ATTRIBUTES_READ = {
    "uom": {"alongRouteDistance", "speed", "cruisingSpeed", "flightLevel", "altitude"}
    | {"windDirection", "windSpeed", "temperature"},
    "srsName": {"pos", "position", "referencePoint"},
    "seqNum": {"element"},
}
"""Attributes that are read, and of which elements."""
_OF_XML = ("{http://www.w3.org/2001/XMLSchema-instance}", "{http://www.w3.org/XML/1998/namespace}")
"""What speaks of the XML and not of the flight."""


_MOST_NAMED = 1_000
"""Values of a message that are named one by one (our choice); the others are counted, so that memory is bounded."""


class UnusedValues:
    """The values that are not used, as they are found: each, or of many alike how many."""

    def __init__(self) -> None:
        self._named: list[NotUsed] = []
        self._more = 0
        self._alike: Counter[tuple[str, str]] = Counter()

    def add(self, value: NotUsed) -> None:
        """Note one."""
        if len(self._named) < _MOST_NAMED:
            self._named.append(value)
        else:
            self._more += 1

    def count_alike(self, name: str, because: str) -> None:
        """Note one of the many route elements that hold a thing of this name."""
        self._alike[name, because] += 1

    def name_all(self) -> Iterator[NotUsed]:
        """Each of the first, and how many more there are."""
        yield from self._named
        if self._more:
            yield NotUsed(InputKind.ITEM, f"{self._more:,} more values", "", f"the first {_MOST_NAMED:,} are named")
        for (name, because), number in self._alike.items():
            yield NotUsed(InputKind.ITEM, name, count(number, "route element"), because)


def name_value(name: str, text: str, because: str) -> NotUsed:
    """A value of a message that is not used."""
    return NotUsed(InputKind.ITEM, f"{name} {quote(' '.join(text.split()), _MOST_QUOTED)}", "", because)


def find_unread_values(element: Any, nodes: ElementNodes, noted: UnusedValues) -> Iterator[str]:
    """Note what of a route element looks as if it were read and is not; gives the names of all else."""
    read = {node for _, node in nodes.each()}
    unreadable = set(_find_unreadable(nodes))
    paths = {_path_within(element, node) for node in read}
    for node in element.iter("{*}*"):
        is_leaf, name = not len(node), local_name(node)
        if node in read or not is_leaf:
            yield from name_attributes(node)
        if not is_leaf or (node in read and node not in unreadable):
            continue
        path = _path_within(element, node)
        if node in unreadable or _is_no_position_or_level(node, name):
            noted.add(name_value(name, text_of(node), UNREADABLE))
        elif path in paths and text_of(node):
            noted.add(name_value(name, text_of(node), TWICE))
        elif name in NAMES_READ:
            noted.count_alike("/".join(path), ELSEWHERE)
        else:
            yield name_leaf(node)


def _find_unreadable(nodes: ElementNodes) -> Iterator[Any]:
    for name, node in nodes.each():
        if name in _IS_READABLE and text_of(node) and not _IS_READABLE[name](text_of(node), node):
            yield node
    if read_wind(nodes.wind_direction, nodes.wind_speed) is None:
        yield from (nodes.wind_direction, nodes.wind_speed)


def _is_no_position_or_level(node: Any, name: str) -> bool:
    read = _POSITIONS_AND_LEVELS.get(name)
    return bool(read and text_of(node) and not read(node))


def _path_within(element: Any, node: Any) -> tuple[str, ...]:
    """The names from an element down to one that it holds, without its own."""
    path: list[str] = []
    while node is not element:
        path.append(local_name(node))
        node = node.getparent()
    return tuple(reversed(path))


def name_leaf(node: Any) -> str:
    """What a remark calls an element that no check uses."""
    return local_name(node) if text_of(node) else f"{local_name(node)} (empty)"


def name_attributes(node: Any) -> Iterator[str]:
    """The attributes of an element that are not read, with its name."""
    for key in node.attrib:
        name = key.rpartition("}")[2]
        if not key.startswith(_OF_XML) and local_name(node) not in _ATTRIBUTES_READ.get(name, ()):
            yield f"attribute {name} of {local_name(node)}"
