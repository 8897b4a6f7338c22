"""Time and fuel in words: between which ends, and what they rest on. The figures come from performance."""

from __future__ import annotations

import datetime as dt
from dataclasses import KW_ONLY
from typing import TYPE_CHECKING

from routecheck import formatting
from routecheck.frozen_dataclass import dataclass
from routecheck.model import off_block_day, off_block_time
from routecheck.performance import times
from routecheck.performance.speeds import filed_by_leg
from routecheck.performance.times import WindGiven

if TYPE_CHECKING:
    from routecheck.model import Route
    from routecheck.performance.times import Times

LEAST_KNOWN_SHARE = 0.9
"""With less of its length known a route has no time and no fuel: a figure would be too low to be of use. Our choice."""
_WIND = {
    WindGiven.EVERYWHERE: "wind as given",
    WindGiven.IN_PART: "wind on some legs",
    WindGiven.NOWHERE: "no wind given",
}


@dataclass(frozen=True, slots=True)
class Moment:
    """A time over a point, UTC: minutes from the beginning of the day off-block; `day` None = nobody said which."""

    day: dt.date | None
    minutes: int
    _: KW_ONLY
    is_least: bool
    """Whether a time before it is unknown, so that it is later than this."""

    @property
    def clock(self) -> str:
        """For a table: "14:30", on the next day "00:12+1", not before it "≥ 14:30"."""
        days, rest = divmod(self.minutes, 24 * 60)
        return f"{'≥ ' if self.is_least else ''}{rest // 60:02d}:{rest % 60:02d}{f'+{days}' if days else ''}"

    @property
    def iso(self) -> str:
        """For programs: "2026-12-03T14:30Z", without a day "14:30Z"."""
        days, rest = divmod(self.minutes, 24 * 60)
        time = f"{rest // 60:02d}:{rest % 60:02d}Z"
        try:
            return f"{self.day + dt.timedelta(days)}T{time}" if self.day else time
        except OverflowError:
            return time


def known_times(route: Route) -> Times | None:
    """Time and fuel of a route; None where it was not read, no speed or too little of its length is known."""
    if route.route_input.unread or not (route.route_input.sheet or _speed_known(route)):
        return None
    if (route.totals.checked_share or 0.0) < LEAST_KNOWN_SHARE:
        return None
    found = times.route_times(route)
    return None if found.minutes is None else found


def times_over(route: Route, found: Times | None) -> list[Moment | None]:
    """When each leg ends, counted from off-block; None where no time off-block is given, or that of the leg unknown."""
    off_block = route.route_input.off_block
    begin = off_block_time(off_block)
    if found is None or begin is None:
        return [None] * len(route.legs)
    over: list[Moment | None] = []
    at, is_open = begin.hour * 60 + begin.minute + begin.second / 60.0, False
    for leg in found.legs:
        at, is_open = at + (leg.minutes if leg else 0.0), is_open or leg is None
        over.append(Moment(off_block_day(off_block), round(at), is_least=is_open) if leg else None)
    return over


def _speed_known(route: Route) -> bool:
    """Whether a speed is in force on any leg. The cheap test comes first: most routes of a batch state no speed."""
    stated = route.route_input.speed or any(word.speed for word in route.parsed.words)
    return bool(stated) and any(speed for speed, _ in filed_by_leg(route))


def time_sentence(route: Route, found: Times) -> str:
    """One sentence: "Time 1:33 from take-off at XVAL to landing at XVOR, about 4,190 kg of fuel; no wind given …"."""
    off_block = off_block_time(route.route_input.off_block)
    over = "" if off_block is None else f" Times over from off-block at {off_block:%H:%M} UTC, taxi time not counted."
    least = "at least " if found.gaps else ""
    fuel = "" if found.fuel_kg is None else f", {least}{formatting.about_kg(found.fuel_kg)} of fuel"
    minutes = formatting.duration(found.minutes or 0.0)
    return f"Time {least}{minutes} from {found.begins} to {found.ends}{fuel}; {times_basis(found)}.{over}"


def brief_time(found: Times) -> str:
    """The time for one line beside others: "at least 1:33 take-off to landing, no wind given"."""
    least = "at least " if found.gaps else ""
    ends = "take-off to landing" if found.profile else "overhead to overhead"
    return f"{least}{formatting.duration(found.minutes or 0.0)} {ends}, {_WIND[found.wind]}"


def times_basis(found: Times) -> str:
    """What time and fuel rest on: "wind as given", or that there is none, and what else was assumed."""
    return "; ".join((*found.notes, *((_WIND[found.wind],) if found.wind is WindGiven.EVERYWHERE else ())))
