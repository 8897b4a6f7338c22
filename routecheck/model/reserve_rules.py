"""Rules for the reserve of fuel, chosen by name. Figures of the rules only.

They are those of 14 CFR 91.151, 91.167, 121.639 and 121.645, and of ICAO Annex 6 Part I, 4.3.6 (the last as restated by
States: paragraph numbers differ by edition).
"""

from __future__ import annotations

from dataclasses import KW_ONLY

from routecheck.frozen_dataclass import dataclass


@dataclass(frozen=True, slots=True)
class ReserveRule:
    """What a rule asks for beyond the trip. `minutes` = the final reserve, at cruise or holding at 1,500 ft."""

    name: str
    citation: str
    """Its key in the register of citations."""
    minutes: float
    _: KW_ONLY
    is_holding: bool = False
    with_alternate: bool = True
    time_share: float = 0.0
    """Of the time to the destination, to be flown once more."""
    trip_share: float = 0.0
    """Of the trip fuel, as contingency fuel; at least `least_holding_min`."""
    least_holding_min: float = 0.0


RESERVE_RULES = {
    rule.name: rule
    for rule in (
        ReserveRule("91.151 day", "vfr-reserve", 30.0, with_alternate=False),
        ReserveRule("91.151 night", "vfr-reserve", 45.0, with_alternate=False),
        ReserveRule("91.167", "ifr-reserve", 45.0),
        ReserveRule("91.167 helicopter", "ifr-reserve", 30.0),
        ReserveRule("121.639", "domestic-reserve", 45.0),
        ReserveRule("121.645", "flag-reserve", 30.0, is_holding=True, time_share=0.10),
        ReserveRule(
            "Annex 6 turbine", "annex-6-reserve", 30.0, is_holding=True, trip_share=0.05, least_holding_min=5.0
        ),
        ReserveRule("Annex 6 piston", "annex-6-reserve", 45.0, trip_share=0.05, least_holding_min=5.0),
    )
}
