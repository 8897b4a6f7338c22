"""Wind as it is given. Values only."""

from __future__ import annotations

from routecheck.frozen_dataclass import dataclass


@dataclass(frozen=True, slots=True)
class Wind:
    """Where the wind comes from, degrees true, and its speed, knots. `level` as filed ("F350"), "" = at all levels.

    `to` names the point at the end of the one leg that it is given for, "" = for all legs.
    """

    from_deg_true: float
    speed_kt: float
    level: str = ""
    to: str = ""
