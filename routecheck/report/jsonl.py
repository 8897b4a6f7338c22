"""Assessments as JSON Lines, one object a route: schema routecheck.result/1 (resources/schema/result-1.json)."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from routecheck import __version__
from routecheck.model import CAUTION_IN_FULL, NOT_LOOKED_AT, Outcome, PlaceKind, Window
from routecheck.present.headline import headline, outcomes, remarks
from routecheck.present.time_words import time_line, times_of
from routecheck.reckon.heights import OPEN
from routecheck.reckon.windows import bounds

if TYPE_CHECKING:
    from routecheck.model import Assessment, Beside, Finding, Leg, NotChecked, Place, Point, Proposal, Route, Span
    from routecheck.reckon.heights import Bounds
    from routecheck.reckon.times import LegTime, Times

SCHEMA = "routecheck.result/1"
_ENCODER = json.JSONEncoder(allow_nan=False, separators=(",", ":"))


def line(assessment: Assessment) -> str:
    """The whole answer as one line of JSON, without the line's end; in ASCII, so that no output spoils the text."""
    return _ENCODER.encode(result(assessment))


def result(assessment: Assessment) -> dict[str, Any]:
    """The whole answer as plain values."""
    route = assessment.route
    entry = route.entry
    times = times_of(route)
    return {
        "schema": SCHEMA,
        "program": __version__,
        "name": entry.name or entry.title,
        "role": entry.role.value,
        "departure": route.points[0].text,
        "destination": route.points[-1].text,
        "route": entry.route,
        "headline": headline(assessment),
        "totals": _totals(route, times),
        "points": _points(route),
        "legs": [_leg(i, leg, times.legs[i] if times else None) for i, leg in enumerate(route.legs)],
        "findings": [_finding(finding) for finding in assessment.findings],
        "outcomes": {outcome.name.lower(): number for outcome, number in outcomes(assessment).items()},
        "not_checked": [_not_checked(n) for n in assessment.not_checked],
        "could_not_run": [{"check": name, "because": what} for name, what in assessment.could_not_run],
        "remarks": [*remarks(assessment), *([time_line(times)] if times else []), *route.faults],
        "data": _data(route),
        "cautions": [CAUTION_IN_FULL, f"Not looked at: {NOT_LOOKED_AT}."],
    }


def _totals(route: Route, times: Times | None) -> dict[str, Any]:
    totals = route.totals
    return {
        "distance_nm": round(totals.distance_nm, 4),
        "direct_nm": _rounded(totals.direct_nm, 4),
        "time_min": _rounded(times.minutes, 2) if times else None,
        "gaps": totals.gaps,
        "checked_share": _share(0.0 if route.entry.unread else totals.checked_share),
    }


def _share(share: float | None) -> float | None:
    """Four decimals, but never 1 unless all was checked."""
    return share if share is None or share in (0.0, 1.0) else min(round(share, 4), 0.9999)


def _points(route: Route) -> list[dict[str, Any]]:
    last, held = len(route.points) - 1, bounds(route, fields=False)
    return [_point(point, held[i], inside=0 < i < last) for i, point in enumerate(route.points)]


def _point(point: Point, window: Bounds, *, inside: bool) -> dict[str, Any]:
    """A point; the aerodromes have no span, also where the text begins or ends with them."""
    place = point.place
    return {
        "text": point.text,
        "span": _span(point.span) if inside else None,
        "lat": round(place.lat, 8) if place else None,
        "lon": round(place.lon, 8) if place else None,
        "kind": place.kind.value if place else None,
        "from": _origin(place) if place else None,
        "window_ft": None if window == OPEN else list(window),
        "speed_max_kt": point.speed.most_kt if point.speed else None,
    }


def _origin(place: Place) -> str:
    if place.kind is PlaceKind.TYPED:
        return "typed"
    if place.kind is PlaceKind.COMPUTED:
        return "computed"
    return "airportsdata" if place.source == "airportsdata" else "data"


def _leg(index: int, leg: Leg, time: LegTime | None) -> dict[str, Any]:
    return {
        "from": index,
        "to": index + 1,
        "via": leg.via,
        "distance_nm": _rounded(leg.distance_nm, 4),
        "course_true_deg": _course(leg.course_true_deg),
        "course_magnetic_deg": _course(leg.course_magnetic_deg),
        "time_min": _rounded(time.minutes, 2) if time else None,
        "fuel_kg": _rounded(time.fuel_kg, 1) if time else None,
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "check": finding.check,
        "weight": finding.weight.value,
        "spans": [_span(span) for span in finding.spans],
        "message": finding.message,
        "facts": [{"name": f.name, "value": f.value, "unit": f.unit} for f in finding.facts],
        "citations": list(finding.citations),
        "likely_intended": [_proposal(proposal) for proposal in finding.likely_intended],
    }


def _proposal(proposal: Proposal) -> dict[str, Any]:
    span = proposal.span
    return {
        "edit": [span.start, span.end, proposal.new] if span else None,
        "route": proposal.route,
        "beside": [_beside(one) for one in proposal.beside],
        "why": proposal.why,
    }


def _beside(one: Beside) -> dict[str, Any]:
    return {
        "field": "window" if isinstance(one.new, Window) else one.field,
        "point": one.new.point if isinstance(one.new, Window) else None,
        "old": _stated(one.old),
        "new": _stated(one.new),
    }


def _stated(value: str | Window) -> str | list[float | None]:
    return [value.low_ft, value.high_ft] if isinstance(value, Window) else value


def _not_checked(not_checked: NotChecked) -> dict[str, Any]:
    return {
        "check": not_checked.check,
        "spans": [_span(span) for span in not_checked.spans],
        "because": not_checked.because,
    }


def _data(route: Route) -> dict[str, Any]:
    sources = route.resolved.sources
    return {"data_sources": [s.name for s in sources], "cycle": (sources[0].cycle or None) if sources else None}


def _span(span: Span | None) -> list[int] | None:
    return [span.start, span.end] if span else None


def _course(degrees: float | None) -> float | None:
    """Three decimals, 0 and more and under 360: rounding must not make it 360."""
    return None if degrees is None else round(degrees, 3) % 360.0


def _rounded(value: float | None, digits: int) -> float | None:
    return None if value is None else round(value, digits)


OUTCOME_KEYS = tuple(outcome.name.lower() for outcome in Outcome)
