"""Which column of a table of routes is what: by our names, by the usual other ones, or as the user says."""

from __future__ import annotations

from difflib import get_close_matches
from typing import TYPE_CHECKING

from routecheck.formatting import listing, quote
from routecheck.reading.input_fields import INPUT_FIELDS
from routecheck.reading.input_format import split_choices

if TYPE_CHECKING:
    from collections.abc import Sequence

NEEDED = ("departure", "destination", "route")
FIELDS = tuple(field for field in INPUT_FIELDS if field.column)
COLUMNS = ("name", *(name for field in FIELDS for name in (field.part, field.name) if name))
_USUAL_NAMES = {
    "name": ("callsign", "call_sign", "flight", "flight_id", "aircraft_id", "aircraft_identification"),
    "departure": ("adep", "origin", "orig", "from", "dep", "departure_aerodrome", "departure_airport"),
    "destination": ("ades", "dest", "to", "arr", "arrival", "destination_aerodrome", "destination_airport"),
    "route": ("route_text", "route_string", "routing", "route_of_flight", "item_15", "item15"),
    "speed": ("cruising_speed", "cruise_speed"),
    "level": ("cruising_level", "cruise_level", "flight_level", "rfl", "fl"),
    "date": ("date_of_flight", "dof", "off_block_date"),
    "off_block": ("eobt", "off_block_time"),
    "departure_runway": ("dep_runway", "dep_rwy", "takeoff_runway"),
    "destination_runway": ("arr_runway", "arr_rwy", "landing_runway"),
    "rules": ("flight_rules",),
}
"""Other headers that lists of flights have (common practice, no source). Ours go first where both stand there."""
_ALIKE = 0.6


def name_columns(titles: Sequence[str], choices: str = "") -> tuple[list[str], str]:
    """For each title our name of the column, "" where there is none; and "" or why `choices` cannot be followed.

    `choices` are the user's own, "departure=ADEP,route=FPL": what they name is not looked for elsewhere.
    """
    names = [normalise_title(title) for title in titles]
    chosen, fault = _read_choices(titles, choices)
    found = {place: name for name, place in chosen.items()}
    for place, name in enumerate(names):
        if name in COLUMNS and name not in chosen:
            found.setdefault(place, name)
    for name, usual in _USUAL_NAMES.items():
        if name in COLUMNS and name not in found.values():
            places = [names.index(other) for other in usual if other in names]
            found |= {place: name for place in places[:1] if place not in found}
    return [found.get(place, "") for place in range(len(names))], fault


def find_rivals(titles: Sequence[str], names: Sequence[str]) -> list[tuple[int, str]]:
    """The columns that nothing reads because another one of the same meaning is read, each with our name of that."""
    found = []
    for place, (title, name) in enumerate(zip(titles, names, strict=True)):
        meant = (ours for ours, usual in _USUAL_NAMES.items() if normalise_title(title) in (ours, *usual))
        rival = next((ours for ours in meant if not name and ours in names), "")
        if rival:
            found.append((place, rival))
    return found


def normalise_title(title: str) -> str:
    """A title as names are compared: small letters, one underscore between words."""
    return "_".join(title.strip().strip("\"'\ufeff").lower().replace("-", " ").split())


def _read_choices(titles: Sequence[str], choices: str) -> tuple[dict[str, int], str]:
    """The places of the columns that the user named, and "" or what is wrong with the choice."""
    places = {title.strip().lower(): place for place, title in reversed(tuple(enumerate(titles)))}
    chosen: dict[str, int] = {}
    parts, fault = split_choices(choices)
    if fault:
        return {}, f"columns: {fault}"
    for choice in parts:
        name, _, title = choice.partition("=")
        name, title = normalise_title(name), title.strip().lower()
        if name not in COLUMNS:
            return {}, f"columns: {quote(name)} is none of {listing(COLUMNS)}{_hint(name, COLUMNS)}"
        if title not in places:
            return {}, f"columns: the header has no {quote(title)}{_hint(title, places)}"
        if name in chosen or places[title] in chosen.values():
            return {}, f"columns: {quote(choice)} says something else than what stands before it"
        chosen[name] = places[title]
    return chosen, ""


def _hint(name: str, known: Sequence[str] | dict[str, int]) -> str:
    near = get_close_matches(name, list(known), 1, _ALIKE)
    return f"; did you mean {near[0]}" if near else ""
