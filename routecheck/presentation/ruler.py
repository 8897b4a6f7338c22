"""Distance and course between two places on the map, both ways, in words, and the geodesic to draw. No Qt."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.earth import geo
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Place, PlaceKind
from routecheck.presentation.course_words import course_words
from routecheck.presentation.projected_lines import geodesic, project_lines

if TYPE_CHECKING:
    import datetime as dt

    from routecheck.arrays import Floats
    from routecheck.earth.projection import Projection

_SAME_NM = 1.0 / geo.METRES_PER_NM


@dataclass(frozen=True, slots=True)
class Measure:
    """A measured stretch. `lines`: its ends with the distance, the course there, the course back."""

    start: Place
    end: Place
    distance_nm: float
    lines: tuple[str, ...]

    def curve(self, projection: Projection) -> Floats:
        """The geodesic in NM of the plane, shape (n, 2), broken by NaN where the map leaps."""
        return project_lines([geodesic(self.start, self.end)], projection)[0]


def measure(start: Place, end: Place, date: dt.date) -> Measure:
    """Measure from one place to another. A magnetic course is left out where nobody knows the variation."""
    course, _, distance = geo.inverse(start.lat, start.lon, end.lat, end.lon)
    back, _, _ = geo.inverse(end.lat, end.lon, start.lat, start.lon)
    names = f"{_name(start)} – {_name(end)}"
    if distance < _SAME_NM:
        return Measure(start, end, 0.0, (names, "one place"))
    there = f"there {course_words(start, course, date)}  {formatting.nm(distance)}"
    return Measure(start, end, distance, (names, there, f"back {course_words(end, back, date)}"))


def typed_place(lat: float, lon: float) -> Place:
    """A bare position as a place."""
    return Place(formatting.position(lat, lon), lat, lon, PlaceKind.TYPED)


def _name(place: Place) -> str:
    return formatting.short(place.ident)
