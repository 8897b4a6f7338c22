"""Other aerodromes beside the text: the ends of the text for those beside it, the owner of a SID or STAR.

Nothing is tried here.
"""

from __future__ import annotations

import math
from itertools import product
from typing import TYPE_CHECKING

from routecheck.checks.route_queries import connections_with_fault, spans_of_connection
from routecheck.checks.text_ends import differing_ends
from routecheck.corrections.candidate import Candidate, Question
from routecheck.model import FieldChange, ProcedureElsewhere, Span

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.checks.text_ends import TextEnd
    from routecheck.model import RouteInput, RoutePoint
    from routecheck.navdata.database import NavDatabase

_BY_TEXT, _BY_FIELDS = 0.0, 0.4
"""What is left beside the text from another flight is likelier than a text with the ends of another: our choice."""
_MOST_OWNERS = 3
_SIDES = (("departure", ("departure_runway",)), ("destination", ("destination_runway", "approach")))
"""An end of the flight, and what belongs to the aerodrome there and goes with it."""


def agreed_ends(question: Question) -> Iterator[Candidate]:
    """The aerodromes of the text in the fields, and those of the fields in the text."""
    ends = differing_ends(question.route)
    served = [_cost_owners(question.database, end) if end else {"": 0.0} for end in ends]
    for chosen in product(*served):
        beside = tuple(_changes_beside(question.route_input, chosen))
        cost = _BY_TEXT + sum(costs[ident] for costs, ident in zip(served, chosen, strict=True))
        yield Candidate("as the text says", cost, beside=beside)
    if all(end is None or not end.told_by for end in ends):
        yield _ends_of_fields(question.route_input.route, ends)


def _cost_owners(database: NavDatabase, end: TextEnd) -> dict[str, float]:
    """The aerodromes where the text may end, with what each costs: nothing that of the most coded approaches."""
    served = {ident: APPROACHES * math.log1p(len(database.procedure_names(ident, "APPROACH"))) for ident in end.idents}
    likeliest = sorted(served, key=served.__getitem__, reverse=True)[:_MOST_OWNERS]
    return {ident: served[likeliest[0]] - served[ident] for ident in likeliest}


def _changes_beside(route_input: RouteInput, chosen: tuple[str, ...]) -> Iterator[FieldChange]:
    for ident, (field, more) in zip(chosen, _SIDES, strict=True):
        if ident:
            yield FieldChange(field, getattr(route_input, field), ident)
            for name in more:
                if old := getattr(route_input, name):
                    yield FieldChange(name, old, "")


def _ends_of_fields(text: str, ends: tuple[TextEnd | None, TextEnd | None]) -> Candidate:
    """The text with the aerodromes beside it at its ends, from the first that differs to the last."""
    differing = [(end.spans[0], end.given) for end in ends if end]
    start, end = differing[0][0].start, differing[-1][0].end
    new = differing[0][1]
    if len(differing) > 1:
        new += text[differing[0][0].end : differing[-1][0].start] + differing[-1][1]
    return Candidate("as the fields say", _BY_FIELDS, Span(start, end), new)


UNLIKE, APPROACHES = 0.7, 2.0
"""What each letter costs in which the owner's ident differs from the one given, and what ln(1 + number of its coded
approaches) is worth: the more there are, the more routes lead there. Our choice."""


def owning_aerodromes(question: Question) -> Iterator[Candidate]:
    """Each owner of the procedure at its end of the route: few fly round trips, so never the airport at the other."""
    route_points = question.route.resolved.route_points
    for _, connection, fault, start, end in connections_with_fault(question.route, ProcedureElsewhere):
        if spans_of_connection(question.route, connection) != question.finding.spans:
            continue
        for kind, given, other, beside in (
            ("SID", route_points[0], route_points[-1], start),
            ("STAR", route_points[-1], route_points[0], end),
        ):
            if given is beside:
                for owner in fault.owners:
                    if owner != other.text and kind in question.database.procedure_kinds(owner, connection.name):
                        yield _make_owner(question, given, owner, f"{connection.name} is its {kind}")


def _make_owner(question: Question, given: RoutePoint, owner: str, why: str) -> Candidate:
    is_departure = given is question.route.resolved.route_points[0]
    cost = UNLIKE * sum(a != b for a, b in zip(given.text.ljust(4), owner.ljust(4), strict=False))
    cost -= APPROACHES * math.log1p(len(question.database.procedure_names(owner, "APPROACH")))
    span = None if given.word is None else question.route.parsed.words[given.word].span
    field = question.route_input.departure if is_departure else question.route_input.destination
    meant = owner if field or span is None else ""
    changes = aerodrome_changes(question.route_input, meant if is_departure else "", "" if is_departure else meant)
    return Candidate(why, cost, span, owner if span else "", beside=changes)


def aerodrome_changes(route_input: RouteInput, departure: str, destination: str) -> tuple[FieldChange, ...]:
    """Which of the two aerodromes beside the text become others; "" = that one stays."""
    pairs = (("departure", route_input.departure, departure), ("destination", route_input.destination, destination))
    return tuple(FieldChange(field, old, new) for field, old, new in pairs if new and new != old)
