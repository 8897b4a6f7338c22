"""Altitude windows at points and published minima along legs. Values only."""

from __future__ import annotations

from routecheck.frozen_dataclass import dataclass


@dataclass(frozen=True, slots=True)
class AltitudeWindow:
    """The altitudes allowed at a point, feet; None = open, "at" = twice the same.

    `procedure` codes it; "" = it was typed.
    """

    point: str
    low_ft: float | None = None
    high_ft: float | None = None
    procedure: str = ""

    @property
    def typed(self) -> bool:
        """Whether a user or a plan states it, not the data."""
        return not self.procedure


@dataclass(frozen=True, slots=True)
class GridCell:
    """A cell of one degree that a leg crosses, from share to share of its length (0 to 1, within 0.1 NM).

    `lat` and `lon` are its south-west corner in whole degrees; `mora_ft` the grid minimum off-route altitude, feet,
    None = the data has none or says unknown.
    """

    lat: int
    lon: int
    begins: float
    ends: float
    mora_ft: float | None


@dataclass(frozen=True, slots=True)
class LegMinima:
    """What is published of altitudes along one leg, feet; None = unknown or not given, never zero.

    `minimum_ft` and `maximum_ft` are those of the airway's segment in the direction flown, None off airways too;
    `cells` all cells the leg crosses or runs along, in flown order, () where its path is not fixed.
    """

    on_airway: bool = False
    minimum_ft: float | None = None
    maximum_ft: float | None = None
    cells: tuple[GridCell, ...] = ()

    @property
    def mora_ft(self) -> float | None:
        """The highest known grid MORA along the leg; None where none is known."""
        return max((cell.mora_ft for cell in self.cells if cell.mora_ft is not None), default=None)

    @property
    def mora_in_full(self) -> bool:
        """Whether the grid MORA of every cell along the leg is known."""
        return bool(self.cells) and all(cell.mora_ft is not None for cell in self.cells)
