"""Corrections of the aerodromes: one letter of an airport off, departure and destination exchanged.

Each is judged as the route would be read with it: another airport has other procedures, and airways that are joined
near the field are joined elsewhere. So the route is resolved again, and what costs little to ask comes first.
"""

from __future__ import annotations

import heapq
import math
from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.corrections import fields
from routecheck.corrections.airports import apart, beside, may_be_cured, may_be_exchanged, may_be_mistaken
from routecheck.corrections.edits import Edit, edit
from routecheck.corrections.names import airports_off, names_off
from routecheck.corrections.plausibility import gain
from routecheck.corrections.sketch import Sketch, sketch
from routecheck.entry_errors.costs import COST, Slip
from routecheck.model import ParsedRoute, ProcedureElsewhere, Via
from routecheck.procedures.branch_choice import NO_IDENT
from routecheck.reading.route_text import read_route
from routecheck.resolution.resolve import resolve

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterator

    from routecheck.corrections.edits import Scorer
    from routecheck.corrections.plausibility import ShapeFeatures
    from routecheck.model import Place, RouteInput

MOST_TRIED, LONG, MOST_OF_LONG = 6, 30, 2
"""So many other airports are tried at an end, of routes with more stops than LONG fewer: each resolves them anew."""
BY_THE_FIELD_NM = 40.0
"""A name this near an airport belongs to it; a point of an airway half as near."""
NAME_BY_THE_FIELD, EXIT_BY_THE_FIELD = 5.0, 3.0
_MIRRORED = 4
"""Two points between two airports: exchanging the points or the ends gives the same line, flown the other way."""
_JUST_BEHIND = 0.1
_MOST_OF_JOINT = 2.3
"""What joining an airway elsewhere can win at most: by a navaid, and by ln 30 of other airways there."""
NM_PER_DEGREE = 59.7
"""A degree of latitude is no shorter anywhere on the sphere or the ellipsoid."""


def end_candidates(scorer: Scorer, day: dt.date) -> list[Edit]:
    """The corrections of the aerodromes that are tried, each as the route would be read with it on that day."""
    last = len(scorer.drawn.nodes) - 1
    if last < 2:
        return []
    return [*_letters(scorer, 0, day), *_letters(scorer, last, day), *_exchanged(scorer, day)]


def _letters(scorer: Scorer, end: int, day: dt.date) -> Iterator[Edit]:
    drawn = scorer.drawn
    near_by, typed, ident = beside(drawn, end), drawn.nodes[end], drawn.route_points[end].text
    if near_by is None or not may_be_mistaken(drawn, end):
        return
    connection = drawn.resolved.connections[min(end, len(drawn.ways) - 1)]
    owners = connection.fault.owners if isinstance(connection.fault, ProcedureElsewhere) else ()
    now = apart(typed, near_by) if typed is not None else math.inf
    least, back = _least_worth(drawn, end, scorer.thresholds.least_gain), drawn.route_points[-1 if end == 0 else 0].text
    near = []
    for name, place in airports_off(drawn.database, ident):
        if name == back or (abs(place.lat - near_by.lat) * NM_PER_DEGREE > now and name not in owners):
            continue  # a round trip, which few fly, or farther off by its latitude alone
        distance = apart(place, near_by)
        if name in owners or (distance < now and fields.at_most(drawn, end, place, near_by) > least):
            near.append((name not in owners, distance, name))
    more = _explained(drawn, end, near_by, typed) if near and typed is not None else 0.0
    before = _whole(drawn) if near else None
    for _, _, name in heapq.nsmallest(MOST_TRIED if len(drawn.nodes) <= LONG else MOST_OF_LONG, near):
        if before:
            yield _tried(drawn, before, end, name, COST[Slip.AIRPORT_LETTER] + more, day)


def _explained(drawn: Sketch, end: int, near: Place, typed: Place) -> float:
    """What another airport costs more where an error of the word beside it explains as well why that is far away.

    The word may have been a name by the field that is one letter off, or the airway beyond it has a point by the field.
    """
    far = apart(typed, near) >= 4.0 * BY_THE_FIELD_NM
    names = names_off(drawn.database, near.ident) if far and near.kind not in NO_IDENT else ()
    if any(apart(one.place, typed) < BY_THE_FIELD_NM for one in names):
        return NAME_BY_THE_FIELD
    points = (place for piece in drawn.ways[1 if end == 0 else -2].pieces for place in piece.places)
    return EXIT_BY_THE_FIELD if any(apart(place, typed) < BY_THE_FIELD_NM / 2.0 for place in points) else 0.0


