"""What was changed since the last look at a route, and what each change undoes. Only inputs are compared here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.formatting import short
from routecheck.model import LOAD_NAMES, Load

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import RouteInput

_TEXTS = (
    ("departure", "Departure", "the whole departure, the field's elevation, distance and times"),
    ("destination", "Destination", "the whole arrival, alternates, distance, times and fuel"),
    (
        "departure_runway",
        "Departure runway",
        "SID branch, first turn, first altitude, take-off figures, engine-failure route",
    ),
    (
        "destination_runway",
        "Destination runway",
        "STAR branch, approach, last altitudes, landing figures, missed approach",
    ),
    ("approach", "Approach", "its transition and altitudes, minima, missed approach"),
    ("speed", "Speed", "times and fuel, turns on short legs"),
    ("level", "Level", "times and fuel, minima, level for the direction, windows of the arrival"),
    ("first_altitude", "Cleared first", "the altitude set, windows and minima of the departure"),
    ("aircraft_sheet", "Aircraft sheet", "everything reckoned with its figures: times, fuel, gradients, limits"),
    ("alternate_route", "Route to the alternate", "alternate fuel"),
)
"""Values beside the text: attribute, what it is called, what has to be looked at again."""
_WEIGHTS = frozenset({"zero_fuel_weight", "take_off_weight", "payload", "basic_operating_weight"})


def changes_since(before: RouteInput, now: RouteInput) -> tuple[str, ...]:
    """A sentence for every change: "Departure runway 09 → 27: look again at SID branch, first turn …"."""
    return tuple(_changes(before, now))


def _changes(before: RouteInput, now: RouteInput) -> Iterator[str]:
    if before.route.split() != now.route.split():
        yield _sentence(
            "Route", *_differing_words(before.route, now.route), "distances, times and fuel, the read-across"
        )
    for name, what, again in _TEXTS:
        old, new = getattr(before, name), getattr(now, name)
        if old != new:
            yield _sentence(what, old, new, again)
    if before.alternate != now.alternate:
        yield _sentence("Alternate", " ".join(before.alternate), " ".join(now.alternate), "alternate fuel and reserve")
    if before.wind != now.wind:
        yield "Wind: look again at times and fuel."
    if before.off_block != now.off_block:
        yield "Off-block time: look again at times over, data cycle and level of the day."
    if before.windows != now.windows:
        yield "Altitude windows: look again at the Side view, and at the altitudes set."
    yield from _changes_of_load(before.load or Load(), now.load or Load())


def _changes_of_load(before: Load, now: Load) -> Iterator[str]:
    if before.unit != now.unit:
        yield _sentence("Unit of weights", before.unit, now.unit, "every weight and all fuel")
    for name, what in LOAD_NAMES.items():
        old, new = before.get(name), now.get(name)
        if old != new:
            again = "take-off speeds, limits, fuel and levels" if name in _WEIGHTS else "the sums, and what was entered"
            yield _sentence(what[:1].upper() + what[1:], _write(old), _write(new), again)


def _write(figure: float | None) -> str:
    return "" if figure is None else f"{figure:,g}"


def _sentence(what: str, old: str, new: str, again: str) -> str:
    return f"{what} {short(old, 60) or 'none'} → {short(new, 60) or 'none'}: look again at {again}."


def _differing_words(before: str, now: str) -> tuple[str, str]:
    """The words of both between what is the same at the beginning and at the end."""
    old, new = before.split(), now.split()
    first = next(
        (i for i, pair in enumerate(zip(old, new, strict=False)) if pair[0] != pair[1]), min(len(old), len(new))
    )
    last = 0
    while last < min(len(old), len(new)) - first and old[-1 - last] == new[-1 - last]:
        last += 1
    return " ".join(old[first : len(old) - last]), " ".join(new[first : len(new) - last])
