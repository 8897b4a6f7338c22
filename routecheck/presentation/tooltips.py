"""The text shown at the mouse: about a point, a leg, a place of the loaded data, a bare position."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.earth import geo, magnetic
from routecheck.geometry.charted_courses import differing_charted_courses
from routecheck.model import Place, PlaceKind, VariationFrom
from routecheck.presentation.course_words import charted_words, course_words
from routecheck.presentation.side_lines import speed_label
from routecheck.resolution.radials import variation_at
from routecheck.vertical.room import is_upside_down
from routecheck.vertical.transition import levels_from_ft

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterator, Sequence

    from routecheck.model import Leg, LostChoice, PathPoint, Route

_MOST_OTHERS = 5
_NO_COMPASS = "No magnetic course: too near a magnetic pole for a compass"


def point_tooltip(route: Route, index: int) -> str:
    """A placed point of the path: what and where it is, how far along, its variation, its namesakes."""
    point = route.points[index]
    if point.place is None:
        return f"Not placed: {point.why}"
    what = f"{formatting.short(point.text)}: {_kind(point.place)}"
    lines = (
        what,
        _position(point.place),
        _distances_line(route, index),
        *constraint_lines(route, index),
        _variation_line(route, index),
    )
    return "\n".join((*lines, *_namesake_lines(route, point)))


def constraint_lines(route: Route, index: int) -> Iterator[str]:
    """The altitude windows and the speed limit at a point and who states them, and what is flown there."""
    point = route.points[index]
    for window in route.windows[index] if route.windows else ():
        upside_down = ", upside down" if is_upside_down((window.low_ft, window.high_ft)) else ""
        who = "stated beside the route" if window.typed else f"coded in {window.procedure}"
        allowed = formatting.altitudes_allowed(window.low_ft, window.high_ft, levels_from_ft(route, index))
        yield f"Window: {allowed}{upside_down}, {who}"
    if point.speed:
        yield f"Speed: {speed_label(point.speed)} indicated, coded in {point.procedure}"
    if point.note:
        yield point.note[:1].upper() + point.note[1:]


def leg_tooltip(route: Route, start: int, end: int) -> str:
    """A leg from one placed point to the next: its figures and what its magnetic course rests on."""
    leg = route.legs[start]
    ends = f"{_point_name(route, start)} to {_point_name(route, end)}"
    if end > start + 1:
        unplaced = [formatting.short(p.text) or "–" for p in route.points[start + 1 : end]]
        return f"Gap, {ends}\nNot placed: {formatting.listing(unplaced)}"
    if leg.distance_nm is None:
        least = f"\nat least {formatting.nm(leg.least_nm)}" if leg.least_nm is not None else ""
        present = route.resolved.connections[leg.connection].present
        dotted = f"\nDotted: {present.name}, which the data has now" if present else ""
        return f"Gap, {ends}{least}\n{leg.gap or 'The path is not fixed here.'}{dotted}"
    charted = differing_charted_courses(route)[start]
    magnetic_course = formatting.course(leg.course_magnetic_deg, "M")
    courses = (
        formatting.course(leg.course_true_deg, "T"),
        "; ".join(filter(None, (magnetic_course, charted_words(charted) if charted else ""))),
    )
    figures = "  ".join(filter(None, (*courses, formatting.nm(leg.distance_nm))))
    used = f"At {_point_name(route, start)}: {_uncapitalised(_variation_line(route, start))}"
    path = f"{leg.via}, an arc: courses at its start" if leg.shape else leg.via
    limit = f"Speed: {_speed_limits(leg)} indicated" if leg.most_kt or leg.least_kt else ""
    return "\n".join(filter(None, (f"{ends}, {path}", figures, limit, used)))


def namesake_tooltip(lost: LostChoice) -> str:
    """A place of the same name that was not chosen: where it is and by how much the route would be longer."""
    place = lost.place
    return f"{place.ident}: {_kind(place)}, not chosen\n{_position(place)}\n{_reason(lost)}"


def place_tooltip(place: Place) -> str:
    """A place of the loaded data that is not on the route."""
    of = f" of {place.airport}" if place.airport else ""
    return f"{place.ident}: {_kind(place)}{of}, not on the route\n{_position(place)}"


def position_tooltip(route: Route, lat: float, lon: float) -> str:
    """A bare position: how far it is from departure and destination, and the variation there."""
    here = Place("", lat, lon, PlaceKind.TYPED)
    lines = [formatting.position(lat, lon)]
    if first := route.points[0].place:
        lines.append(f"from {_point_name(route, 0)} {_course_and_distance(first, here, route.date)}")
    if last := route.points[-1].place:
        lines.append(f"to {_point_name(route, len(route.points) - 1)} {_course_and_distance(here, last, route.date)}")
    if field := magnetic.declination(lat, lon, route.date):
        of_no_use = magnetic.compass_is_unusable(lat, lon, route.date)
        used = f"variation {formatting.variation(field.declination_deg)} ({VariationFrom.WMM.value})"
        lines.append(_NO_COMPASS if of_no_use else used)
    return "\n".join(lines)


def _course_and_distance(start: Place, end: Place, date: dt.date) -> str:
    course, _, away = geo.inverse(start.lat, start.lon, end.lat, end.lon)
    return f"{course_words(start, course, date)}  {formatting.nm(away)}"


def _speed_limits(leg: Leg) -> str:
    limits = (("≥", leg.least_kt), ("≤", leg.most_kt))
    return " and ".join(f"{sign} {kt:.0f} kt" for sign, kt in limits if kt is not None)


def _kind(place: Place) -> str:
    return " ".join(filter(None, (place.name.title(), place.kind.value)))


def _position(place: Place) -> str:
    return formatting.position(place.lat, place.lon)


def _point_name(route: Route, index: int) -> str:
    return formatting.short(route.points[index].text) or ("departure" if index == 0 else "destination")


def _distances_line(route: Route, index: int) -> str:
    """How far along the route a point is, with "at least" where there are gaps."""
    before, after = _total(route.legs[:index]), _total(route.legs[index:])
    parts = [f"{before} from {_point_name(route, 0)}"] if index else []
    parts += [f"{after} to {_point_name(route, len(route.points) - 1)}"] if index < len(route.points) - 1 else []
    return "Along the route " + ", ".join(parts)


def _total(legs: Sequence[Leg]) -> str:
    known = formatting.nm(sum(leg.distance_nm or 0.0 for leg in legs))
    return known if all(leg.distance_nm is not None for leg in legs) else f"at least {known}"


def _variation_line(route: Route, index: int) -> str:
    """The variation at a point and where it is from, as the leg that leaves it uses it."""
    place = route.points[index].place
    if place and magnetic.compass_is_unusable(place.lat, place.lon, route.date):
        return _NO_COMPASS
    found = _leg_variation(route.legs[index]) if index < len(route.legs) else None
    if found is None and place:
        found = variation_at(place, route.date)
    if found is None:
        return "No variation is known here for this date"
    return f"Variation {formatting.variation(found[0])} ({found[1].value})"


def _leg_variation(leg: Leg) -> tuple[float, VariationFrom] | None:
    degrees, source = leg.variation_deg, leg.variation_from
    return None if degrees is None or source is None else (degrees, source)


def _uncapitalised(text: str) -> str:
    return text[:1].lower() + text[1:]


def _namesake_lines(route: Route, point: PathPoint) -> Iterator[str]:
    others = route.resolved.route_points[point.route_point].lost_choices if point.route_point is not None else ()
    for lost in others[:_MOST_OTHERS]:
        yield f"Also {point.text}: {_kind(lost.place)}, {_position(lost.place)}; {_reason(lost)}"
    if len(others) > _MOST_OTHERS:
        yield f"and {formatting.count(len(others) - _MOST_OTHERS, 'more place')} of that name"


def _reason(lost: LostChoice) -> str:
    if lost.longer_nm is None:
        return lost.reason
    return f"with it the route is {formatting.nm(lost.longer_nm)} longer"
