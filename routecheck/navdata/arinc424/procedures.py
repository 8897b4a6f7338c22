"""Decodes coded legs: the records of one SID, STAR or approach become its branches. No path is computed here.

Column numbers in comments are those of ARINC 424-18, from 1, as checked on the U.S. file, cycle 2301. Records come from
column 13 on, as the reader put them into the airport's block.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck.model import (
    AltitudeLimits,
    CodedBranch,
    CodedLeg,
    LegType,
    Part,
    Place,
    PlaceKind,
    SpeedLimit,
)
from routecheck.navdata.arinc424.fields import (
    BadFieldError,
    parse_altitude,
    parse_position,
    parse_tenths,
    parse_variation,
    parse_whole,
)
from routecheck.navdata.arinc424.records import reference
from routecheck.navdata.data_reader import TerminalFixes

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from routecheck.navdata.tables import Records

    Find = Callable[[str, str, str], Place | None]

_FIRST, _LAST = 13, 118
_LETTERS = {"SID": "D", "STAR": "E", "APPROACH": "F"}
_PARTS = {
    "D": {"1": Part.RUNWAY, "4": Part.RUNWAY, "T": Part.RUNWAY, "2": Part.COMMON, "5": Part.COMMON}
    | dict.fromkeys("36V", Part.TRANSITION),
    "E": {"3": Part.RUNWAY, "6": Part.RUNWAY, "2": Part.COMMON, "5": Part.COMMON}
    | dict.fromkeys("14", Part.TRANSITION),
    "F": {"A": Part.TRANSITION},
}
_LANDING_AIDS = {"PI": ("I", (33, 51)), "D ": (" ", (56, 74))}
"""By section: the letter in column 13 and where the position stands."""
_RUNWAY = re.compile(r"RW\d\d")
_LEG_TYPES = {leg_type.value: leg_type for leg_type in LegType}


class Arinc424Procedures:
    """The AirportProcedures of an airport: its records of coded legs and landing aids, from column 13 on."""

    def __init__(self, airport: str, lines: Sequence[str], records: Records) -> None:
        self._airport, self._records = airport, records
        self._coded = [line for line in lines if line[:1] in _PARTS]
        self._landing_aids = [line for line in lines if line[:1] not in _PARTS]

    def branches(self, kind: str, name: str) -> tuple[CodedBranch, ...]:
        """As in AirportProcedures; branches come in the order of the file, legs by their sequence numbers."""
        head = f"{_LETTERS[kind]}{name:<6}"
        own = [line.ljust(_LAST - _FIRST + 1) for line in self._coded if line.startswith(head)]
        groups: dict[tuple[str, str], list[str]] = {}
        for line in own:
            groups.setdefault((_text(line, 20, 20), _text(line, 21, 25)), []).append(line)  # route type, transition
        return tuple(
            _make_branch(_part_by_route_type(kind, route_type, ident), ident, self._legs(lines))
            for (route_type, ident), lines in groups.items()
        )

    def terminal_fixes(self) -> TerminalFixes:
        """As in AirportProcedures. Nothing is decoded: a line costs a few slices."""
        feeders: set[str] = set()
        others: set[str] = set()
        branch, missed = "", False
        for line in self._coded:
            if line[:13] != branch:
                branch, missed = line[:13], False
            missed = missed or line[29:30] == "M"  # column 42: the first leg of the missed approach
            if not missed:
                others.add(line[17:22].rstrip())
            if line[:1] == "F" and line[7:8] == "A":
                feeders.add(line[8:13].rstrip())
        return TerminalFixes(frozenset(feeders - {""}), frozenset((feeders | others) - {""}))

    def _legs(self, lines: Sequence[str]) -> tuple[CodedLeg, ...]:
        missed = False
        legs = []
        for line in sorted(lines, key=_sequence_number):
            missed = missed or _columns(line, 42, 42) == "M"
            legs.append(_decode_leg(line, self._place, missed=missed))
        return tuple(legs)

    def _place(self, section: str, ident: str, region: str) -> Place | None:
        """What a leg refers to."""
        records, airport = self._records, self._airport
        if section == "PA":
            return records.airports.get(ident)
        if section == "PG":
            runway = records.runways.get(airport, {}).get(ident.removeprefix("RW"))
            return runway.threshold(airport) if runway else None
        return records.places.get(reference(section, airport, ident, region)) or self._landing_aid(section, ident)

    def _landing_aid(self, section: str, ident: str) -> Place | None:
        """A localizer (section PI), or the DME that goes with one (section D)."""
        if section not in _LANDING_AIDS:
            return None
        letter, at = _LANDING_AIDS[section]
        for line in self._landing_aids:
            if line[:1] == letter and _text(line, 14, 17) == ident:
                try:
                    lat, lon = parse_position(_columns(line, *at))
                except BadFieldError:
                    continue
                if section != "PI":
                    return Place(ident, lat, lon, PlaceKind.DME, airport=self._airport)
                aligned = parse_variation(_columns(line, 91, 95))
                return Place(ident, lat, lon, PlaceKind.LOCALIZER, airport=self._airport, declination_deg=aligned)
        return None


def _part_by_route_type(kind: str, route_type: str, ident: str) -> Part:
    """What a branch is by its route type, or where that is unknown by the ident of its transition."""
    known = _PARTS[_LETTERS[kind]].get(route_type)
    if known or kind == "APPROACH":
        return known or Part.COMMON
    if ident in ("", "ALL"):
        return Part.COMMON
    return Part.RUNWAY if _RUNWAY.match(ident) else Part.TRANSITION


def _make_branch(part: Part, ident: str, legs: tuple[CodedLeg, ...]) -> CodedBranch:
    """RW08B is for all parallels of 08, ALL and blank for every runway."""
    runway = "" if part is Part.TRANSITION or ident == "ALL" else ident.removeprefix("RW")
    return CodedBranch(part, ident, legs, runway)


def _sequence_number(record: str) -> int:
    text = _text(record, 27, 29)
    return int(text) if text.isdecimal() else 0


def _decode_leg(record: str, find: Find, *, missed: bool) -> CodedLeg:
    def place(ident: str, region: tuple[int, int], section: tuple[int, int]) -> Place | None:
        return find(_columns(record, *section), ident, _columns(record, *region)) if ident else None

    fix, navaid, centre = _text(record, 30, 34), _text(record, 51, 54), _text(record, 107, 111)
    leg_type = _LEG_TYPES.get(_columns(record, 48, 49))
    course, course_is_true = _parse_course(_columns(record, 71, 74))
    distance, time = _parse_length(_columns(record, 75, 78))
    code = _text(record, 83, 83)
    first, second = parse_altitude(_columns(record, 85, 89)), parse_altitude(_columns(record, 90, 94))
    return CodedLeg(
        type=leg_type,
        fix_ident=fix,
        fix=place(fix, (35, 36), (37, 38)),
        fly_over=_columns(record, 41, 41) in ("Y", "B"),
        role=_text(record, 43, 43),
        missed=missed,
        turn=_text(record, 44, 44),
        navaid_ident=navaid,
        navaid=place(navaid, (55, 56), (79, 80)),
        theta_deg=parse_tenths(_columns(record, 63, 66)),
        rho_nm=parse_tenths(_columns(record, 67, 70)),
        course_deg=course,
        course_is_true=course_is_true,
        distance_nm=distance,
        time_min=time,
        radius_nm=_parse_thousandths(_columns(record, 57, 62)),
        # other legs of approaches have the fix there to which their safe altitudes refer
        centre=place(centre, (113, 114), (115, 116)) if leg_type is LegType.RADIUS_TO_FIX else None,
        window=altitude_limits(code, first, second),
        path_ft=second if code in _PATH_SECOND else None,
        speed=_parse_speed(record),
        vertical_angle_deg=_parse_hundredths(_columns(record, 103, 106)),
        transition_altitude_ft=parse_altitude(_columns(record, 95, 99)),
    )


_AT, _ABOVE, _BELOW = frozenset({"", "@", "G", "I", "X"}), frozenset({"+", "H", "J", "V"}), frozenset({"-", "Y"})
_ABOVE_SECOND = frozenset({"C", "D", "O"})
_PATH_SECOND = frozenset("GHIJVXY")


def altitude_limits(code: str, first_ft: float | None, second_ft: float | None) -> AltitudeLimits | None:
    """The limits that an altitude code (column 83) makes of its two altitudes; None where it sets none.

    With code B the higher altitude stands first. Where it does not, the limits are upside down too, and a check says
    so. Source: ARINC 424, 5.29, as public documents paraphrase it. Codes found in cycle 2301 of the U.S. file: blank
    + - B, and in approaches G H I J V X.
    """
    if code == "B":
        return AltitudeLimits(second_ft, first_ft) if (first_ft, second_ft) != (None, None) else None
    limit = second_ft if code in _ABOVE_SECOND else first_ft
    if limit is None:
        return None
    if code in _AT:
        return AltitudeLimits(limit, limit)
    if code in _ABOVE or code in _ABOVE_SECOND:
        return AltitudeLimits(limit, None)
    return AltitudeLimits(None, limit) if code in _BELOW else None


def _parse_speed(record: str) -> SpeedLimit | None:
    knots = parse_whole(_columns(record, 100, 102))
    return SpeedLimit(knots, _text(record, 118, 118)) if knots else None


def _parse_course(text: str) -> tuple[float | None, bool]:
    """Degrees, and whether they are true: `194T` is, `1940` is not."""
    if text[3:4] == "T" and text[:3].isdecimal():
        degrees: float | None = float(text[:3])
    else:
        degrees = parse_tenths(text)
    return (degrees if degrees is not None and degrees <= 360 else None), text[3:4] == "T"


def _parse_length(text: str) -> tuple[float | None, float | None]:
    """A distance in NM or a time in minutes, the other None."""
    return (None, parse_tenths(text[1:])) if text[:1] == "T" else (parse_tenths(text), None)


def _parse_thousandths(text: str) -> float | None:
    return int(text) / 1000 if text.isdecimal() else None


def _parse_hundredths(text: str) -> float | None:
    value = parse_whole(text)
    return None if value is None else value / 100


def _columns(record: str, first: int, last: int) -> str:
    return record[first - _FIRST : last - _FIRST + 1]


def _text(record: str, first: int, last: int) -> str:
    return record[first - _FIRST : last - _FIRST + 1].strip()
