"""The alternates as a reader sees them: distance, course, time and fuel from the destination to each."""

from __future__ import annotations

from dataclasses import KW_ONLY
from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.formatting import about_kg, duration, nm, short
from routecheck.frozen_dataclass import dataclass
from routecheck.performance.alternates import DIRECT
from routecheck.presentation.time_words import known_times

if TYPE_CHECKING:
    from routecheck.model import Route


@dataclass(frozen=True, slots=True)
class AlternateView:
    """One alternate; None = not known. Time and fuel are those of a flight at the speed and level filed."""

    name: str
    because: str
    """Why nothing is known of it; "" where it is."""
    _: KW_ONLY
    distance_nm: float | None = None
    direct_nm: float | None = None
    course_true_deg: float | None = None
    course_magnetic_deg: float | None = None
    time_min: float | None = None
    fuel_kg: float | None = None
    gaps: int = 0
    route: str = ""
    """The route to it as given; "" = direct."""

    @property
    def sentence(self) -> str:
        """All of it in one line."""
        if self.distance_nm is None:
            return f"Alternate {self.name}: {self.because}."
        least = "at least " if self.gaps else ""
        course = formatting.course(self.course_true_deg, "T")
        magnetic = formatting.course(self.course_magnetic_deg, "M")
        way = f"by {self.route}" if self.route else "direct"
        parts = [f"{least}{nm(self.distance_nm)} {way}", " ".join(filter(None, (course, magnetic)))]
        parts += [duration(self.time_min)] if self.time_min is not None else []
        parts += [f"{about_kg(self.fuel_kg)} of fuel"] if self.fuel_kg is not None else []
        return f"Alternate {self.name}: {', '.join(filter(None, parts))}."


def brief_alternate(route: Route) -> str:
    """The first alternate for one line beside others: "alternate XVMA 63.2 NM, 0:14"; "" where there is none."""
    if not route.alternates:
        return ""
    first, more = _make_view(route.alternates[0]), len(route.alternates) - 1
    how_far = "at a distance not known" if first.distance_nm is None else nm(first.distance_nm)
    parts = [f"alternate {first.name} {how_far}"]
    parts += [duration(first.time_min)] if first.time_min is not None else []
    return ", ".join(parts) + (f" and {more} more" if more else "")


def alternate_views(route: Route) -> tuple[AlternateView, ...]:
    """Every alternate in the order in which they are given."""
    return tuple(_make_view(onward) for onward in route.alternates)


def _make_view(onward: Route) -> AlternateView:
    name, totals = short(onward.points[-1].text), onward.totals
    if totals.direct_nm is None:
        unplaced = next((point for point in onward.points if point.place is None), onward.points[-1])
        return AlternateView(
            name, (unplaced.why or "its place is not known").removeprefix(f"{name} is ").removeprefix(f"{name}: ")
        )
    first, times = onward.legs[0], known_times(onward)
    return AlternateView(
        name,
        "",
        distance_nm=totals.least_nm if totals.gaps else totals.distance_nm,
        direct_nm=totals.direct_nm,
        course_true_deg=first.course_true_deg,
        course_magnetic_deg=first.course_magnetic_deg,
        time_min=times.minutes if times else None,
        fuel_kg=times.fuel_kg if times else None,
        gaps=totals.gaps,
        route="" if onward.route_input.route == DIRECT else " ".join(onward.route_input.route.split()),
    )
