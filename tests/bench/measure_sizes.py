"""Speeds and levels with one slip, filed on real routes in order: which are flagged, and what is proposed first."""

import datetime as dt
from collections.abc import Callable, Iterable
from dataclasses import replace

from scores import Score

from routecheck.model import Assessment, RouteInput, Weight
from routecheck.navdata.database import NavDatabase
from routecheck.pipeline import assess_many
from routecheck.settings import Settings
from routecheck.vertical.levels import level_ft

DAY = dt.date(2023, 2, 1)
SIZES = ("speed-size", "level-size")
JETS = [(f"N0{kt}", f"F{level}") for kt in range(430, 500, 10) for level in range(280, 420, 10)]
MACHS = [(f"M0{mach}", f"F{level}") for mach in range(74, 87, 2) for level in range(280, 420, 10)]
TURBOPROPS = [(f"N0{kt}", f"F{level}") for kt in range(250, 340, 10) for level in range(180, 280, 10)]
PISTONS = [(f"N0{kt}", f"A{level:03d}") for kt in range(100, 210, 10) for level in range(40, 130, 10)]
USUAL = (*JETS, *MACHS, *TURBOPROPS, *PISTONS)
"""What is filed every day: both checks stay quiet on it."""

SLIPS: dict[str, tuple[tuple[str, str], Callable[[str, str], str]]] = {
    "speed: zero moved, N0045": (("N0450", "F350"), lambda speed, level: f"N00{speed[2:4]}{level}"),
    "speed: zero moved, N4500": (("N0450", "F350"), lambda speed, level: f"N{speed[2:]}0{level}"),
    "speed: digits swapped, N0540": (("N0450", "F350"), lambda speed, level: f"N0{speed[3]}{speed[2]}0{level}"),
    "speed: M820": (("M082", "F350"), lambda speed, level: f"M{speed[2:]}0{level}"),
    "speed: M028": (("M082", "F350"), lambda speed, level: f"M0{speed[3]}{speed[2]}{level}"),
    "speed: km/h as knots, N0830": (("K0830", "F350"), lambda speed, level: f"N{speed[1:]}{level}"),
    "speed: knots as km/h, K0450": (("N0450", "F350"), lambda speed, level: f"K{speed[1:]}{level}"),
    "level: a digit short, F035": (("N0450", "F350"), lambda speed, level: f"{speed}F0{level[1:3]}"),
    "level: in tens, F3500": (("N0450", "F350"), lambda speed, level: f"{speed}{level}0"),
    "level: digits swapped, F530": (("N0450", "F350"), lambda speed, level: f"{speed}F{level[2]}{level[1]}0"),
}
"""Ten slips: what was meant, and how it comes to be typed."""


def filed(route_input: RouteInput, speed_and_level: str) -> RouteInput:
    """The route with a speed and level before it."""
    return replace(route_input, route=f"{speed_and_level} {route_input.route}", off_block=DAY)


def quiet_when_filed(routes: Iterable[RouteInput], database: NavDatabase, most: int) -> list[RouteInput]:
    """The routes that carry nothing Wrong or Doubtful with every speed and level that is meant."""
    found = list(routes)
    for speed, level in {meant for meant, _ in SLIPS.values()}:
        typed = [filed(one, speed + level) for one in found]
        answers = assess_many(typed, database, Settings(), DAY)
        found = [one for one, answer in zip(found, answers, strict=True) if answer.heaviest() in (None, Weight.NOTE)]
    return found[:: max(len(found) // most, 1)][:most]


def slips_found(routes: Iterable[RouteInput], database: NavDatabase) -> dict[str, Score]:
    """For each slip the score over all routes."""
    routes = list(routes)
    scores = {}
    for name, ((speed, level), slip) in SLIPS.items():
        score = scores[name] = Score()
        typed = [filed(one, slip(speed, level)) for one in routes]
        for meant, answer in zip(routes, assess_many(typed, database, Settings(), DAY), strict=True):
            first_word = answer.route.parsed.words[0].span
            heavy = [f for f in answer.findings if f.weight is not Weight.NOTE and first_word in f.spans]
            offers = [proposal.route for finding in heavy for proposal in finding.likely_intended]
            right = f"{speed}{level} {meant.route}"
            score.planted += 1
            score.flagged += bool(heavy)
            score.first += offers[:1] == [right]
            score.three += right in offers[:3]
            score.silent += bool(heavy) and not offers
            score.wrong += bool(offers) and offers[0] != right
    return scores


def false_alarms(routes: Iterable[RouteInput], figures: Iterable[tuple[str, str]], database: NavDatabase) -> list[str]:
    """What the two checks say of usual figures, one pair a route in turn, where they clear both aerodromes."""
    figures = list(figures)
    typed = [filed(one, "".join(figures[i % len(figures)])) for i, one in enumerate(routes)]
    return [
        f"{answer.route.route_input.route}: {finding.message}"
        for answer in assess_many(typed, database, Settings(), DAY)
        for finding in answer.findings
        if finding.check in SIZES and not _is_below_a_field(answer)
    ]


def _is_below_a_field(answer: Assessment) -> bool:
    ends = [answer.route.points[end].place for end in (0, -1)]
    feet = level_ft(answer.route.parsed.words[0].level) or 0.0
    return any(place is not None and (place.elevation_ft or 0.0) > feet for place in ends)
