"""Check misplaced-word."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limits, check
from routecheck.checks.route_queries import connections_with_ends, kinds_of_words, spans_of_words
from routecheck.model import NAVAIDS, Finding, NotChecked, PlaceKind, Via, Weight, WordKind, WordRole

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Route, RoutePoint

_NOT_ON_PATH = frozenset(
    {WordKind.CHANGE, WordKind.RUNWAY, WordKind.RULES, WordKind.CRUISE_CLIMB, WordKind.TRUNCATION, WordKind.EUROPEAN}
)
_AIRWAYS = frozenset({WordRole.AIRWAY, WordRole.UNKNOWN_AIRWAY})
_POINTS = NAVAIDS | {PlaceKind.FIX, PlaceKind.TERMINAL_FIX}


@check(
    "misplaced-word",
    Weight.WRONG,
    family=Family.READING,
    sentence=(
        "A word stands where it may not: a SID not first, a STAR not last, T not last, DCT or an airway twice, DCT "
        "beside an airway, or a DCT is left out."
    ),
    explanation=(
        "A route that never writes DCT is read as direct throughout, and nothing is found. One that writes it in some "
        "places and leaves it out in others gets a Note; so does VFR or IFR behind a slash, which is read. A FIR "
        "designator used as a point is an unknown name."
    ),
    false_alarms="none known.",
    citations=["field-15"],
    flagged=[
        "LENDU DCT «LENDU1» DCT PIKAR",
        "LENDU «SARNO2» PIKAR",
        "LENDU «T» DCT PIKAR",
        "LENDU DCT «DCT» PIKAR",
        "LENDU UM12 «UM12» PIKAR",
        "LENDU UM12 «DCT» PIKAR DCT SARNO",
        "LENDU «DCT» UM12 PIKAR",
        "LENDU DCT PIKAR/«VFR» DCT SARNO",
    ],
    quiet=["LENDU1 LENDU DCT SARNO SARNO2", "LENDU DCT PIKAR T", "LENDU DCT PIKAR VFR DCT SARNO", "LENDU PIKAR TOVIK"],
)
def misplaced_word(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    kinds = kinds_of_words(route)
    if WordRole.SID in route.resolved.roles or WordRole.STAR in route.resolved.roles:
        yield from _misplaced_procedures(route)
    if WordKind.TRUNCATION in kinds:
        yield from _words_after_truncation(route)
    if WordKind.RULES in kinds:
        yield from _rules_behind_slash(route)
    if WordKind.DIRECT in kinds:
        yield from _repeated_direct(route)
        yield from _missing_direct(route)
        yield from _direct_beside_airway(route)
    yield from _repeated_airway(route)


def _misplaced_procedures(route: Route) -> Iterator[Finding]:
    roles = route.resolved.roles
    path = [i for i, word in enumerate(route.parsed.words) if word.kind not in _NOT_ON_PATH]
    path = [i for i in path if roles[i] not in (WordRole.DEPARTURE, WordRole.DESTINATION)]
    for place, index in enumerate(path):
        text = route.parsed.words[index].text
        if roles[index] is WordRole.SID and place != 0:
            message = f"{text} is a SID but not the first word of the route."
            yield Finding(spans_of_words(route, index), message, Weight.WRONG)
        if roles[index] is WordRole.STAR and place != len(path) - 1:
            message = f"{text} is a STAR but not the last word of the route."
            yield Finding(spans_of_words(route, index), message, Weight.WRONG)


def _words_after_truncation(route: Route) -> Iterator[Finding]:
    last = len(route.parsed.words) - 1
    for index, word in enumerate(route.parsed.words):
        if word.kind is WordKind.TRUNCATION and index != last:
            message = "T ends the part of a route that is repeated: nothing may follow it."
            yield Finding(spans_of_words(route, index), message, Weight.WRONG)


def _rules_behind_slash(route: Route) -> Iterator[Finding]:
    for index, word in enumerate(route.parsed.words):
        if word.kind is WordKind.RULES and word.attached:
            message = f"{word.text} stands behind a slash and is read as a change of rules: that stands behind a blank."
            yield Finding(spans_of_words(route, index), message, Weight.NOTE)


def _repeated_direct(route: Route) -> Iterator[Finding]:
    for index, (before, after) in enumerate(pairwise(route.parsed.words)):
        if before.kind is WordKind.DIRECT and after.kind is WordKind.DIRECT:
            message = "DCT stands twice in a row: a point between them may be missing."
            yield Finding(spans_of_words(route, index + 1), message, Weight.NOTE)


def _direct_beside_airway(route: Route) -> Iterator[Finding]:
    """An airway begins and ends at a point: one that stands beside DCT has lost it."""
    words, roles = route.parsed.words, route.resolved.roles
    for index, (before, after) in enumerate(pairwise(words)):
        airway = next((at for at in (index, index + 1) if roles[at] in _AIRWAYS), None)
        if airway is not None and WordKind.DIRECT in (before.kind, after.kind):
            direct = 2 * index + 1 - airway
            where = "behind" if airway == index else "before"
            message = f"DCT stands {where} {words[airway].text}: the point of the airway there may be missing."
            yield Finding(spans_of_words(route, direct), message, Weight.DOUBTFUL)


def _repeated_airway(route: Route) -> Iterator[Finding]:
    """One finding for each airway written again right behind itself, however often."""
    for connection in route.resolved.connections:
        if connection.via is Via.AIRWAY and len(connection.words) > 1 and _is_repeated(route, connection.words):
            times = "twice" if len(connection.words) == 2 else f"{len(connection.words):,} times"
            message = f"{connection.name} stands {times} in a row: a point or another airway between may be missing."
            yield Finding(spans_of_words(route, *connection.words[1:]), message, Weight.DOUBTFUL)


def _is_repeated(route: Route, words: Sequence[int]) -> bool:
    return len({route.parsed.words[index].text for index in words}) == 1


def _missing_direct(route: Route) -> Iterator[Finding]:
    missing = [
        (start, end)
        for connection, start, end in connections_with_ends(route)
        if connection.via is Via.IMPLIED and _is_named_point(start) and _is_named_point(end)
    ]
    if missing:
        start, end = missing[0]
        more = f", and {len(missing) - 1} more" if len(missing) > 1 else ""
        message = f"No DCT between {start.text} and {end.text}{more}, though the route writes DCT elsewhere."
        yield Finding(spans_of_words(route, start.word, end.word), message, Weight.NOTE)


def _is_named_point(route_point: RoutePoint) -> bool:
    return (
        route_point.word is not None
        and not route_point.implied
        and route_point.place is not None
        and route_point.place.kind in _POINTS
    )
