"""Assessments as rows of text cells: the legs, the findings, what was not checked. Plain Python, no layout."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from routecheck.citations import cite
from routecheck.present.acceptance import said_of
from routecheck.present.headline import WEIGHT_MARKS, WEIGHT_NAMES
from routecheck.present.time_words import times_of
from routecheck.reckon.heights import OPEN
from routecheck.reckon.windows import bounds
from routecheck.wording import column_nm, course, heights_allowed, position, short

if TYPE_CHECKING:
    from routecheck.model import Assessment, Fact, Leg, Place
    from routecheck.reckon.times import LegTime

LEG_COLUMNS = ("from", "to", "via", "°T", "°M", "NM", "sum NM", "window at the end", "min", "about kg")
ALWAYS = 7
"""So many of them are always there, the others only where a leg has something under them."""


@dataclass(frozen=True, slots=True)
class FindingRow:
    """One finding as a reader sees it; `number` counts in route order and marks it everywhere."""

    number: int
    mark: str
    weight: str
    check: str
    message: str
    facts: tuple[tuple[str, str], ...]
    rests_on: tuple[str, ...]
    intended: tuple[str, ...] = ()
    """The likely intended corrections, best first, each as one line of evidence."""
    accepted: str = ""
    """Who accepted it, when and why, or that an acceptance no longer holds; "" where nobody did."""


def leg_rows(assessment: Assessment) -> list[tuple[str, ...]]:
    """The heads, then one row a leg: a gap is "open" and has no figures, sums say ≥ after it. All rows equally long.

    Why a leg is open is told in the headline; columns that are not always there are left out where they are empty.
    """
    rows = [LEG_COLUMNS, *_all_cells(assessment)]
    kept = [i for i in range(len(LEG_COLUMNS)) if i < ALWAYS or any(row[i] for row in rows[1:])]
    return [tuple(row[i] for i in kept) for row in rows]


def _all_cells(assessment: Assessment) -> list[tuple[str, ...]]:
    route = assessment.route
    times = times_of(route)
    held = bounds(route, fields=False)
    rows: list[tuple[str, ...]] = []
    total, open_before = 0.0, False
    for index, leg in enumerate(route.legs):
        total += leg.distance_nm or 0.0
        open_before = open_before or leg.distance_nm is None
        rows.append(
            (
                short(route.points[index].text) or "–",
                short(route.points[index + 1].text) or "–",
                _via(leg),
                course(leg.course_true_deg),
                course(leg.course_magnetic_deg),
                "" if leg.distance_nm is None else column_nm(leg.distance_nm),
                f"{'≥ ' if open_before else ''}{column_nm(total)}",
                "" if held[index + 1] == OPEN else heights_allowed(*held[index + 1]),
                *_time_cells(times.legs[index] if times else None),
            )
        )
    return rows


def finding_rows(assessment: Assessment) -> list[FindingRow]:
    """The findings in route order."""
    accepted = said_of(assessment)
    return [
        FindingRow(
            number=number,
            mark=WEIGHT_MARKS[finding.weight],
            weight=WEIGHT_NAMES[finding.weight],
            check=finding.check,
            message=finding.message,
            facts=tuple((fact.name, fact_value(fact)) for fact in finding.facts),
            rests_on=tuple(str(cite(key)) for key in finding.citations),
            intended=tuple(proposal.why for proposal in finding.likely_intended),
            accepted=accepted.get(number - 1, ""),
        )
        for number, finding in enumerate(assessment.findings, start=1)
    ]


def not_checked_rows(assessment: Assessment) -> list[tuple[str, str]]:
    """(check, why) for everything that had no ground to be judged on, the same reason once."""
    rows = [(n.check, n.because) for n in assessment.not_checked]
    rows += [(check, f"could not run: {what}") for check, what in assessment.could_not_run]
    return list(dict.fromkeys(rows))


def place_line(place: Place) -> str:
    """A place for a hover: "PIKAR, fix, 31°30.0′S 012°15.0′E"."""
    return f"{place.ident}, {place.kind.value}, {position(place.lat, place.lon)}"


def fact_value(fact: Fact) -> str:
    """A fact with its unit; degrees cling to their number, and a turn says its side."""
    if fact.name == "turn" and not isinstance(fact.value, str):
        return f"{abs(fact.value):g}° {'left' if fact.value < 0 else 'right'}"
    is_plain = isinstance(fact.value, float | int) and abs(fact.value) < 1e6
    value = f"{fact.value:,g}" if is_plain else str(fact.value)
    return f"{value}{'' if fact.unit in ('', '°') else ' '}{fact.unit}"


def _via(leg: Leg) -> str:
    return leg.via if leg.distance_nm is not None else f"{leg.via} (open)"


def _time_cells(time: LegTime | None) -> tuple[str, str]:
    minutes, kg = (None, None) if time is None else (time.minutes, time.fuel_kg)
    return "" if minutes is None else f"{minutes:.1f}", "" if kg is None else f"{kg:,.0f}"
