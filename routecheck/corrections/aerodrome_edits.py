"""Corrections of the aerodromes: one letter of an airport off, departure and destination exchanged.

Each is judged as the route would be read with it: another airport has other procedures, and airways that are joined
near the field are joined elsewhere. So the route is resolved again, and what costs little to ask comes first.
"""

from __future__ import annotations

import heapq
import math
from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.corrections.aerodrome_likelihood import (
    distance_between,
    gain_by_aerodrome,
    likelihood,
    most_likelihood,
    neighbour,
)
from routecheck.corrections.outline import Outline, draw_outline
from routecheck.corrections.plausibility import WEIGHTS, gain
from routecheck.corrections.scoring import Edit, Scored, make_edit
from routecheck.entry_errors.kinds import COST, EntryError
from routecheck.entry_errors.similar_names import similar_airports, similar_names
from routecheck.entry_errors.words import words_two_errors_away
from routecheck.model import ParsedRoute, ProcedureElsewhere, UnknownAirway, UnknownProcedure, Via
from routecheck.procedures.branch_choice import KINDS_WITHOUT_IDENT
from routecheck.reading.route_text import read_route
from routecheck.resolution.resolve import resolve

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterator, Sequence

    from routecheck.corrections.plausibility import ShapeFeatures
    from routecheck.corrections.scoring import Scorer
    from routecheck.model import Connection, Place, RouteInput

MOST_TRIED, LONG, MOST_TRIED_OF_LONG = 6, 30, 2
"""So many other airports are tried at an end, of routes with more points than LONG fewer: each resolves them anew."""
LEAST_FAR_NM = 40.0
"""An airport nearer than this to the point beside it is not doubted, unless something there contradicts the data."""
LEAST_SAVED_NM = 5.0
"""What exchanging the aerodromes must save there to be tried, unless something there contradicts the data."""
LEAST_PLACED = 1.0 / 3.0
"""A route of which a smaller share of the points is placed says nothing of its aerodromes."""
LEAST_OTHERS = 2
"""Nor does one with fewer placed points beside the aerodrome in doubt, the other aerodrome counted."""
NEAR_FIELD_NM = 40.0
"""A name this near an airport belongs to it; a point of an airway half as near."""
FAR_FROM_FIELD_NM = 4.0 * NEAR_FIELD_NM
NAME_NEAR_FIELD, EXIT_NEAR_FIELD = 5.0, 3.0
"""What another airport costs more where such a name or point explains as well why the typed one is far away."""
MOST_WON_BY_JOINING = 2.3
"""What joining an airway elsewhere can win at most: by a navaid, and by ln 30 of other airways there."""
NM_PER_DEGREE = 59.7
"""A degree of latitude is no shorter anywhere on the sphere or the ellipsoid."""
_POINTS_OF_MIRROR = 4
"""Two points between two airports: exchanging the points or the ends gives the same line, flown the other way."""
_JUST_BEHIND = 0.1


def aerodrome_edits(scorer: Scorer, day: dt.date) -> list[Edit]:
    """The corrections of the aerodromes that are tried, each as the route would be read with it on that day."""
    last = scorer.outline.last
    if last < 2 or _placed_share(scorer.outline) < LEAST_PLACED:
        return []
    return [*_other_airports(scorer, 0, day), *_other_airports(scorer, last, day), *_exchanged_ends(scorer, day)]


def _placed_share(outline: Outline) -> float:
    """The share of the points between the aerodromes that are placed, 0 to 1."""
    inside = outline.places[1:-1]
    return sum(place is not None for place in inside) / len(inside)


# ---- another airport


def _other_airports(scorer: Scorer, end: int, day: dt.date) -> Iterator[Edit]:
    """Airports one letter away, the procedure's own first, then the nearest to the route."""
    outline = scorer.outline
    near, typed = neighbour(outline, end), outline.places[end]
    others = outline.places[1:] if end == 0 else outline.places[:-1]
    if sum(place is not None for place in others) < LEAST_OTHERS:
        return
    if near is None or not _may_be_mistaken(outline, end, near):
        return
    idents = _idents_worth_trying(scorer, end, near)
    if not idents:
        return
    cost = COST[EntryError.AIRPORT_LETTER] + (_cost_of_rivals(outline, end, near, typed) if typed else 0.0)
    before = scorer.measure_as_typed(0, outline.last)
    for ident in idents:
        yield _try_airport(outline, before, end, ident, cost, day)


