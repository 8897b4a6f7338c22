"""Check airway-level."""

from __future__ import annotations

import re
from enum import Enum, auto
from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.altitude_queries import spans_of_stretch
from routecheck.checks.catalogue import Family, Limits, case, check, exceeds
from routecheck.checks.level_flight import LevelPart, level_parts
from routecheck.checks.route_queries import is_us_region, spans_of_connection
from routecheck.formatting import altitude, count, level
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Fact, Finding, NotChecked, Weight
from routecheck.vertical.transition import levels_from_ft

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route, Span

_LETTER = re.compile(r"([VTJQ])\d{1,3}")
_HIGH_FROM_FT, _HIGH_TO_FT = 18_000.0, 45_000.0


@check(
    "airway-level",
    Weight.DOUBTFUL,
    family=Family.AIRWAYS,
    sentence=(
        "The filed level is below the published minimum of an airway, or above its maximum, where it is flown level."
    ),
    explanation=(
        "Flown against the order in which the airway is coded, the second minimum of its record is used, which is "
        "probably that of this direction. Doubtful, because lower obstacle-clearance or radar altitudes may apply. In "
        "the United States a level that is not of the airway's class (V and T below 18,000 ft, J and Q from there to "
        "FL450) is a Note. A minimum that the data does not give is not checked, never taken for zero. Of each filed "
        "level the worst leg is named."
    ),
    false_alarms=(
        "levels assigned under radar; a climb or descent that begins late; a record whose second minimum means "
        "something else."
    ),
    citations=["airway-classes", "arinc-424"],
    requires=(preconditions.lacking_minima,),
    flagged=[
        "«N0450F190» LENDU «UM12» UVAGI DCT SARNO",
        "«N0450F240» LENDU DCT PIKAR «V40» DAKRO DCT SARNO",
        case("KEL «V14» FINAR DCT VAL", departure="XVKE", destination="XVAL", level="A075"),
        "N0450F350 LENDU UM12 PIKAR/«N0450F190» «UM12» RULPO DCT SARNO",
    ],
    quiet=[
        "N0450F250 LENDU UM12 UVAGI DCT SARNO",
        case("FINAR V14 KEL", destination="XVKE", level="A075"),
        case("N0140A030 NIR DCT DERUS V27 HOSTU DCT FINAR", departure="XVMA", destination="XVAL"),
        case("N0450F240 MAV UL7 TEMGU DCT HADRU", departure="XVMA"),
        "N0450F190 LENDU DCT UVAGI DCT SARNO",
        "LENDU UM12 UVAGI DCT SARNO",
    ],
)
def airway_level(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    judgements: dict[tuple[int | None, _Fault], list[_Judgement]] = {}
    for part in level_parts(route):
        judgement = _judge(route, part)
        if judgement:
            judgements.setdefault((part.filed.word, judgement.fault), []).append(judgement)
    for (_, fault), alike in judgements.items():
        worst = max(alike, key=lambda judgement: judgement.off_ft)
        more = f" and on {count(len(alike) - 1, 'more leg')}" if len(alike) > 1 else ""
        yield _minimum_unknown(route, worst, more) if fault is _Fault.UNKNOWN else _finding(route, worst, more)


class _Fault(Enum):
    BELOW = auto()
    ABOVE = auto()
    NOT_OF_CLASS = auto()
    UNKNOWN = auto()


@dataclass(frozen=True, slots=True)
class _Judgement:
    """What is wrong with the level on one leg of an airway: which fault, in words, and by how many feet."""

    part: LevelPart
    fault: _Fault
    against: str = ""
    off_ft: float = 0.0
    facts: tuple[Fact, ...] = ()


def _judge(route: Route, part: LevelPart) -> _Judgement | None:
    minima = route.minima[part.leg]
    if not minima.on_airway:
        return None
    least, most = minima.minimum_ft, minima.maximum_ft
    if least is not None and exceeds(least, part.feet):
        minimum = altitude(least, levels_from_ft(route, part.leg))
        against = f"below the published minimum of {minimum}; lower obstacle-clearance or radar altitudes may apply"
        return _Judgement(part, _Fault.BELOW, against, least - part.feet, (Fact("minimum", round(least), "ft"),))
    if most is not None and exceeds(part.feet, most):
        against = f"above the published maximum of {altitude(most, levels_from_ft(route, part.leg))}"
        return _Judgement(part, _Fault.ABOVE, against, part.feet - most, (Fact("maximum", round(most), "ft"),))
    against = _not_of_its_class(route, part)
    if against:
        return _Judgement(part, _Fault.NOT_OF_CLASS, against)
    return _Judgement(part, _Fault.UNKNOWN) if least is None else None


def _not_of_its_class(route: Route, part: LevelPart) -> str:
    """Why the level is none of the airway's class in the United States; "" where it is, or elsewhere."""
    leg = route.legs[part.leg]
    letter = _LETTER.fullmatch(route.resolved.connections[leg.connection].name)
    places = [route.points[i].place for i in (part.leg, part.leg + 1)]
    if not letter or not all(place and is_us_region(place.region) for place in places):
        return ""
    if letter[1] in "VT":
        return "not below 18,000 ft, as these airways are" if not exceeds(_HIGH_FROM_FT, part.feet) else ""
    within = not exceeds(_HIGH_FROM_FT, part.feet) and not exceeds(part.feet, _HIGH_TO_FT)
    return "" if within else "not from FL180 to FL450, as these airways are"


def _spans_of_part(route: Route, part: LevelPart) -> tuple[Span, ...]:
    connection = route.resolved.connections[route.legs[part.leg].connection]
    return tuple(sorted({*spans_of_stretch(route, part.filed), *spans_of_connection(route, connection)}))


def _airway_stretch(route: Route, part: LevelPart) -> str:
    a, b = (route.points[i].text for i in (part.leg, part.leg + 1))
    return f"{route.resolved.connections[route.legs[part.leg].connection].name} from {a} to {b}"


def _minimum_unknown(route: Route, judgement: _Judgement, more: str) -> NotChecked:
    part = judgement.part
    return NotChecked(
        _spans_of_part(route, part), f"the data gives no minimum for {_airway_stretch(route, part)}{more}"
    )


def _finding(route: Route, judgement: _Judgement, more: str) -> Finding:
    part = judgement.part
    message = f"{level(part.filed.level)} on {_airway_stretch(route, part)}{more} is {judgement.against}."
    facts = (Fact("level", round(part.feet), "ft"), *judgement.facts)
    weight = Weight.NOTE if judgement.fault is _Fault.NOT_OF_CLASS else Weight.DOUBTFUL
    return Finding(_spans_of_part(route, part), message, weight, facts, points=(part.leg, part.leg + 1))
