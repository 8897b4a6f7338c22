"""A FIXM message to RouteInputs: the flight, and of its routes the one that is asked for. Never two in one."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from routecheck.formatting import count, listing, quote, short
from routecheck.model import InputKind, NotUsed, PlanTotals, RouteInput
from routecheck.reading.fixm.route_elements import text_of
from routecheck.reading.fixm.route_group import ELEMENT, RouteGroup
from routecheck.reading.fixm.route_writing import find_deviation_c, find_winds, make_claims, write_route
from routecheck.reading.fixm.safe_xml import XmlElement, XmlError, iterate_elements
from routecheck.reading.fixm.unread_values import (
    BETWEEN,
    ELSEWHERE,
    NAMES_READ,
    TWICE,
    UNREADABLE,
    UnusedValues,
    name_attributes,
    name_leaf,
    name_value,
)
from routecheck.reading.input_format import InputFormat, ReadingChoices
from routecheck.reading.off_block import read_off_block

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

_EMPTY = b" \t\r\n\0\xef\xbb\xbf\xff\xfe"
"""Blanks and byte order marks."""
_GROUPS = "routeTrajectoryGroup"
_NO_ROUTE = "it has neither elements nor a text"
_OF_CAPABILITIES = {
    "standardCapabilities": 0,
    "navigationCapabilityCode": 1,
    "communicationCapabilityCode": 2,
    "datalinkCommunicationCapabilityCode": 3,
}
"""What makes up Item 10, in its order."""


@dataclass(slots=True, kw_only=True)
class _Flight:
    """What was read of a message so far. `unused` are names of elements, `paths` those of values that were seen."""

    values: dict[str, Any] = field(default_factory=dict)
    capabilities: dict[int, str] = field(default_factory=dict)
    groups: dict[str, RouteGroup] = field(default_factory=dict)
    kind: str = ""
    flight: str = ""
    unused: dict[str, None] = field(default_factory=dict)
    not_used: UnusedValues = field(default_factory=UnusedValues)
    paths: set[tuple[str, ...]] = field(default_factory=set)

    def take(self, found: XmlElement) -> None:
        """Take what an element says."""
        path, node = found.path, found.node
        if found.between:
            self.not_used.add(name_value(f"text in {path[-1]}", found.between, BETWEEN))
        if _GROUPS in path[:-1]:
            is_used = self._take_of_group(path[path.index(_GROUPS) + 1 :], node)
        elif ELEMENT in path:
            is_used = True
            if path.index(ELEMENT) == len(path) - 1:
                self.not_used.add(name_value(f"{ELEMENT} in {path[-2]}", " ".join(node.itertext()), ELSEWHERE))
        else:
            is_used = len(node) > 0 or self._take_of_flight(path, node)
        if is_used and ELEMENT not in path:
            self.unused |= dict.fromkeys(name_attributes(node))

    def _take_of_group(self, path: tuple[str, ...], node: Any) -> bool:
        group = self.groups.setdefault(path[0], RouteGroup(name=path[0]))
        is_used = group.take(path[1:], node)
        if len(path) == 1:
            group.close()
        return is_used

    def _take_of_flight(self, path: tuple[str, ...], node: Any) -> bool:
        """Take what stands in an element without others; gives whether there is a use for it."""
        text = text_of(node)
        take = _TAKERS.get(path[-2:]) or _TAKERS.get(path[-1:])
        is_known = bool(text) and (take is not None or path[-1] in _OF_CAPABILITIES)
        if not is_known:
            parent = f"{path[-2]}/" if path[-1] in _SAY_WHERE and len(path) > 1 else ""
            self.unused[f"{parent}{name_leaf(node)}"] = None
        elif path in self.paths and take is not _Flight.take_alternate:
            self.not_used.add(name_value(path[-1], text, TWICE))
        elif take:
            take(self, text)
        else:
            self.capabilities[_OF_CAPABILITIES[path[-1]]] = "S" if text == "STANDARD" else "".join(text.split())
        self.paths.add(path)
        return is_known

    def take_departure(self, text: str) -> None:
        """The first of indicator and name."""
        self._take_first("departure", text)

    def take_destination(self, text: str) -> None:
        """The first of indicator and name."""
        self._take_first("destination", text)

    def _take_first(self, end: str, text: str) -> None:
        if end in self.values:
            self.unused[f"second name of the {end}, {quote(text, 40)}"] = None
        self.values.setdefault(end, text.upper())

    def take_alternate(self, text: str) -> None:
        """One of any number."""
        self.values["alternate"] = (*self.values.get("alternate", ()), text.upper())

    def take_rules(self, text: str) -> None:
        """I, V, Y or Z."""
        if text.upper() in _RULES:
            self.values["rules"] = text.upper()
        else:
            self.not_used.add(name_value("flightRulesCategory", text, UNREADABLE))

    def take_navigation(self, text: str) -> None:
        """Codes of performance-based navigation."""
        self.values["pbn"] = "".join(text.split())

    def take_identity(self, text: str) -> None:
        """What the flight is called."""
        self.flight = text.upper()

    def take_kind(self, text: str) -> None:
        """The type of the message."""
        self.kind = text

    def take_off_block(self, text: str) -> None:
        """Day and time off-block."""
        off_block, why = read_off_block(text)
        if why:
            self.not_used.add(name_value("estimatedOffBlockTime", text, UNREADABLE))
        else:
            self.values["off_block"] = off_block


_RULES = ("I", "V", "Y", "Z")
_TAKERS: dict[tuple[str, ...], Callable[[_Flight, str], None]] = {
    ("departureAerodrome", "locationIndicator"): _Flight.take_departure,
    ("departureAerodrome", "name"): _Flight.take_departure,
    ("destinationAerodrome", "locationIndicator"): _Flight.take_destination,
    ("destinationAerodrome", "name"): _Flight.take_destination,
    ("destinationAerodromeAlternate", "locationIndicator"): _Flight.take_alternate,
    ("flightRulesCategory",): _Flight.take_rules,
    ("estimatedOffBlockTime",): _Flight.take_off_block,
    ("aircraftIdentification",): _Flight.take_identity,
    ("performanceBasedCode",): _Flight.take_navigation,
    ("FficeMessage", "type"): _Flight.take_kind,
}
"""By the last one or two names of their path."""
_SAY_WHERE = NAMES_READ | {names[-1] for names in _TAKERS}
"""What is read elsewhere, or says little without its parent."""


def read_fixm(data: bytes, name: str, choices: ReadingChoices) -> Iterator[RouteInput]:
    """The one route of a message, or of several the one that is chosen; `unread` says why there is none."""
    if not data.strip(_EMPTY):
        return
    flight = _Flight()
    try:
        for found in iterate_elements(data, ELEMENT):
            if len(found.path) == 1:
                root = found
            flight.take(found)
    except XmlError as error:
        yield RouteInput("", name=name, unread=str(error))
        return
    yield _make_input(flight, name, choices, root_name=root.path[0])


def _make_input(flight: _Flight, name: str, choices: ReadingChoices, *, root_name: str) -> RouteInput:
    groups = {key: group for key, group in flight.groups.items() if group.elements or group.route_text}
    unread = _say_unread(flight, groups, choices, root_name)
    if unread:
        ends = {key: flight.values[key] for key in ("departure", "destination") if key in flight.values}
        open_groups = () if choices.group or len(groups) < 2 else tuple(groups)
        return RouteInput("", **ends, name=flight.flight or name, unread=unread, groups=open_groups)
    key = choices.group or next(iter(groups))
    found = _fill_in(flight, groups[key], flight.flight or name, (len(groups) > 1 and key) or "")
    others = tuple(
        NotUsed(InputKind.ITEM, f"the route {other}", "", f"{key} is the one chosen" if other in groups else _NO_ROUTE)
        for other in flight.groups
        if other != key
    )
    return replace(found, not_used=(*others, *found.not_used))


def _say_unread(flight: _Flight, groups: dict[str, RouteGroup], choices: ReadingChoices, root_name: str) -> str:
    """Why there is no route to give; "" where there is one."""
    if root_name not in ("FficeMessage", "Flight"):
        return f"this is XML, but no flight of FIXM: it begins with {short(root_name, 40)}"
    if not groups:
        return f"the FIXM message{f' ({flight.kind})' if flight.kind else ''} carries no route"
    if chosen := choices.group:
        return "" if chosen in groups else f"the message has no route {quote(chosen, 40)}, only {listing(list(groups))}"
    if len(groups) == 1:
        return ""
    names = [f"{key} ({count(len(group.elements), 'element')})" for key, group in groups.items()]
    how = "say which with --group" if choices.by_option else "say which"
    return f"the message holds {len(groups)} routes, {listing(names)}: {how}"


def _fill_in(flight: _Flight, group: RouteGroup, name: str, chosen: str) -> RouteInput:
    values = dict(flight.values)
    if flight.capabilities:
        # FIXM has the codes of performance-based navigation in place of the letter R.
        letter = "R" if flight.values.get("pbn") else ""
        values["equipment"] = "".join(text for _, text in sorted(flight.capabilities.items())) + letter
    if group.minutes is not None:
        values["stated_totals"] = PlanTotals(time_min=group.minutes)
    for key, element in zip(("departure", "destination"), (*group.elements[:1], *group.elements[-1:]), strict=False):
        if element.is_aerodrome and element.word:
            values.setdefault(key, element.word)
    claims = tuple(make_claims(group.elements, values.get("departure", ""), values.get("destination", "")))
    if group.elements and group.speed and group.level:
        route = write_route(group.elements, f"{group.speed}{group.level}")
    else:
        route = write_route(group.elements, "") if group.elements else group.route_text
        values.update({name: text for name, text in (("speed", group.speed), ("level", group.level)) if text})
    return RouteInput(
        route,
        **values,
        wind=tuple(find_winds(group.elements)),
        isa_deviation_c=find_deviation_c(group.elements),
        name=name,
        title=f"route {chosen}" if chosen else "",
        claims=claims,
        remarks=tuple(_name_unused(flight, group)),
        not_used=(*flight.not_used.name_all(), *group.name_unused()),
    )


def _name_unused(flight: _Flight, group: RouteGroup) -> Iterator[str]:
    unused = flight.unused | group.unused
    if find_deviation_c(group.elements) is not None:
        yield "Of the temperatures those at the highest level are used; times rest on them throughout."
    elif any(element.temperature_c is not None for element in group.elements):
        unused["temperature"] = None
    if unused:
        yield f"Read, and used by no check: {listing(list(unused))}."
    yield from group.say_unused()
    if group.elements and group.elements[0].wind:
        yield "The wind at the first point is not used: each leg is flown with that at its end."
    if group.elements and group.route_text:
        yield "The route is that of the elements; routeText stands beside them and is not checked."


def _looks_like_xml(head: str) -> bool:
    begin = head.lstrip("\ufeff \t\r\n")[:2]
    return begin[:1] == "<" and (begin[1:] in ("?", "!") or begin[1:].isalpha())


FORMAT = InputFormat(name="fixm", suffixes=(".xml", ".fixm"), looks_like=_looks_like_xml, read=read_fixm)
