"""Assessments as JSON Lines, one object a route: schema routecheck.result/1 (resources/schema/result-1.json).

Points, legs and reasons, of which a route has dozens, are written as text at once; what there is little of goes the
usual way.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Any

from routecheck import __version__
from routecheck.model import CAUTION_IN_FULL, NOT_LOOKED_AT, AltitudeWindow, Outcome, PlaceKind
from routecheck.presentation.headline import headline, outcomes, remarks
from routecheck.presentation.time_words import time_line, times_of
from routecheck.report.json_text import decimal, encoded, keyed, listed, quoted, span, spans, strings
from routecheck.vertical.room import OPEN
from routecheck.vertical.windows import bounds

if TYPE_CHECKING:
    from routecheck.model import Assessment, FieldChange, Finding, Leg, NotChecked, PathPoint, Proposal, Route
    from routecheck.performance.times import LegTime, Times
    from routecheck.vertical.room import Bounds

SCHEMA = "routecheck.result/1"
_KEPT = 8192
"""Texts kept of places, figures of legs and reasons, each by its values: a batch has the same ones again and again."""
OUTCOME_KEYS = {outcome: outcome.name.lower() for outcome in Outcome}
_CAUTIONS = strings([CAUTION_IN_FULL, f"Not looked at: {NOT_LOOKED_AT}."])


def line(assessment: Assessment) -> str:
    """The whole answer as one line of JSON, without the line's end; in ASCII, so that no output spoils the text."""
    route = assessment.route
    route_input = route.route_input
    times = times_of(route)
    counts = outcomes(assessment)
    told = {
        "schema": quoted(SCHEMA),
        "program": quoted(__version__),
        "name": quoted(route_input.name or route_input.title),
        "role": quoted(route_input.role),
        "departure": quoted(route.points[0].text),
        "destination": quoted(route.points[-1].text),
        "route": quoted(route_input.route),
        "headline": quoted(headline(assessment).sentence),
        "totals": _totals(route, times),
        "points": _points(route),
        "legs": listed([_leg(i, leg, times.legs[i] if times else None) for i, leg in enumerate(route.legs)]),
        "findings": encoded([_finding(finding) for finding in assessment.findings]),
        "outcomes": keyed({key: str(counts[outcome]) for outcome, key in OUTCOME_KEYS.items()}),
        "not_checked": listed(map(_not_checked, assessment.not_checked)),
        "could_not_run": listed(
            [keyed({"check": quoted(name), "because": quoted(what)}) for name, what in assessment.could_not_run]
        ),
        "remarks": strings((*remarks(assessment), *([time_line(times)] if times else []), *route.faults)),
        "data": _data(route),
        "cautions": _CAUTIONS,
    }
    return keyed(told)


def _totals(route: Route, times: Times | None) -> str:
    totals = route.totals
    share = _share(0.0 if route.route_input.unread else totals.checked_share)
    return (
        f'{{"distance_nm":{decimal(totals.distance_nm, 4)},"direct_nm":{decimal(totals.direct_nm, 4)},'
        f'"time_min":{decimal(times.minutes, 2) if times else "null"},"gaps":{totals.gaps},'
        f'"checked_share":{decimal(share, 4)}}}'
    )


def _share(share: float | None) -> float | None:
    """Four decimals, but never 1 unless all was checked."""
    return share if share is None or share in (0.0, 1.0) else min(round(share, 4), 0.9999)


def _points(route: Route) -> str:
    """The points; the aerodromes have no span, also where the text begins or ends with them."""
    within = ["null", *[span(point.span) for point in route.points[1:-1]], "null"]
    return listed(map(_point, route.points, within, bounds(route, fields=False)))


def _point(point: PathPoint, where: str, window: Bounds) -> str:
    place = point.place
    return (
        f'{{"text":{quoted(point.text)},"span":{where},'
        f"{_place(place.lat, place.lon, place.kind, place.source) if place else _NO_PLACE},"
        f'"window_ft":{"null" if window == OPEN else encoded(window)},'
        f'"speed_max_kt":{encoded(point.speed.most_kt) if point.speed else "null"}}}'
    )


_NO_PLACE = '"lat":null,"lon":null,"kind":null,"from":null'


@lru_cache(maxsize=_KEPT)
def _place(lat: float, lon: float, kind: PlaceKind, source: str) -> str:
    origin = _ORIGINS.get(kind) or ("airportsdata" if source == "airportsdata" else "data")
    lat, lon = lat + 0.0, lon + 0.0  # zero has no sign here: 0.0 and -0.0 are one place
    return f'"lat":{decimal(lat, 8)},"lon":{decimal(lon, 8)},"kind":{quoted(kind)},"from":{quoted(origin)}'


_ORIGINS = {PlaceKind.TYPED: "typed", PlaceKind.COMPUTED: "computed"}


def _leg(index: int, leg: Leg, time: LegTime | None) -> str:
    return (
        f'{{"from":{index},"to":{index + 1},"via":{quoted(leg.via)},'
        f"{_figures(leg.distance_nm, leg.course_true_deg, leg.course_magnetic_deg)},"
        f'"time_min":{decimal(time.minutes, 2) if time else "null"},'
        f'"fuel_kg":{decimal(time.fuel_kg, 1) if time else "null"}}}'
    )


@lru_cache(maxsize=_KEPT)
def _figures(distance_nm: float | None, true_deg: float | None, magnetic_deg: float | None) -> str:
    return (
        f'"distance_nm":{decimal(distance_nm, 4)},'
        f'"course_true_deg":{_course(true_deg)},"course_magnetic_deg":{_course(magnetic_deg)}'
    )


def _course(degrees: float | None) -> str:
    """Three decimals, 0 and more and under 360: rounding must not make it 360."""
    text = "null" if degrees is None else decimal(degrees % 360.0, 3)
    return "0.0" if text == "360.0" else text


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "check": finding.check,
        "weight": finding.weight,
        "spans": [[one.start, one.end] for one in finding.spans],
        "message": finding.message,
        "facts": [{"name": f.name, "value": f.value, "unit": f.unit} for f in finding.facts],
        "citations": list(finding.citations),
        "likely_intended": [_proposal(proposal) for proposal in finding.likely_intended],
    }


def _proposal(proposal: Proposal) -> dict[str, Any]:
    where = proposal.span
    return {
        "edit": [where.start, where.end, proposal.new] if where else None,
        "route": proposal.route,
        "beside": [_beside(one) for one in proposal.beside],
        "why": proposal.why,
    }


def _beside(one: FieldChange) -> dict[str, Any]:
    return {
        "field": "window" if isinstance(one.new, AltitudeWindow) else one.field,
        "point": one.new.point if isinstance(one.new, AltitudeWindow) else None,
        "old": _stated(one.old),
        "new": _stated(one.new),
    }


def _stated(value: str | AltitudeWindow) -> str | list[float | None]:
    return [value.low_ft, value.high_ft] if isinstance(value, AltitudeWindow) else value


def _not_checked(one: NotChecked) -> str:
    return _reason(one.check, spans(one.spans) if one.spans else "[]", one.because)


@lru_cache(maxsize=_KEPT)
def _reason(check: str, where: str, because: str) -> str:
    return f'{{"check":{quoted(check)},"spans":{where},"because":{quoted(because)}}}'


def _data(route: Route) -> str:
    sources = route.resolved.sources
    cycle = quoted(sources[0].cycle) if sources and sources[0].cycle else "null"
    return f'{{"data_sources":{strings(s.name for s in sources)},"cycle":{cycle}}}'
