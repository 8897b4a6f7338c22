"""How the plane of the Picture lies in its pane: NM to pixels and back. Where it looks is not decided here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass

if TYPE_CHECKING:
    from PySide6.QtCore import QPointF

    from routecheck.arrays import Floats
    from routecheck.presentation.graticule import ChartBox


@dataclass(frozen=True, slots=True)
class Frame:
    """Where the origin of the plane is drawn, and pixels a NM. North is up, pixels count down."""

    x: float
    y: float
    scale: float
    width: float
    height: float

    def pixels(self, places: Floats) -> Floats:
        """NM of the plane, shape (n, 2), to pixels of the view."""
        return (self.x, self.y) + places * (self.scale, -self.scale)

    def place(self, spot: QPointF) -> tuple[float, float]:
        """A spot of the view in NM of the plane."""
        return (spot.x() - self.x) / self.scale, (self.y - spot.y()) / self.scale

    @property
    def seen(self) -> ChartBox:
        """What is in view: west, south, east and north edge in NM."""
        west, north = -self.x / self.scale, self.y / self.scale
        return west, north - self.height / self.scale, west + self.width / self.scale, north
