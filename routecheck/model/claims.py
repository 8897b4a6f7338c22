"""What a plan states and we can work out ourselves: figures of a leg, of the whole flight, times to boundaries."""

from __future__ import annotations

from dataclasses import KW_ONLY
from decimal import Decimal

from routecheck.frozen_dataclass import dataclass


@dataclass(frozen=True, slots=True)
class Claim:
    """What the plan states about one leg and the point `to` at its end; None = not stated. Positions in degrees.

    `precision_deg` is half the last digit of the position as it was written.
    """

    to: str
    _: KW_ONLY
    course_true_deg: float | None = None
    course_magnetic_deg: float | None = None
    distance_nm: float | None = None
    time_min: float | None = None
    fuel_kg: float | None = None
    ground_speed_kt: float | None = None
    distance_so_far_nm: float | None = None
    """From the departure to the end of the leg; likewise `time_so_far_min`."""
    distance_left_nm: float | None = None
    """From the end of the leg to the destination; likewise `time_left_min`."""
    time_so_far_min: float | None = None
    time_left_min: float | None = None
    fuel_left_kg: float | None = None
    """In the tanks at the end of the leg."""
    lat: float | None = None
    lon: float | None = None
    precision_deg: float = 0.0
    level: str = ""
    halves: tuple[tuple[str, float], ...] = ()
    """(name, half of the last digit as it was written) of figures that do not show it themselves: 64.0."""

    @property
    def is_unnamed(self) -> bool:
        """Whether it is about a place on the way without a name of its own, as the top of a climb: "ELEMENT 8"."""
        return " " in self.to

    def half(self, name: str) -> float:
        """Half of the last digit to which a figure is stated: what it may be off by rounding alone."""
        return find_half(self.halves, name, getattr(self, name))


@dataclass(frozen=True, slots=True)
class ElapsedTime:
    """A time that a plan gives for a place: minutes from take-off to a point or boundary, or of a delay there."""

    at: str
    time_min: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanTotals:
    """What a plan states of the flight as a whole; None = not stated."""

    distance_nm: float | None = None
    time_min: float | None = None
    fuel_kg: float | None = None
    endurance_min: float | None = None
    halves: tuple[tuple[str, float], ...] = ()
    """As of a Claim."""

    def half(self, name: str) -> float:
        """Half of the last digit to which a figure is stated: what it may be off by rounding alone."""
        return find_half(self.halves, name, getattr(self, name))


def half_digit(figure: float) -> float:
    """Half of the last digit that a figure shows: 0.05 of 31.5; 0.5 of 31, and of 31.0, whose zero may be nobody's."""
    exponent = Decimal(repr(figure)).normalize().as_tuple().exponent
    return 0.5 * 10.0 ** min(int(exponent), 0)


def find_half(halves: tuple[tuple[str, float], ...], name: str, figure: float | None) -> float:
    """The half of a figure that is noted by its name, else what its digits show."""
    return next((half for key, half in halves if key == name), half_digit(figure or 0.0))