def _least_worth(drawn: Sketch, end: int, least_gain: float) -> float:
    """What another airport must be worth to win enough: where all is in order, asking costs less than trying."""
    connection = drawn.resolved.connections[min(end, len(drawn.ways) - 1)]
    if drawn.nodes[end] is None or may_be_cured(connection, ""):
        return -math.inf
    joined = _MOST_OF_JOINT if connection.via is Via.AIRWAY else 0.0
    return fields.worth(drawn, end) + COST[Slip.AIRPORT_LETTER] + least_gain - joined


def _tried(drawn: Sketch, before: ShapeFeatures, end: int, name: str, cost: float, day: dt.date) -> Edit:
    route_input = drawn.resolved.parsed.route_input
    word = drawn.route_points[end].word
    span = None if word is None else drawn.resolved.parsed.words[word].span
    departure, destination = (name, "") if end == 0 else ("", name)
    other = replace(
        route_input, departure=departure or route_input.departure, destination=destination or route_input.destination
    )
    if span is not None:
        other = replace(other, route=route_input.route[: span.start] + name + route_input.route[span.end :])
    scored = _airport_scored(drawn, before, end, _read_with(drawn, other, day), cost)
    first, last = (0, 1) if end == 0 else (end - 1, end)
    one = edit(scored, Slip.AIRPORT_LETTER, span, drawn.route_points[end].text, name, first, last)
    return one if span is not None else replace(one, departure=departure, destination=destination)


def _read_with(drawn: Sketch, route_input: RouteInput, day: dt.date) -> Sketch:
    """The route, resolved again with other aerodromes; the words are the same where the text is and names none."""
    parsed = drawn.resolved.parsed
    named = parsed.words and parsed.words[0].text in (route_input.departure, parsed.route_input.departure)
    again = route_input.route != parsed.route_input.route or named
    parsed = read_route(route_input) if again else ParsedRoute(route_input, parsed.words)
    return sketch(resolve(parsed, drawn.database, day), drawn.database)


def _whole(drawn: Sketch) -> ShapeFeatures:
    return drawn.looks(0, len(drawn.nodes) - 1)


def _airport_scored(
    drawn: Sketch, before: ShapeFeatures, end: int, other: Sketch, cost: float
) -> tuple[float, ShapeFeatures, ShapeFeatures]:
    """(gain, before, after) with another airport at one end."""
    after = _whole(other)
    better = fields.worth(other, 0 if end == 0 else len(other.nodes) - 1) - fields.worth(drawn, end)
    return fields.gain(before, after, better, cost), before, after


def _exchanged(scorer: Scorer, day: dt.date) -> Iterator[Edit]:
    """Departure and destination exchanged, where both stand beside the text."""
    drawn = scorer.drawn
    if not may_be_exchanged(drawn):
        return
    last = len(drawn.nodes) - 1
    one, two = drawn.route_points[0].text, drawn.route_points[last].text
    route_input = replace(drawn.resolved.parsed.route_input, departure=two, destination=one)
    before, after = _whole(drawn), _whole(_read_with(drawn, route_input, day))
    scored = gain(before, after, COST[Slip.ENDS_EXCHANGED]), before, after
    found = edit(scored, Slip.ENDS_EXCHANGED, None, f"{one}–{two}", f"{two}–{one}", 0, last)
    yield replace(_behind_its_mirror(scorer, found), departure=two, destination=one)


def _behind_its_mirror(scorer: Scorer, found: Edit) -> Edit:
    """Of two that give the same line the error in the text goes first, unless the data knows better."""
    drawn, nodes = scorer.drawn, scorer.drawn.nodes
    if len(nodes) != _MIRRORED or drawn.route_points[1].implied or drawn.route_points[2].implied:
        return found
    exchanged = [nodes[0], nodes[2], nodes[1], nodes[3]]
    won, before, after = scorer.stretch(0, 3, exchanged, drawn.ways, COST[Slip.POINTS_EXCHANGED])
    if found.defects > round(before.features.defects - after.features.defects):
        return found
    return replace(found, gain=min(found.gain, won - _JUST_BEHIND))
