"""Route elements of FIXM to the words of Item 15, and to the claims that their figures are."""

from __future__ import annotations

from statistics import median
from typing import TYPE_CHECKING, Any

from routecheck.earth import air
from routecheck.model import Claim, InputKind, NotUsed, Wind, half_digit
from routecheck.reading.fixm.route_elements import METRES_PER_NM, read_moment

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.reading.fixm.route_elements import RouteElement, StatedPosition

_ZERO_C_K = 273.15
_ONE_LEVEL_FT, _HIGHEST_FT = 1_000.0, 60_000.0
_MOST_C = 60.0
"""What is farther off the standard atmosphere is no temperature of the air."""
_HALF_SECOND_MIN = 0.5 / 60.0
_LEAST_TO_INFER = 5


def write_route(elements: Sequence[RouteElement], speed_and_level: str) -> str:
    """The route in words, as Item 15 has it: points, and what leads from one to the next.

    Points within a SID or STAR, and those that no word can name, are left to the claims.
    """
    shown = _find_shown(elements)
    words = [speed_and_level] if speed_and_level else []
    now, last = speed_and_level, len(shown) - 1
    for number, element in enumerate(shown):
        if not (element.is_aerodrome and number in (0, last)):
            now = _add_point(words, element, now)
        if number < last:
            words.append(element.via or "DCT")
    return " ".join(words)


def _find_shown(elements: Sequence[RouteElement]) -> list[RouteElement]:
    """The elements that are words of the route."""
    named = [element for element in elements if element.word]
    return [element for before, element in zip([None, *named], named, strict=False) if not _is_within(before, element)]


def name_unwritten(elements: Sequence[RouteElement]) -> Iterator[NotUsed]:
    """What elements say of the route that no word of it can: a change at no word, a designator from no point."""
    shown = {id(element) for element in _find_shown(elements)}
    last = len(elements) - 1
    via = ""
    for number, element in enumerate(elements):
        where = f"route element {number + 1}"
        change = f"{element.speed}{element.level}"
        is_end = element.is_aerodrome and number in (0, last)
        if change and not (element.speed and element.level):
            yield NotUsed(InputKind.ITEM, f"the change to {change}", where, "speed and level are needed for one")
        elif change and (is_end or id(element) not in shown):
            yield NotUsed(InputKind.ITEM, f"the change to {change}", where, "no word of the route stands there")
        if not element.word and element.via and element.via != (via or "DCT"):
            yield NotUsed(InputKind.ITEM, f"the designator {element.via}", where, "the point has no name")
        if not element.word and element.wind:
            yield NotUsed(InputKind.ITEM, "the wind", where, "the point has no name")
        via = element.via if element.word else via
    if elements and elements[-1].via not in ("", "DCT"):
        yield NotUsed(
            InputKind.ITEM, f"the designator {elements[-1].via}", f"route element {last + 1}", "nothing follows"
        )


def _is_within(before: RouteElement | None, element: RouteElement) -> bool:
    """Whether a point lies within a SID or STAR, which comes to it and leads on from it."""
    return before is not None and bool(element.via_kind) and before.via_kind == element.via_kind


def _add_point(words: list[str], element: RouteElement, now: str) -> str:
    """Add a point with the change of speed and level there, if there is one; gives what is in force behind it."""
    change = f"{element.speed}{element.level}" if element.speed and element.level else ""
    words.append(f"{element.word}/{change}" if change and change != now else element.word)
    return change or now


def make_claims(elements: Sequence[RouteElement], departure: str, destination: str) -> Iterator[Claim]:
    """What each element states: where it is, how far along, when. A point without a word is named by its number."""
    least_half = _infer_half_nm(elements)
    begin = next((element.absolute_time for element in elements if element.absolute_time), "")
    for number, element in enumerate(elements):
        name = element.word or f"ELEMENT {number + 1}"
        if number == 0 and element.is_aerodrome:
            name = departure or name
        elif number == len(elements) - 1 and element.is_aerodrome:
            name = destination or name
        yield _make_claim(name, element, begin, least_half)
        if element.trajectory_position and element.trajectory_position != element.position:
            yield Claim(name, **_say_where(element.trajectory_position))


def _infer_half_nm(elements: Sequence[RouteElement]) -> float:
    """Half the step of the distances where all are whole kilometres, though written to more digits; 0 else."""
    metres = [element.distance_nm * METRES_PER_NM for element in elements if element.distance_nm]
    whole = len(metres) >= _LEAST_TO_INFER and all(abs(one - 1_000.0 * round(one / 1_000.0)) < 1e-3 for one in metres)
    return 500.0 / METRES_PER_NM if whole else 0.0


def _make_claim(name: str, element: RouteElement, begin: str, least_half: float) -> Claim:
    minutes = element.minutes
    if minutes is None and element.absolute_time:
        minutes = _minutes_between(begin, element.absolute_time)
    halves = []
    half = max(element.distance_half_nm, least_half)
    if element.distance_nm is not None and half != half_digit(element.distance_nm):
        halves.append(("distance_so_far_nm", half))
    if minutes is not None:
        halves.append(("time_so_far_min", _HALF_SECOND_MIN))
    return Claim(
        name,
        distance_so_far_nm=element.distance_nm,
        time_so_far_min=minutes,
        level=element.flown_level,
        halves=tuple(halves),
        **(_say_where(element.position) if element.position else {}),
    )


def _say_where(position: StatedPosition) -> dict[str, Any]:
    return {"lat": position.lat, "lon": position.lon, "precision_deg": position.precision_deg}


def _minutes_between(begin: str, moment: str) -> float | None:
    start, end = read_moment(begin), read_moment(moment)
    if start is None or end is None or (start.tzinfo is None) != (end.tzinfo is None):
        return None
    return (end - start).total_seconds() / 60.0


def find_winds(elements: Sequence[RouteElement]) -> Iterator[Wind]:
    """The winds of the legs: each that at its end, which is the one that the message gives for a point."""
    for element in elements[1:]:
        if element.wind and element.word:
            yield Wind(round(element.wind[0], 1), round(element.wind[1], 1), to=element.word)


def find_deviation_c(elements: Sequence[RouteElement]) -> float | None:
    """How much warmer than the standard atmosphere it is at the highest level of the trajectory; None = not known."""
    highest = max((one.flown_ft for one in elements if one.flown_ft is not None), default=0.0)
    found = [
        one.temperature_c - (air.temperature_k(one.flown_ft) - _ZERO_C_K)
        for one in elements
        if one.temperature_c is not None
        and one.flown_ft is not None
        and highest - _ONE_LEVEL_FT < one.flown_ft <= _HIGHEST_FT
    ]
    deviation = round(median(found), 1) if found else None
    return deviation if deviation is not None and abs(deviation) <= _MOST_C else None
