"""What stands in a route element of FIXM and cannot be read, or stands there twice. Names it; reads nothing else."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from routecheck.formatting import quote
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
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

_MOST_QUOTED = 40
UNREADABLE, TWICE, BETWEEN = "it could not be read", "it stands there before", "it stands between elements"
_IS_READABLE: dict[str, Callable[[Any], bool]] = {
    "alongRouteDistance": lambda node: read_distance(node)[0] is not None,
    "pos": lambda node: read_position((node.text or "").strip()) is not None,
    "speed": lambda node: bool(read_speed(node)),
    "flightLevel": lambda node: bool(read_level([node])),
    "altitude": lambda node: bool(read_level([node])),
    "relativeTimeFromInitialPredictionPoint": lambda node: read_duration((node.text or "").strip()) is not None,
    "windDirection": lambda node: read_wind(node.getparent()) is not None,
    "windSpeed": lambda node: read_wind(node.getparent()) is not None,
    "temperature": lambda node: read_temperature(node) is not None,
    "absoluteTime": lambda node: is_moment((node.text or "").strip()),
}
_POINTS = frozenset({"designatedPoint", "navaid", "aerodromeReferencePoint"})
_POINT_NAMES = frozenset({"designator", "locationIndicator"})


_MOST_NAMED = 1_000
"""Values of a message that are named one by one (our choice); the others are counted, so that memory is bounded."""


class UnusedValues:
    """The values that are not used, as they are found."""

    def __init__(self) -> None:
        self._named: list[NotUsed] = []
        self._more = 0

    def add(self, value: NotUsed) -> None:
        """Note one."""
        if len(self._named) < _MOST_NAMED:
            self._named.append(value)
        else:
            self._more += 1

    def name_all(self) -> Iterator[NotUsed]:
        """Each of the first, and how many more there are."""
        yield from self._named
        if self._more:
            yield NotUsed(InputKind.ITEM, f"{self._more:,} more values", "", f"the first {_MOST_NAMED:,} are named")


def name_value(name: str, text: str, because: str) -> NotUsed:
    """A value of a message that is not used."""
    return NotUsed(InputKind.ITEM, f"{name} {quote(' '.join(text.split()), _MOST_QUOTED)}", "", because)


def find_unread_values(element: Any) -> Iterator[NotUsed]:
    """The values of a route element that are none, and those that stand beside another of their name."""
    seen: set[tuple[Any, str]] = set()
    for node in element.iter():
        name, text = local_name(node), (node.text or "").strip()
        if not name or not text or len(node):
            continue
        if (node.getparent(), name) in seen:
            yield name_value(name, text, TWICE)
        elif not _is_readable(node, name, text):
            yield name_value(name, text, UNREADABLE)
        seen.add((node.getparent(), name))


def _is_readable(node: Any, name: str, text: str) -> bool:
    if name in _POINT_NAMES and local_name(node.getparent()) in _POINTS:
        return is_point_name(text)
    return name not in _IS_READABLE or _IS_READABLE[name](node)