def _may_be_mistaken(outline: Outline, end: int, near: Place) -> bool:
    """Whether the aerodrome at an end lies oddly: no procedure of it proves it, and its neighbour is far."""
    connection = outline.resolved.connections[min(end, outline.last - 1)]
    if connection.procedure is not None or not outline.route_points[end].text or _is_hidden(outline, end):
        return False
    typed = outline.places[end]
    return typed is None or connection.fault is not None or distance_between(typed, near) >= LEAST_FAR_NM


def _is_hidden(outline: Outline, end: int) -> bool:
    """Whether the point beside an aerodrome may well exist where the data is not complete: it is no far neighbour."""
    beside = outline.route_points[1 if end == 0 else -2]
    return beside.place is None and beside.unknown and not beside.covered


def _idents_worth_trying(scorer: Scorer, end: int, near: Place) -> list[str]:
    """Those that own the procedure typed there, and those that lie nearer and may be likely enough, best first.

    Not the airport at the other end: few fly round trips.
    """
    outline, typed = scorer.outline, scorer.outline.places[end]
    fault = outline.resolved.connections[min(end, outline.last - 1)].fault
    owners = fault.owners if isinstance(fault, ProcedureElsewhere) else ()
    distance_now = distance_between(typed, near) if typed is not None else math.inf
    least = _least_likelihood(scorer, end)
    found = []
    for ident, place in _similar_airports(outline, end, owners):
        is_farther = abs(place.lat - near.lat) * NM_PER_DEGREE > distance_now
        if ident == outline.route_points[-1 if end == 0 else 0].text or (is_farther and ident not in owners):
            continue
        distance = distance_between(place, near)
        if ident in owners or (distance < distance_now and most_likelihood(outline, end, place, near) > least):
            found.append((ident not in owners, distance, ident))
    most = MOST_TRIED if len(outline.places) <= LONG else MOST_TRIED_OF_LONG
    return [ident for _, _, ident in heapq.nsmallest(most, found)]


def _similar_airports(outline: Outline, end: int, owners: Sequence[str]) -> Iterator[tuple[str, Place]]:
    """The airports one letter away; where there is none of the ident as typed, owners two errors away too."""
    text = outline.route_points[end].text
    yield from similar_airports(outline.database, text)
    for ident, _ in words_two_errors_away(text, owners if outline.places[end] is None else ()):
        if place := outline.database.airport(ident):
            yield ident, place


def _least_likelihood(scorer: Scorer, end: int) -> float:
    """How likely another airport must be to win enough; -inf where it may cure what contradicts the data."""
    outline = scorer.outline
    connection = outline.resolved.connections[min(end, outline.last - 1)]
    if outline.places[end] is None or _may_cure(connection, ""):
        return -math.inf
    most_by_joining = MOST_WON_BY_JOINING if connection.via is Via.AIRWAY else 0.0
    cost = COST[EntryError.AIRPORT_LETTER]
    return likelihood(outline, end) + cost + scorer.thresholds.least_gain - most_by_joining


def _cost_of_rivals(outline: Outline, end: int, near: Place, typed: Place) -> float:
    """What another airport costs more where an error of the word beside it explains the distance as well.

    That word may have been a name near the field, one letter off, or the airway beyond it may have a point there.
    """
    is_far = distance_between(typed, near) >= FAR_FROM_FIELD_NM
    names = similar_names(outline.database, near.ident) if is_far and near.kind not in KINDS_WITHOUT_IDENT else ()
    if any(distance_between(one.place, typed) < NEAR_FIELD_NM for one in names):
        return NAME_NEAR_FIELD
    pieces = outline.connections[1 if end == 0 else -2].pieces
    points = (place for piece in pieces for place in piece.places)
    return EXIT_NEAR_FIELD if any(distance_between(p, typed) < NEAR_FIELD_NM / 2.0 for p in points) else 0.0


