"""Which columns of the Leg table give way where there is no room for all of them. No widths are measured here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck import formatting

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.presentation.leg_entry import Column

_GIVE_WAY = (
    "variation_deg",
    "wind_used",
    "true_airspeed_kt",
    "ground_speed_kt",
    "speed_at_least_kt",
    "to_go_nm",
    "sum_of_known_min",
    "fuel_about_kg",
    "claimed_level",
    "sum_of_known_nm",
    "course_charted_deg",
    "time_over_utc",
    "minimum_ft",
    "course_true_deg",
    "claimed_fuel_kg",
    "claimed_time_min",
    "speed_at_most_kt",
    "claimed_less_computed_kg",
    "claimed_course_true_deg",
    "claimed_course_magnetic_deg",
    "claimed_distance_nm",
    "time_min",
    "claimed_less_computed_min",
    "planned_altitude_ft",
    "level",
    "window_low_ft",
    "claimed_less_computed_true_deg",
    "claimed_less_computed_magnetic_deg",
    "claimed_less_computed_nm",
)
"""By key, the least needed first (our choice). What is not named here, the ends of a leg, the way, the magnetic course
and the distance, stays; what a plan differs by goes after what it claims, for both make the third."""


def columns_to_hide(columns: Sequence[Column], widths: Sequence[int], room: int) -> frozenset[int]:
    """The columns to hide, by index, so that the others fit: the least needed, and no more of them than must be."""
    places = {column.key: i for i, column in enumerate(columns)}
    excess, hidden = sum(widths) - room, set[int]()
    for key in _GIVE_WAY:
        if excess <= 0:
            break
        if key in places:
            hidden.add(places[key])
            excess -= widths[places[key]]
    needless = sorted(hidden, key=lambda i: _GIVE_WAY.index(columns[i].key), reverse=True)
    for i in needless:  # what a wide one left free may do for some that went before it
        if excess + widths[i] <= 0:
            hidden.remove(i)
            excess += widths[i]
    return frozenset(hidden)


def describe_hidden(columns: Sequence[Column], hidden: frozenset[int]) -> tuple[str, str]:
    """How many columns are hidden, and which, in words; "" where none is."""
    if not hidden:
        return "", ""
    names = [columns[i].head for i in sorted(hidden)]
    return f"{len(hidden)} of {len(columns)} columns hidden: show all", f"Hidden: {formatting.listing(names)}"
