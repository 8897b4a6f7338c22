"""Limits of checks that hold for corrections too, as the user has set them. Nothing is compared here."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from routecheck.checks.airways.off_airway import AHEAD, FURTHER, off_airway
from routecheck.checks.catalogue import Limits
from routecheck.checks.names.best_edit import GAIN, best_edit

if TYPE_CHECKING:
    from collections.abc import Mapping

CLEAR_GAP = 0.5
"""A best correction this far ahead of the next at its words may be named alone; nearer ones are both named."""


@dataclass(frozen=True, slots=True)
class Thresholds:
    """What a correction must win to be said, and where an airway may have been shortened since the data was made."""

    worth_saying: float
    ahead_deg: float
    further_nm: float

    @classmethod
    def in_force(cls, changed: Mapping[str, Mapping[str, float]]) -> Thresholds:
        """The thresholds with the limits that the user has changed, by check and limit."""
        edit = Limits(best_edit.limits, changed.get(best_edit.name, {}))
        airway = Limits(off_airway.limits, changed.get(off_airway.name, {}))
        return cls(edit[GAIN], airway[AHEAD], airway[FURTHER])

    @property
    def least_gain(self) -> float:
        """Nothing is kept of a correction that wins less: it could not even stand beside one that is said."""
        return self.worth_saying - CLEAR_GAP


AS_SHIPPED = Thresholds.in_force({})
