"""Assessments as JSON Lines, one object a route: schema routecheck.result/1 (resources/schema/result-1.json)."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any, Self

from routecheck import __version__
from routecheck.geometry.charted_courses import charted_courses
from routecheck.model import (
    CAUTION_IN_FULL,
    NOT_LOOKED_AT,
    AltitudeWindow,
    Outcome,
    PlaceKind,
    off_block_day,
    off_block_time,
)
from routecheck.navdata import world_airports, world_stations
from routecheck.presentation.alternate_view import alternate_views
from routecheck.presentation.comparison import comparison_sentences
from routecheck.presentation.course_words import charted_from
from routecheck.presentation.headline import count_outcomes, headline, input_remarks
from routecheck.presentation.time_words import known_times, time_sentence, times_over
from routecheck.presentation.unseen import sum_unseen_nm
from routecheck.report.known_json import build_usage
from routecheck.report.load_json import build_alternate, build_load, build_read_across
from routecheck.report.output_options import EVERYTHING
from routecheck.vertical.room import UNBOUNDED
from routecheck.vertical.windows import altitude_bounds

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from routecheck.model import (
        Assessment,
        ChartedCourse,
        FieldChange,
        Finding,
        Leg,
        NotChecked,
        NotUsed,
        OffBlock,
        Origin,
        PathPoint,
        Place,
        Proposal,
        Route,
        RouteInput,
        Span,
        Stretch,
    )
    from routecheck.performance.times import LegTime, Times
    from routecheck.presentation.time_words import Moment
    from routecheck.report.output_options import OutputOptions
    from routecheck.report.run_summary import RunSummary
    from routecheck.vertical.room import Bounds

    JsonObject = dict[str, Any]

SCHEMA = "routecheck.result/1"
OUTCOME_KEYS = {outcome: outcome.name.lower() for outcome in Outcome}
_encode = json.JSONEncoder(allow_nan=False, separators=(",", ":")).encode
_LISTS = (world_airports.SOURCE, world_stations.SOURCE)
_ORIGINS = {PlaceKind.TYPED: "typed", PlaceKind.COMPUTED: "computed"}


class JsonLines:
    """A line for each route, whatever was found."""

    looks_ahead = 0

    def __init__(self, options: OutputOptions) -> None:
        self._options = options

    def begin(self, _first: Sequence[RouteInput], /) -> str:
        """Nothing: the first line is the first answer."""
        return ""

    def add(self, assessment: Assessment) -> str:
        """The answer as a line."""
        return format_line(assessment, self._options) + "\n"

    def merge(self, _later: Self, /) -> None:
        """Nothing is kept of an answer."""

    def end(self, _summary: RunSummary, /) -> Iterator[str]:
        """Nothing: the last line is the last answer."""
        return iter(())


def format_line(assessment: Assessment, options: OutputOptions = EVERYTHING) -> str:
    """The whole answer as one line of ASCII without its end. Raises ValueError for a figure that is no number."""
    return _encode(_build_result(assessment, options))


def _build_result(assessment: Assessment, options: OutputOptions) -> JsonObject:
    route = assessment.route
    route_input = route.route_input
    times, head = known_times(route), headline(assessment)
    counts = count_outcomes(assessment)
    return {
        "schema": SCHEMA,
        "program": __version__,
        "name": route_input.name or route_input.title,
        "input": _build_origin(route_input.origin),
        "role": route_input.role,
        "departure": route.points[0].text,
        "destination": route.points[-1].text,
        "off_block": _write_off_block(route_input.off_block),
        "route": route_input.route,
        "headline": head.sentence,
        "verdict": head.verdict.name.lower(),
        "totals": _build_totals(assessment, times),
        "points": _build_points(route),
        "legs": _build_legs(route, times),
        "load": build_load(route),
        "read_across": build_read_across(route),
        "alternates": [build_alternate(one) for one in alternate_views(route)],
        "known_routes": build_usage(route.usage) if route.usage else None,
        "findings": [_build_finding(finding) for finding in assessment.findings if options.shows(finding)],
        "findings_not_shown": options.count_hidden(assessment),
        "outcomes": {key: counts[outcome] for outcome, key in OUTCOME_KEYS.items()},
        "not_checked": [_build_not_checked(one) for one in assessment.not_checked],
        "could_not_run": [{"check": name, "because": what} for name, what in assessment.could_not_run],
        "not_used": [_build_not_used(one) for one in assessment.not_used],
        "remarks": _build_remarks(assessment, [time_sentence(route, times)] if times else []),
        "data": _build_data(route),
        "cautions": [CAUTION_IN_FULL, f"Not looked at: {NOT_LOOKED_AT}."],
    }


def _write_off_block(off_block: OffBlock | None) -> str | None:
    """A day, a time, or both as "2026-12-03T14:30Z"; None = not known."""
    day, time = off_block_day(off_block), off_block_time(off_block)
    clock = "" if time is None else f"{time:%H:%M}Z"
    return "T".join(filter(None, (day.isoformat() if day else "", clock))) or None


def _build_origin(origin: Origin) -> JsonObject:
    return {"file": origin.file or None, "line": origin.line, "columns": dict(origin.columns)}


def _build_totals(assessment: Assessment, times: Times | None) -> JsonObject:
    totals = assessment.route.totals
    nothing_read = assessment.route.route_input.unread or assessment.failure
    return {
        "distance_nm": _round(totals.distance_nm, 4),
        "direct_nm": _round(totals.direct_nm, 4),
        "time_min": _round(times.minutes, 2) if times else None,
        "gaps": totals.gaps,
        "checked_share": _round_share(0.0 if nothing_read else totals.checked_share),
        "least_nm": _round(totals.least_nm, 4),
        "lost_nm": _sum_least_nm(totals.lost),
        "open_by_design_nm": _sum_least_nm(totals.open_by_design),
        "cannot_be_seen_nm": _round(sum_unseen_nm(assessment), 4),
    }


def _sum_least_nm(stretches: Iterable[Stretch]) -> float | None:
    """The least length of some stretches; None where that of one is not known."""
    known = [stretch.least_nm for stretch in stretches]
    return None if None in known else round(sum(nm for nm in known if nm is not None), 4)


def _round(figure: float | None, digits: int) -> float | None:
    return None if figure is None else round(figure, digits)


def _round_share(share: float | None) -> float | None:
    """Four decimals, but never 1 unless all was checked."""
    return share if share is None or share in (0.0, 1.0) else min(round(share, 4), 0.9999)


def _build_points(route: Route) -> list[JsonObject]:
    """The points; the aerodromes have no span, also where the text begins or ends with them."""
    spans = [None, *[point.span for point in route.points[1:-1]], None]
    windows = altitude_bounds(route, fields=False)
    hints = [None if p.route_point is None else route.resolved.route_points[p.route_point].hint for p in route.points]
    return [_build_point(*point) for point in zip(route.points, hints, spans, windows, strict=True)]


def _build_point(point: PathPoint, hint: Place | None, span: Span | None, window: Bounds) -> JsonObject:
    place = point.place or hint
    # Zero has no sign here: 0.0 and -0.0 are one place.
    return {
        "text": point.text,
        "span": span,
        "lat": round(place.lat, 8) + 0.0 if place else None,
        "lon": round(place.lon, 8) + 0.0 if place else None,
        "kind": place.kind if place else None,
        "from": _name_origin(place) if place else None,
        "window_ft": None if window == UNBOUNDED else window,
        "speed_max_kt": point.speed.most_kt if point.speed else None,
    }


def _name_origin(place: Place) -> str:
    return _ORIGINS.get(place.kind) or (place.source if place.source in _LISTS else "data")


def _build_legs(route: Route, times: Times | None) -> list[JsonObject]:
    charted = charted_courses(route)
    flown = times.legs if times else [None] * len(route.legs)
    over = times_over(route, times)
    legs = [_build_leg(i, leg, charted[i], flown[i], over[i]) for i, leg in enumerate(route.legs)]
    for leg, turn in zip(legs, route.turns[1:], strict=True):
        leg["turn_deg"] = round(turn.turn_deg, 3) if turn else None
    return legs


def _build_leg(
    index: int, leg: Leg, charted: ChartedCourse | None, time: LegTime | None, over: Moment | None
) -> JsonObject:
    return {
        "from": index,
        "to": index + 1,
        "via": leg.via,
        "distance_nm": _round(leg.distance_nm, 4),
        "course_true_deg": _round_course(leg.course_true_deg),
        "course_end_true_deg": _round_course(leg.end_course_true_deg),
        "course_magnetic_deg": _round_course(leg.course_magnetic_deg),
        "variation_from": leg.variation_from if leg.variation_deg is not None else None,
        "course_charted_deg": _round_course(charted.course_deg) if charted else None,
        "course_charted_from": charted_from(charted),
        "aligned_station": (charted.station if charted else "") or None,
        "alignment_deg": _round(charted.alignment_deg, 1) if charted else None,
        "time_min": _round(time.minutes, 2) if time else None,
        "time_over": over.iso if over and not over.is_least else None,
        "fuel_kg": _round(time.fuel_kg, 1) if time else None,
    }


def _round_course(degrees: float | None) -> float | None:
    """Three decimals, 0 and more and under 360: rounding must not make it 360."""
    return None if degrees is None else round(degrees % 360.0, 3) % 360.0


def _build_finding(finding: Finding) -> JsonObject:
    return {
        "check": finding.check,
        "weight": finding.weight,
        "spans": finding.spans,
        "message": finding.message,
        "facts": [{"name": f.name, "value": f.value, "unit": f.unit} for f in finding.facts],
        "citations": finding.citations,
        "likely_intended": [_build_proposal(proposal) for proposal in finding.likely_intended],
    }


def _build_proposal(proposal: Proposal) -> JsonObject:
    where = proposal.span
    return {
        "edit": [where.start, where.end, proposal.new] if where else None,
        "route": proposal.route,
        "beside": [_build_change(one) for one in proposal.beside],
        "why": proposal.why,
        "entry_error": proposal.entry_error or None,
    }


def _build_change(one: FieldChange) -> JsonObject:
    return {
        "field": "window" if isinstance(one.new, AltitudeWindow) else one.field,
        "point": one.new.point if isinstance(one.new, AltitudeWindow) else None,
        "old": _write_side(one.old),
        "new": _write_side(one.new),
    }


def _write_side(value: str | AltitudeWindow) -> str | list[float | None]:
    return [value.low_ft, value.high_ft] if isinstance(value, AltitudeWindow) else value


def _build_not_checked(one: NotChecked) -> JsonObject:
    return {"check": one.check, "spans": one.spans, "because": one.because}


def _build_remarks(assessment: Assessment, of_times: list[str]) -> list[str]:
    own_mistakes = assessment.route.own_mistakes
    return [*input_remarks(assessment), *comparison_sentences(assessment), *of_times, *own_mistakes]


def _build_not_used(one: NotUsed) -> JsonObject:
    return {"what": one.what, "name": one.name, "where": one.where, "because": one.because}


def _build_data(route: Route) -> JsonObject:
    sources = route.resolved.sources
    return {
        "data_sources": [source.name for source in sources],
        "records": [
            {"in_source": one.records, "rejected": one.count_of("rejected"), "announced": one.announced}
            for one in sources
        ],
        "cycle": (sources[0].cycle or None) if sources else None,
    }
