"""Altitude windows: the lowest and highest height allowed at a point, coded or stated. Values only."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Window:
    """Heights allowed at a point, feet, None = open, "at" = twice the same. `procedure` coded it; "" = it was typed."""

    point: str
    low_ft: float | None = None
    high_ft: float | None = None
    procedure: str = ""

    @property
    def typed(self) -> bool:
        """Whether a user or a plan states it, not the data."""
        return not self.procedure
