"""Another point at which a SID, STAR or its transition is left or joined, where the typed one is none. No trying."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.sight import spans_of_link
from routecheck.intended import sphere
from routecheck.intended.branches import branches
from routecheck.intended.options import Asked, Option
from routecheck.model import PathTrouble, Via
from routecheck.reckon import airways
from routecheck.wording import nm

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.intended.branches import Branches
    from routecheck.model import CodedProcedure, Link, Place

NM_APART = 12.0
"""So many NM longer count as one: a transition 6 NM longer than the shortest is about as likely."""
OVERSHOOT_DEG = 100.0
"""A transition at which the route would turn more than this has been overshot."""
NOT_NAMED = 1.5
"""What it costs that a point is no transition's: by such a point the way is shorter, meant or not."""
MOST = 5


def joint_options(asked: Asked) -> Iterator[Option]:
    """Another transition in place of the point beside a procedure, by the shortest way that does not overshoot."""
    for index, link in enumerate(asked.route.resolved.links):
        troubles = link.followed.troubles if link.followed else ()
        if PathTrouble.NOT_JOINED in troubles and _is_of(asked, link):
            yield from _at(asked, index, link)


def _is_of(asked: Asked, link: Link) -> bool:
    return set(spans_of_link(asked.route, link)) <= set(asked.finding.spans)


def _at(asked: Asked, index: int, link: Link) -> Iterator[Option]:
    resolved, departing = asked.route.resolved, link.kind == "SID"
    joint = index + 1 if departing else index
    beyond = joint + 1 if departing else joint - 1
    if not 0 <= beyond < len(resolved.stops) or resolved.stops[joint].word is None:
        return
    outside, end = resolved.stops[beyond].place, 0 if departing else -1
    airport, runway = resolved.stops[end].text, resolved.runways[end]
    procedure = asked.library.procedure(airport, link.kind, link.airway)
    shape = branches(asked.library, airport, runway, link.kind, link.airway)
    field = resolved.stops[end].place
    if outside is None or field is None or procedure is None or shape is None:
        return
    word = resolved.parsed.words[resolved.stops[joint].word or 0]
    passed = {stop.text for stop in resolved.stops}
    along = resolved.links[joint if departing else joint - 1]
    ways = sorted(
        (_way(outside, place, shape, field), place.ident, place)
        for place in _joints(procedure)
        if place.ident not in passed and _is_on(asked, along, place)
    )
    fit = [(length, ident) for (length, turn), ident, _ in ways if turn <= OVERSHOOT_DEG][:MOST]
    for length, ident in fit:
        named = ident in shape.named
        what = f"a transition of {link.airway}" if named else f"a point of {link.airway}"
        longer = length - fit[0][0]
        told = f"{nm(longer)} longer than by {fit[0][1]}" if longer else "the shortest way"
        yield Option(f"{what}, {told}", longer / NM_APART + NOT_NAMED * (not named), word.span, ident)


def _joints(procedure: CodedProcedure) -> list[Place]:
    """The points at which a procedure is meant to be left or joined: the outer ends of its transitions and its rest."""
    outer = -1 if procedure.kind == "SID" else 0
    parts = (*procedure.transitions, *(procedure.common or procedure.runways))
    legs = [[leg for leg in branch.legs if leg.fix is not None] for branch in parts]
    found = {own[outer].fix_ident: own[outer].fix for own in legs if own}
    return [place for place in found.values() if place is not None]


def _is_on(asked: Asked, along: Link, place: Place) -> bool:
    """Whether a point is on the airway that the route comes or goes by; any is, off airways."""
    if along.via is not Via.AIRWAY:
        return True
    pieces = asked.library.airways(along.airway)
    return not pieces or airways.on_any(pieces, place)


def _way(outside: Place, joint: Place, shape: Branches, field: Place) -> tuple[float, float]:
    """From the route's point beyond by the joint to the field: the length, NM, and the turn at the joint, degrees."""
    inside = shape.between(joint)
    inward = inside[::-1] if shape.departing else inside
    line = [sphere.unit(place.lat, place.lon) for place in (outside, joint, *inward, field)]
    legs, turns = sphere.measured(line)
    return sum(legs), turns[0] if turns else 0.0
