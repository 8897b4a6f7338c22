"""The aerodromes that own a SID or STAR of the route, in place of one that does not. Nothing is tried here."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from routecheck.checks.route_queries import connections_with_fault, spans_of_connection
from routecheck.corrections.candidate import Candidate, Question, aerodrome_changes
from routecheck.model import ProcedureElsewhere

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import RoutePoint

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
                        yield _candidate(question, given, owner, f"{connection.name} is its {kind}")


def _candidate(question: Question, given: RoutePoint, owner: str, why: str) -> Candidate:
    is_departure = given is question.route.resolved.route_points[0]
    cost = UNLIKE * sum(a != b for a, b in zip(given.text.ljust(4), owner.ljust(4), strict=False))
    cost -= APPROACHES * math.log1p(len(question.database.procedure_names(owner, "APPROACH")))
    span = None if given.word is None else question.route.parsed.words[given.word].span
    field = question.route_input.departure if is_departure else question.route_input.destination
    meant = owner if field or span is None else ""
    changes = aerodrome_changes(question.route_input, meant if is_departure else "", "" if is_departure else meant)
    return Candidate(why, cost, span, owner if span else "", beside=changes)
