"""One of the routes that a FIXM message holds, as its elements come: what is read, and what of it is not used."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from routecheck.formatting import count, listing
from routecheck.model import InputKind, NotUsed
from routecheck.reading.fixm.route_elements import (
    RouteElement,
    find_element_nodes,
    read_duration,
    read_level,
    read_route_element,
    read_speed,
    text_of,
)
from routecheck.reading.fixm.route_writing import name_unwritten
from routecheck.reading.fixm.unread_values import (
    ELSEWHERE,
    TWICE,
    UNREADABLE,
    UnusedValues,
    find_unread_values,
    name_leaf,
    name_value,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

ELEMENT = "element"
_INFORMATION_NAME = "routeInformation"
_MOST_ELEMENTS = 10_000
"""Of one route (our choice, as of the words of a route)."""


@dataclass(slots=True, kw_only=True)
class RouteGroup:
    """One route of a message. `unused` are names outside its elements, `unused_in_elements` those within, counted."""

    name: str
    elements: list[RouteElement] = field(default_factory=list)
    route_text: str = ""
    speed: str = ""
    level: str = ""
    minutes: float | None = None
    not_used: UnusedValues = field(default_factory=UnusedValues)
    unused: dict[str, None] = field(default_factory=dict)
    unused_in_elements: Counter[str] = field(default_factory=Counter)
    is_closed: bool = False
    _left_out: int = 0
    _of_a_second: int = 0
    _last_number: int = -1

    def take(self, path: tuple[str, ...], node: Any) -> bool:
        """Take an element at a path within the route; () is the route. Gives whether it is used or holds others."""
        if path == (ELEMENT,):
            self._take_route_element(node)
        elif ELEMENT in path:
            if path.index(ELEMENT) == len(path) - 1:
                text = " ".join(node.itertext())
                self.not_used.add(name_value(f"{ELEMENT} in {path[-2]}", text, ELSEWHERE))
        elif len(node) == 0:
            return self._take_leaf(path, node)
        return True

    def close(self) -> None:
        """Say that the route has ended: what another of its name holds is not used."""
        self.is_closed = True

    def _take_leaf(self, path: tuple[str, ...], node: Any) -> bool:
        name, read = "", None
        if path[:1] == (_INFORMATION_NAME,):
            name, read = _INFORMATION.get(path[1:], _LEVEL if path[1:-1] == ("cruisingLevel",) else ("", None))
        if read is None or not text_of(node):
            self.unused[name_leaf(node)] = None
            return False
        self._take_information(name, read(node), node, path[-1])
        return True

    def _take_information(self, name: str, value: Any, node: Any, called: str) -> None:
        if self.is_closed or getattr(self, name) not in ("", None):
            self.not_used.add(name_value(called, text_of(node), TWICE))
        elif value in ("", None):
            self.not_used.add(name_value(called, text_of(node), UNREADABLE))
        else:
            setattr(self, name, value)

    def _take_route_element(self, element: Any) -> None:
        if self.is_closed:
            self._of_a_second += 1
            return
        if len(self.elements) >= _MOST_ELEMENTS:
            self._left_out += 1
            return
        self._look_at_number(element.get("seqNum"))
        nodes = find_element_nodes(element)
        self.elements.append(read_route_element(element, nodes))
        self.unused_in_elements.update({*find_unread_values(element, nodes, self.not_used)})

    def _look_at_number(self, number: str | None) -> None:
        """Elements are read in the order in which they stand: say where their numbers have another."""
        if number is None:
            return
        if number.isdecimal() and len(number) < len("1000000000") and int(number) > self._last_number:
            self._last_number = int(number)
        else:
            self.not_used.add(name_value("seqNum", number, "the elements are read in the order in which they stand"))

    def say_unused(self) -> Iterator[str]:
        """What of its elements no check uses, in a sentence."""
        if self.unused_in_elements:
            names = [f"{name} ({number:,})" for name, number in self.unused_in_elements.items()]
            yield f"Read in {count(len(self.elements), 'route element')}, and used by no check: {listing(names)}."

    def name_unused(self) -> Iterator[NotUsed]:
        """What of it could not be read, or finds no place in the route. To be asked once, when all of it is read."""
        for value in name_unwritten(self.elements):
            self.not_used.add(value)
        yield from self.not_used.name_all()
        if self._left_out:
            because = f"of one route no more than {_MOST_ELEMENTS:,} are read"
            yield NotUsed(InputKind.ITEM, count(self._left_out, "route element"), "", because)
        if self._of_a_second:
            name = f"{count(self._of_a_second, 'route element')} of a second route {self.name}"
            yield NotUsed(InputKind.ITEM, name, "", "the first is the one that is read")


_Read = tuple[str, "Callable[[Any], object] | None"]
_LEVEL: _Read = ("level", read_level)
_INFORMATION: dict[tuple[str, ...], _Read] = {
    ("cruisingLevel",): _LEVEL,
    ("cruisingSpeed",): ("speed", read_speed),
    ("totalEstimatedElapsedTime",): ("minutes", lambda node: read_duration(text_of(node))),
    ("routeText",): ("route_text", text_of),
}
"""What is read of the information about a route: where it goes, and how it is read."""
