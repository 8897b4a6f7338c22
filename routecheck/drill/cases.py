"""One route of a drill with its truth, and the truth as a line of the answer key."""

from __future__ import annotations

import json
from dataclasses import asdict
from itertools import takewhile
from typing import TYPE_CHECKING, Any

from routecheck.drill.difficulty import DIFFICULTIES, USUAL_DIFFICULTY
from routecheck.drill.entered_legs import write_legs
from routecheck.drill.error_kinds import CLEAN
from routecheck.frozen_dataclass import dataclass
from routecheck.model import RouteInput

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.drill.planters import Planted


BESIDE = "level", "departure_runway", "destination_runway"
"""What is shown beside the words of a route, as they are called in a route input too. No error is planted there."""


class NoCaseError(ValueError):
    """A line of an answer key is no case: what is wrong with it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrillCase:
    """A route as it is shown, and what is wrong with it; `kind` "clean" = nothing, and then the next three are empty.

    `words` are the wrong words, `beside` those next to them, `correction` what was meant in their place: "leave out"
    where they were typed once too often.
    """

    name: str
    departure: str
    destination: str
    route: str
    kind: str = CLEAN
    words: tuple[str, ...] = ()
    beside: tuple[str, ...] = ()
    correction: str = ""
    meant: str = ""
    """The route as it was meant, with its ends."""
    sentence: str = ""
    """What the instructor says to it; "" = what is said of its kind."""
    looks_odd: bool = False
    """Whether it is one of those that look odd and are right."""
    level: str = ""
    departure_runway: str = ""
    destination_runway: str = ""
    difficulty: int = USUAL_DIFFICULTY
    clearance: str = ""
    """The route as it was meant, in the form in which it is shown as a clearance; "" = none is shown."""
    legs: tuple[tuple[str, str], ...] = ()
    """The route as entered, leg by leg: the way to a point and the point; () = it is shown as the words typed."""
    astray: tuple[str, ...] = ()
    """Points that the route goes by for its error alone, inside an airway: pointing at one is the right place."""

    @property
    def shown_words(self) -> list[str]:
        """The words of the route in the form in which it is shown, both ends among them."""
        if self.legs:
            return [self.departure, *(word for leg in self.legs for word in (*leg[0].split(), leg[1]))]
        return [*filter(None, (self.departure, *self.route.split(), self.destination))]

    @property
    def ends(self) -> str:
        """Between which aerodromes and runways, and at what level: "XVAL 09–XVOR 27  F350"."""
        start, end = f"{self.departure} {self.departure_runway}", f"{self.destination} {self.destination_runway}"
        return "  ".join(filter(None, (f"{start.strip()}–{end.strip()}", self.level)))

    @property
    def entered(self) -> str:
        """The route as it is shown, without its ends."""
        return write_legs(self.legs, self.departure, self.destination) if self.legs else self.route

    def as_entered(self) -> RouteInput:
        """The route as entered, for the tool."""
        return self._make_input(self.departure, self.route, self.destination)

    def as_meant(self) -> RouteInput:
        """The route as it was meant, for the tool; as entered where a key does not say it with both ends."""
        words = self.meant.split()
        if len(words) < bool(self.departure) + bool(self.destination):
            return self.as_entered()
        departure, destination = self.departure and words.pop(0), self.destination and words.pop()
        return self._make_input(departure, " ".join(words), destination)

    def _make_input(self, departure: str, route: str, destination: str) -> RouteInput:
        return RouteInput(
            route,
            departure,
            destination,
            level=self.level,
            departure_runway=self.departure_runway,
            destination_runway=self.destination_runway,
        )


LEAVE_OUT = "leave out"


def clean_case(name: str, route_input: RouteInput, *, looks_odd: bool) -> DrillCase:
    """A route without an error."""
    return DrillCase(
        name=name,
        departure=route_input.departure,
        destination=route_input.destination,
        route=route_input.route,
        **{name: getattr(route_input, name) for name in BESIDE},
        meant=_whole_text(route_input),
        looks_odd=looks_odd,
    )


def planted_case(name: str, planted: Planted) -> DrillCase:
    """A route with an error planted in it."""
    wrong, clean = planted.route_input, planted.clean
    if (wrong.departure, wrong.destination) != (clean.departure, clean.destination):
        words, beside, correction = _compare_ends(wrong, clean)
    else:
        words, beside, correction = _compare_words(_words(wrong), _words(clean))
    return DrillCase(
        name=name,
        departure=wrong.departure,
        destination=wrong.destination,
        route=wrong.route,
        **{name: getattr(wrong, name) for name in BESIDE},
        kind=planted.kind,
        words=words,
        beside=beside,
        correction=correction,
        meant=_whole_text(clean),
    )


def write_case(case: DrillCase) -> str:
    """A case as a line of the answer key, without its end."""
    return json.dumps(asdict(case), ensure_ascii=False, sort_keys=True)


def read_case(line: str) -> DrillCase:
    """Read a line of an answer key. Raises NoCaseError, and ValueError where it is no JSON."""
    values: Any = json.loads(line)
    if not isinstance(values, dict):
        raise NoCaseError("it is no object")
    values = {**_ADDED, **values}
    for name in _TEXTS:
        if not isinstance(values.get(name), str):
            raise NoCaseError(f"its {name} is no text")
    for name in _LISTS:
        if not _is_list_of_texts(values.get(name)):
            raise NoCaseError(f"its {name} is no list of texts")
    difficulty = values["difficulty"]
    if not isinstance(difficulty, int) or difficulty not in DIFFICULTIES:
        raise NoCaseError("its difficulty is none")
    return DrillCase(
        **{name: values[name] for name in _TEXTS},
        words=tuple(values["words"]),
        beside=tuple(values["beside"]),
        astray=tuple(values["astray"]),
        looks_odd=values.get("looks_odd") is True,
        difficulty=difficulty,
        legs=_read_legs(values["legs"]),
    )


_TEXTS = ("name", "departure", "destination", "route", "kind", "correction", "meant", "sentence", "clearance", *BESIDE)
_LISTS = ("words", "beside", "astray")
_ADDED = {**dict.fromkeys(BESIDE, ""), "clearance": "", "astray": [], "legs": [], "difficulty": USUAL_DIFFICULTY}
"""What a key of an earlier version does not have."""


def _is_list_of_texts(found: object) -> bool:
    return isinstance(found, list) and all(isinstance(one, str) for one in found)


def _read_legs(found: object) -> tuple[tuple[str, str], ...]:
    if not isinstance(found, list) or not all(_is_list_of_texts(leg) and len(leg) == 2 for leg in found):
        raise NoCaseError("its legs are no list of pairs of texts")
    return tuple((via, to) for via, to in found)


def _words(route_input: RouteInput) -> list[str]:
    return [*filter(None, (route_input.departure, *route_input.route.split(), route_input.destination))]


def _whole_text(route_input: RouteInput) -> str:
    return " ".join(_words(route_input))


def _compare_ends(wrong: RouteInput, clean: RouteInput) -> tuple[tuple[str, ...], tuple[str, ...], str]:
    """The same for aerodromes: those that differ, the words of the route next to them, what was meant."""
    text = wrong.route.split()
    ends = ((wrong.departure, clean.departure, text[:1]), (wrong.destination, clean.destination, text[-1:]))
    differing = [end for end in ends if end[0] != end[1]]
    return (
        tuple(typed for typed, _, _ in differing),
        tuple(word for _, _, near in differing for word in near),
        " ".join(meant for _, meant, _ in differing),
    )


def _compare_words(wrong: Sequence[str], clean: Sequence[str]) -> tuple[tuple[str, ...], tuple[str, ...], str]:
    """The words that differ, those beside them, and what was meant in their place."""
    before = _count_equal(wrong, clean)
    after = min(_count_equal(wrong[::-1], clean[::-1]), len(wrong) - before, len(clean) - before)
    ends = before, len(wrong) - after
    if ends[0] == ends[1]:  # something was left out there: the words on both sides are the place
        ends = max(before - 1, 0), min(ends[1] + 1, len(wrong))
        return tuple(wrong[slice(*ends)]), (), " ".join(clean[ends[0] : len(clean) - len(wrong) + ends[1]])
    meant = " ".join(clean[before : len(clean) - after]) or LEAVE_OUT
    beside = (*wrong[max(ends[0] - 1, 0) : ends[0]], *wrong[ends[1] : ends[1] + 1])
    return tuple(wrong[slice(*ends)]), tuple(beside), meant


def _count_equal(words: Sequence[str], others: Sequence[str]) -> int:
    return len(list(takewhile(lambda pair: pair[0] == pair[1], zip(words, others, strict=False))))
