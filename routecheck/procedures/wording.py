"""Coded legs, runways and faults of procedures in words. No path is computed here."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.model import LegType

if TYPE_CHECKING:
    from collections.abc import Iterable

    from routecheck.model import CodedBranch, CodedLeg, NotJoined

_HEADING_TYPES = frozenset(
    {
        LegType.HEADING_TO_ALTITUDE,
        LegType.HEADING_TO_DME,
        LegType.HEADING_TO_INTERCEPT,
        LegType.HEADING_TO_MANUAL,
        LegType.HEADING_TO_RADIAL,
    }
)
_FROM_FIX = frozenset({LegType.FIX_TO_ALTITUDE, LegType.FIX_TO_MANUAL, LegType.FIX_FOR_DISTANCE, LegType.FIX_TO_DME})
_TO_ALTITUDE = frozenset({LegType.COURSE_TO_ALTITUDE, LegType.HEADING_TO_ALTITUDE, LegType.FIX_TO_ALTITUDE})
_TO_MANUAL = frozenset({LegType.FIX_TO_MANUAL, LegType.HEADING_TO_MANUAL})
_TO_INTERCEPT = frozenset({LegType.COURSE_TO_INTERCEPT, LegType.HEADING_TO_INTERCEPT})
_TO_DME = frozenset({LegType.COURSE_TO_DME, LegType.HEADING_TO_DME, LegType.FIX_TO_DME})
_TO_RADIAL = frozenset({LegType.COURSE_TO_RADIAL, LegType.HEADING_TO_RADIAL})
TYPES_TO_STATION = _TO_DME | _TO_RADIAL
"""Legs that end at a distance or on a radial of a station."""
_ARCS = frozenset({LegType.ARC_TO_FIX, LegType.RADIUS_TO_FIX})


def describe_open_legs(legs: Iterable[CodedLeg]) -> str:
    """Say why legs have no fixed path: "not fixed on the map: heading 044°M to 520 ft, then direct to DEEZZ"."""
    return f"not fixed on the map: {', then '.join(describe_leg(leg) for leg in legs)}"


def describe_leg(leg: CodedLeg) -> str:
    """Say how one leg is flown: "heading 099°M for vectors"."""
    if leg.type is None:
        return "a leg of a kind that is not known"
    if leg.type is LegType.INITIAL_FIX:
        return f"on from {leg.fix_ident}"
    if leg.type in (LegType.DIRECT_TO_FIX, LegType.TRACK_TO_FIX):
        return f"{'direct ' if leg.type is LegType.DIRECT_TO_FIX else ''}to {leg.fix_ident}"
    if leg.type in _ARCS:
        return f"along an arc to {leg.fix_ident}"
    if leg.type in HOLDS:
        return describe_hold(leg)
    return f"{_describe_course(leg)} {_describe_end(leg)}"


HOLDS = frozenset({LegType.HOLD_TO_ALTITUDE, LegType.HOLD_TO_FIX, LegType.HOLD_TO_MANUAL, LegType.PROCEDURE_TURN})
"""Legs that come back to their fix: they add nothing to a straight reading."""


def describe_hold(leg: CodedLeg) -> str:
    """Say what is flown at a fix without leaving it for good: "holding at HUNSA until cleared on"."""
    if leg.type is LegType.PROCEDURE_TURN:
        return f"procedure turn at {leg.fix_ident}"
    if leg.type is LegType.HOLD_TO_ALTITUDE:
        return f"holding at {leg.fix_ident} {_describe_altitude(leg)}"
    return f"holding at {leg.fix_ident} {'once' if leg.type is LegType.HOLD_TO_FIX else 'until cleared on'}"


def _describe_course(leg: CodedLeg) -> str:
    what = "heading" if leg.type in _HEADING_TYPES else "course"
    course = formatting.course(leg.course_deg, "T" if leg.course_is_true else "M") or "that is not given"
    start = f"from {leg.fix_ident} " if leg.type in _FROM_FIX else ""
    return f"{start}{what} {course}"


def _describe_end(leg: CodedLeg) -> str:
    if leg.type in _TO_ALTITUDE:
        return _describe_altitude(leg)
    if leg.type in _TO_MANUAL:
        return "for vectors"
    if leg.type in _TO_INTERCEPT:
        return "to the next leg"
    if leg.type in _TO_DME:
        return f"to {_describe_distance(leg)} from {leg.navaid_ident or 'a station that is not given'}"
    if leg.type in _TO_RADIAL:
        return (
            f"to radial {formatting.course(leg.theta_deg) or 'unknown'} of {leg.navaid_ident or 'a station not given'}"
        )
    return f"for {_describe_distance(leg)}" if leg.type is LegType.FIX_FOR_DISTANCE else f"to {leg.fix_ident}"


def _describe_altitude(leg: CodedLeg) -> str:
    feet = leg.window and (leg.window.low_ft if leg.window.low_ft is not None else leg.window.high_ft)
    return "to an altitude that is not given" if feet is None else f"to {feet:,.0f} ft"


def _describe_distance(leg: CodedLeg) -> str:
    return "a distance that is not given" if leg.distance_nm is None else f"{leg.distance_nm:.1f} NM"


# Runways

_RUNWAY = re.compile(r"(?:RWY?)?\s*(\d{1,2})([A-Z]?)")
_OF_APPROACH = re.compile(r"[A-Z](\d\d[LRC]?)(?!\d)[A-Z0-9-]*")


def procedure_stem(name: str) -> str:
    """A procedure's name without its number and the letters behind it: what stays when the number changes."""
    return re.sub(r"\d+[A-Z]*$", "", name)


def runway_ident(typed: str | None) -> str:
    """Name a runway typed as "RW09", "9" or "27R" as the data does ("09", "27R"); what is none stays as it is."""
    if not typed:
        return ""
    text = typed.strip().upper()
    found = _RUNWAY.fullmatch(text)
    return f"{int(found[1]):02d}{found[2]}" if found else text


def runway_in_approach_name(name: str) -> str:
    """The runway in an approach's coded name ("I27L" is for 27L); "" where it has none, so that it is for circling.

    Source: ARINC 424, 5.10.
    """
    found = _OF_APPROACH.fullmatch(name)
    return found[1] if found else ""


def branch_serves(branch: CodedBranch, runway: str) -> bool:
    """Whether a branch is for a runway ("09", "27R").

    A runway without its letter ("08" where there are 08L and 08R) is served by the branches of each.
    """
    if not branch.runway:
        return True
    if branch.runway[:2] != runway[:2]:
        return False
    return not runway[2:] or branch.runway[2:] in ("B", runway[2:])


def list_runways(of_branches: Iterable[str]) -> str:
    """The runways that branches are for, in words: "08 (all parallels) and 26L"."""
    runways = sorted(set(of_branches))
    return formatting.listing([f"{name[:2]} (all parallels)" if name.endswith("B") else name for name in runways])


# Faults


def describe_not_joined(fault: NotJoined) -> str:
    """Say that a point is on no branch, and which transitions there are: "; its transitions are PIKAR and SEBRO"."""
    sentence = f"{fault.point} is on no branch of {fault.procedure} that fits"
    if not fault.transitions:
        return sentence
    transitions = "transition is" if len(fault.transitions) == 1 else "transitions are"
    return f"{sentence}; its {transitions} {formatting.listing(fault.transitions)}"
