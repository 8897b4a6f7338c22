"""The Aircraft sheet: the few performance numbers that checks use. Values only; None = the sheet does not say."""

from __future__ import annotations

from dataclasses import KW_ONLY

from routecheck.frozen_dataclass import dataclass


@dataclass(frozen=True, slots=True)
class AircraftSheet:
    """One sheet. `typical` = the figures of a class, not of an aircraft: nothing that rests on them is ever Wrong.

    Gradients are positive both ways. Where a Mach number stands beside an airspeed the slower of the two holds.
    """

    name: str
    _: KW_ONLY
    typical: bool = False
    climb_cas_kt: float | None = None
    climb_mach: float | None = None
    cruise_tas_kt: float | None = None
    cruise_mach: float | None = None
    descent_cas_kt: float | None = None
    descent_mach: float | None = None
    greatest_climb_ft_nm: float | None = None
    greatest_descent_ft_nm: float | None = None
    usual_climb_ft_nm: float | None = None
    usual_descent_ft_nm: float | None = None
    bank_deg: float | None = None
    ceiling_ft: float | None = None
    climb_fuel_kg_h: float | None = None
    cruise_fuel_kg_h: float | None = None
    descent_fuel_kg_h: float | None = None
    holding_fuel_kg_h: float | None = None
    """At 1,500 ft above the aerodrome."""
    payload_kg: float | None = None
    zero_fuel_kg: float | None = None
    take_off_kg: float | None = None
    landing_kg: float | None = None
    tank_kg: float | None = None