def _try_airport(outline: Outline, before: ShapeFeatures, end: int, ident: str, cost: float, day: dt.date) -> Edit:
    """The correction of an aerodrome, in the text where that names it, else beside it."""
    route_input, word = outline.resolved.parsed.route_input, outline.route_points[end].word
    span = None if word is None else outline.resolved.parsed.words[word].span
    departure, destination = (ident, "") if end == 0 else ("", ident)
    corrected = replace(
        route_input, departure=departure or route_input.departure, destination=destination or route_input.destination
    )
    if span is not None:
        corrected = replace(corrected, route=route_input.route[: span.start] + ident + route_input.route[span.end :])
    other = _read_with(outline, corrected, day)
    typed = likelihood(outline, end) if outline.places[end] is not None else WEIGHTS.defects
    likelier = likelihood(other, 0 if end == 0 else other.last) - typed
    after = other.measure(0, other.last)
    scored = Scored(gain_by_aerodrome(before, after, likelier, cost), before, after)
    ends = (0, 1) if end == 0 else (end - 1, end)
    edit = make_edit(scored, EntryError.AIRPORT_LETTER, span, outline.route_points[end].text, ident, ends)
    return edit if span is not None else _with_aerodromes(edit, departure, destination)


def _read_with(outline: Outline, route_input: RouteInput, day: dt.date) -> Outline:
    """The route resolved again with other aerodromes; its words are read again only where they may differ."""
    parsed = outline.resolved.parsed
    names_departure = parsed.words and parsed.words[0].text in (route_input.departure, parsed.route_input.departure)
    if route_input.route != parsed.route_input.route or names_departure:
        parsed = read_route(route_input)
    else:
        parsed = ParsedRoute(route_input, parsed.words)
    return draw_outline(resolve(parsed, outline.database, day), outline.database)


def _with_aerodromes(edit: Edit, departure: str, destination: str) -> Edit:
    return replace(edit, correction=replace(edit.correction, departure=departure, destination=destination))


# ---- departure and destination exchanged


def _exchanged_ends(scorer: Scorer, day: dt.date) -> Iterator[Edit]:
    """Departure and destination exchanged, where both stand beside the text."""
    outline, error = scorer.outline, EntryError.ENDS_EXCHANGED
    if not _may_be_exchanged(outline):
        return
    departure, destination = outline.route_points[0].text, outline.route_points[-1].text
    route_input = replace(outline.resolved.parsed.route_input, departure=destination, destination=departure)
    other = _read_with(outline, route_input, day)
    before, after = scorer.measure_as_typed(0, outline.last), other.measure(0, other.last)
    scored = Scored(gain(before, after, COST[error]), before, after)
    old, new = f"{departure}–{destination}", f"{destination}–{departure}"
    edit = make_edit(scored, error, None, old, new, (0, outline.last))
    yield _with_aerodromes(_behind_its_mirror(scorer, edit), destination, departure)


def _may_be_exchanged(outline: Outline) -> bool:
    """Whether exchanging the ends saves something at them, or may cure a fault there."""
    departure, destination = outline.route_points[0], outline.route_points[-1]
    if departure.word is not None or destination.word is not None or departure.text == destination.text:
        return False
    connections = outline.resolved.connections[0], outline.resolved.connections[-1]
    if any(connection.procedure is not None for connection in connections):
        return False
    if _is_hidden(outline, 0) or _is_hidden(outline, outline.last):
        return False
    start, finish = departure.place, destination.place
    first, last = neighbour(outline, 0), neighbour(outline, outline.last)
    if start is None or finish is None or first is None or last is None:
        return False
    if _may_cure(connections[0], destination.text) or _may_cure(connections[1], departure.text):
        return True
    as_typed = distance_between(start, first) + distance_between(last, finish)
    return as_typed - distance_between(finish, first) - distance_between(last, start) > LEAST_SAVED_NM


def _may_cure(connection: Connection, airport: str) -> bool:
    """Whether a connection beside an aerodrome has a fault that another aerodrome may cure."""
    if isinstance(connection.fault, ProcedureElsewhere):
        return airport in connection.fault.owners
    return connection.fault is not None and not isinstance(connection.fault, UnknownAirway | UnknownProcedure)


def _behind_its_mirror(scorer: Scorer, edit: Edit) -> Edit:
    """Of two that give the same line the error in the text goes first, unless the data knows better."""
    outline, places = scorer.outline, scorer.outline.places
    if len(places) != _POINTS_OF_MIRROR or any(route_point.implied for route_point in outline.route_points[1:3]):
        return edit
    exchanged = [places[0], places[2], places[1], places[3]]
    mirror = scorer.score_stretch(0, 3, exchanged, outline.connections, COST[EntryError.POINTS_EXCHANGED])
    if edit.correction.defects > round(mirror.before.features.defects - mirror.after.features.defects):
        return edit
    least = min(edit.correction.gain, mirror.gain - _JUST_BEHIND)
    return replace(edit, correction=replace(edit.correction, gain=least))
