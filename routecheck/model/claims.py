"""What a plan states and we can work out ourselves: figures of a leg, of the whole flight, times to boundaries."""

from __future__ import annotations

from dataclasses import KW_ONLY, dataclass
from decimal import Decimal


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
    lat: float | None = None
    lon: float | None = None
    precision_deg: float = 0.0
    level: str = ""


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


def half_digit(figure: float) -> float:
    """Half of the last digit that a figure shows: 0.05 of 31.5; 0.5 of 31, and of 31.0, whose zero may be nobody's."""
    exponent = Decimal(repr(figure)).normalize().as_tuple().exponent
    return 0.5 * 10.0 ** min(int(exponent), 0)
