"""Weights and fuel as a plan states them, all in one unit. Values only; nothing is added up here."""

from __future__ import annotations

from dataclasses import KW_ONLY

from routecheck.frozen_dataclass import dataclass
from routecheck.model.claims import find_half

KG_PER_UNIT = {"kg": 1.0, "lb": 0.45359237}
"""The units that weights and fuel are stated in. The pound is so defined (yard and pound agreement of 1959)."""


@dataclass(frozen=True, slots=True)
class Load:
    """Weights, fuel and take-off speeds of one flight; None = not stated. Masses are in `unit`, "" = which is not said.

    `basic_operating_weight` counts the crew unless `crew_weight` is stated beside it. What ends in `_entered` is what
    the aircraft unit shows for it.
    """

    unit: str = ""
    _: KW_ONLY
    reserve_rule: str = ""
    """The rule that the reserve is judged by, by its name in `performance.reserves`; "" = none is chosen."""
    basic_operating_weight: float | None = None
    crew_weight: float | None = None
    passengers: float | None = None
    passenger_weight: float | None = None
    """Of each of them."""
    baggage: float | None = None
    payload: float | None = None
    zero_fuel_weight: float | None = None
    take_off_weight: float | None = None
    landing_weight: float | None = None
    block_fuel: float | None = None
    taxi_fuel: float | None = None
    trip_fuel: float | None = None
    contingency_fuel: float | None = None
    alternate_fuel: float | None = None
    final_reserve_fuel: float | None = None
    extra_fuel: float | None = None
    landing_fuel: float | None = None
    """What is left in the tanks at the destination."""
    alternate_min: float | None = None
    final_reserve_min: float | None = None
    v1_kt: float | None = None
    vr_kt: float | None = None
    v2_kt: float | None = None
    zero_fuel_weight_entered: float | None = None
    take_off_weight_entered: float | None = None
    halves: tuple[tuple[str, float], ...] = ()
    """As of a Claim."""

    def get(self, name: str) -> float | None:
        """A figure by its name."""
        figure: float | None = getattr(self, name)
        return figure

    def half(self, name: str) -> float:
        """Half of the last digit to which a figure is stated: what it may be off by rounding alone."""
        return find_half(self.halves, name, self.get(name))

    @property
    def states_masses(self) -> bool:
        """Whether a weight or an amount of fuel is stated."""
        return any(self.get(name) is not None for name in LOAD_NAMES if name not in _NO_MASSES)


LOAD_NAMES = {
    "basic_operating_weight": "basic operating weight",
    "crew_weight": "crew",
    "passengers": "passengers",
    "passenger_weight": "weight of each passenger",
    "baggage": "baggage",
    "payload": "payload",
    "zero_fuel_weight": "ZFW",
    "take_off_weight": "TOW",
    "landing_weight": "LW",
    "block_fuel": "block fuel",
    "taxi_fuel": "taxi fuel",
    "trip_fuel": "trip fuel",
    "contingency_fuel": "contingency fuel",
    "alternate_fuel": "alternate fuel",
    "final_reserve_fuel": "final reserve",
    "extra_fuel": "extra fuel",
    "landing_fuel": "fuel left at the destination",
    "alternate_min": "minutes to the alternate",
    "final_reserve_min": "minutes of final reserve",
    "v1_kt": "V1",
    "vr_kt": "VR",
    "v2_kt": "V2",
    "zero_fuel_weight_entered": "ZFW as entered",
    "take_off_weight_entered": "TOW as entered",
}
"""Every figure by its name here, and as a reader calls it, in the order in which they are read out."""
_NO_MASSES = frozenset({"passengers", "alternate_min", "final_reserve_min", "v1_kt", "vr_kt", "v2_kt"})
