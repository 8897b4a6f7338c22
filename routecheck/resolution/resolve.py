"""Words to stops and links: the places chosen, the losers kept with the reason, airways followed on one piece."""

from __future__ import annotations

from dataclasses import replace
from itertools import accumulate
from typing import TYPE_CHECKING

from routecheck.formatting import short
from routecheck.model import (
    LostChoice,
    NoRouteGiven,
    Place,
    PlaceKind,
    ResolvedRoute,
    RouteCutShort,
    RoutePoint,
    Via,
    Word,
    WordKind,
    WordRole,
)
from routecheck.procedures.route_procedures import (
    Side,
    far_end,
    field_of,
    runway_of,
    runway_typed,
    runways_there,
    with_approach,
)
from routecheck.procedures.wording import runway_ident
from routecheck.resolution import chain as chains
from routecheck.resolution.chain import Chain, Slot
from routecheck.resolution.choose import OTHER_PIECE_NM, Choice, choose, without_empty_joints
from routecheck.resolution.connections import link_of
from routecheck.resolution.items import Ends, Item, item_of

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Sequence

    from routecheck.model import Connection, ParsedRoute, RouteInput
    from routecheck.navdata.database import NavDatabase

_BESIDE_THE_PATH = {
    WordKind.CHANGE: WordRole.CHANGE,
    WordKind.RUNWAY: WordRole.RUNWAY,
    WordKind.RULES: WordRole.RULES,
    WordKind.CRUISE_CLIMB: WordRole.CRUISE_CLIMB,
    WordKind.TRUNCATION: WordRole.TRUNCATION,
}
_STATED = frozenset({WordKind.RUNWAY, WordKind.CHANGE})


def resolve(parsed: ParsedRoute, database: NavDatabase, date: dt.date) -> ResolvedRoute:
    """Find out where every word is. Never raises on what a user typed; what has no place says why."""
    first, last = _aerodrome_words(parsed, database)
    departure = _end(parsed.route_input.departure, first, parsed, database, "departure")
    destination = _end(parsed.route_input.destination, last, parsed, database, "destination")
    stated = parsed.route_input.approach.strip().upper()
    approach = database.procedure(destination.text, "APPROACH", stated) if stated else None
    of_approach = runway_of(approach, database) if approach else ""
    runways = _runways(parsed, first, last, of_approach)
    ends = Ends(departure.text, destination.text, _only(departure), _only(destination), runways)
    items = [
        item
        for index, word in enumerate(parsed.words)
        if index not in (first, last) and (item := item_of(word, index, database, ends, date))
    ]
    chain = chains.build(items, departure, destination, database)
    chain, choice = without_empty_joints(chain, choose(chain))
    places = _chosen(chain, choice)
    covered = _covered(chain, places, database)
    route_points = tuple([_stop(chain, choice, index, covered[index]) for index in range(len(chain.slots))])
    connections = tuple([link_of(chain, route_points, index, ends, database) for index in range(len(chain.ties))])
    connections = _without_what_is_missing(parsed, items, connections)
    if approach:
        route_points, connections = with_approach(
            route_points, connections, Side(ends.destination, runways[1]), approach, database
        )
    return ResolvedRoute(
        parsed,
        route_points=route_points,
        connections=connections,
        roles=_roles(parsed, items, first, last),
        sources=database.sources,
        runways=runways,
        thresholds=(field_of(database, ends.departure, runways[0]), field_of(database, ends.destination, runways[1])),
        other_approaches=database.procedure_names(ends.destination, "APPROACH")
        if stated and approach is None
        else None,
        runways_there=(
            runways_there(database, ends.departure, runways[0]),
            runways_there(database, ends.destination, runways[1]),
        ),
        departure_end=far_end(database, ends.departure, runways[0]),
    )


def _without_what_is_missing(
    parsed: ParsedRoute, items: Sequence[Item], connections: tuple[Connection, ...]
) -> tuple[Connection, ...]:
    """No connection is direct where nothing says so: in a text without a route, and behind the T of one cut short."""
    if not items:
        return (replace(connections[0], via=Via.UNKNOWN, fault=NoRouteGiven()), *connections[1:])
    if parsed.words[-1].kind is WordKind.TRUNCATION:
        return (*connections[:-1], replace(connections[-1], via=Via.UNKNOWN, fault=RouteCutShort()))
    return connections


def _runways(parsed: ParsedRoute, first: int | None, last: int | None, of_approach: str) -> tuple[str, str]:
    """The runway of the approach, else those stated beside the text, else typed in it."""
    route_input = parsed.route_input
    arriving = of_approach or route_input.destination_runway or runway_typed(parsed, last)
    return runway_ident(route_input.departure_runway or runway_typed(parsed, first)), runway_ident(arriving)


def _aerodrome_words(parsed: ParsedRoute, database: NavDatabase) -> tuple[int | None, int | None]:
    """Indices of the words at the ends of the text that are the aerodromes, where they are typed there."""
    words = parsed.words
    at_start = next((i for i, word in enumerate(words) if not _is_beside(word)), None)
    if at_start is None:
        return None, None
    at_end = next(i for i in range(len(words) - 1, -1, -1) if not _is_beside(words[i]))
    first = at_start if _is_aerodrome(words[at_start], parsed.route_input.departure, database) else None
    last = (
        at_end if at_end != first and _is_aerodrome(words[at_end], parsed.route_input.destination, database) else None
    )
    return first, last


def _is_beside(word: Word) -> bool:
    """Whether an aerodrome may stand before or behind it at an end of the text."""
    return word.kind in _STATED and (word.kind is WordKind.RUNWAY or not word.attached)


def _is_aerodrome(word: Word, given: str, database: NavDatabase) -> bool:
    """Whether the word is the aerodrome given beside the text, or one where none is given there."""
    if word.kind is not WordKind.NAME:
        return False
    if given.strip():
        return word.text == given.strip().upper()
    return len(word.text) == 4 and word.text.isalpha() and database.airport(word.text) is not None


def _end(given: str, word: int | None, parsed: ParsedRoute, database: NavDatabase, what: str) -> Slot:
    ident = parsed.words[word].text if word is not None else given.strip().upper()
    place = database.airport(ident) if ident else None
    if place:
        return Slot(word, ident, (place,))
    why = f"{ident} is in neither the loaded data nor the list of the world's airports" if ident else f"no {what} given"
    return Slot(word, ident, (), why=why, unknown=bool(ident))


def _only(slot: Slot) -> Place | None:
    return slot.candidates[0] if slot.candidates else None


def _chosen(chain: Chain, choice: Choice) -> list[Place | None]:
    picks = zip(chain.slots, choice.chosen, strict=True)
    return [slot.candidates[pick] if pick is not None else None for slot, pick in picks]


def _covered(chain: Chain, places: Sequence[Place | None], database: NavDatabase) -> list[bool]:
    """For every stop whether its name would surely be in the data.

    An unknown name is only surely missing where the data knows the neighbourhood of the stops around it.
    """
    if not any(slot.unknown for slot in chain.slots):
        return [True] * len(places)
    return [
        not slot.unknown or (bool(beside) and all(database.covers(p.lat, p.lon) for p in beside))
        for slot, beside in zip(chain.slots, _placed_beside(places), strict=True)
    ]


def _stop(chain: Chain, choice: Choice, index: int, covered: bool) -> RoutePoint:
    slot, pick = chain.slots[index], choice.chosen[index]
    place = slot.candidates[pick] if pick is not None else None
    text, why = slot.text, slot.why
    if place and place.kind is PlaceKind.COMPUTED:
        why = place.name or why
    elif place and slot.implied:
        text = place.ident
    elif place is None and 0 < index < len(chain.slots) - 1:  # an aerodrome's reason names it
        why = f"{short(text)}: {why}"
    others = _losers(chain, choice, index) if pick is not None and not slot.implied else ()
    groups = tuple([tuple([p.ident for p in group]) for group in slot.groups]) if slot.groups else ()
    sure = place is not None or covered
    return RoutePoint(
        slot.word,
        text,
        place,
        why=why,
        implied=slot.implied,
        others=others,
        covered=sure,
        unknown=slot.unknown,
        joins=slot.joins,
        groups=groups,
    )


def _losers(chain: Chain, choice: Choice, index: int) -> tuple[LostChoice, ...]:
    slot, pick = chain.slots[index], choice.chosen[index]
    if len(slot.candidates) < 2:
        return ()
    lost = [
        _lost(chain, index, candidate, longer)
        for i, (candidate, longer) in enumerate(zip(slot.candidates, choice.longer_nm[index], strict=True))
        if i != pick
    ]
    return tuple(sorted(lost, key=lambda choice: choice.longer_nm if choice.longer_nm is not None else float("inf")))


def _lost(chain: Chain, index: int, candidate: Place, longer_nm: float) -> LostChoice:
    beside = [tie.name for tie in chain.ties[max(index - 1, 0) : index + 1] if tie.pieces]
    if longer_nm < OTHER_PIECE_NM or not beside:
        return LostChoice(candidate, longer_nm, "makes the route longer")
    return LostChoice(candidate, None, f"not on {' or '.join(beside)}")


def _placed_beside(places: Sequence[Place | None]) -> list[list[Place]]:
    """For every stop the nearest placed ones before and after it, itself counted."""
    before = accumulate(places, _later_if_placed)
    after = reversed(list(accumulate(reversed(places), _later_if_placed)))
    return [[p for p in pair if p] for pair in zip(before, after, strict=True)]


def _later_if_placed(last: Place | None, place: Place | None) -> Place | None:
    return place or last


def _roles(parsed: ParsedRoute, items: list[Item], first: int | None, last: int | None) -> tuple[WordRole, ...]:
    roles = [_BESIDE_THE_PATH.get(word.kind, WordRole.UNREAD) for word in parsed.words]
    for index, role in ((first, WordRole.DEPARTURE), (last, WordRole.DESTINATION)):
        if index is not None:
            roles[index] = role
    for item in items:
        if item.word is not None:
            roles[item.word] = item.role
    return tuple(roles)


def entry_date(route_input: RouteInput, today: dt.date) -> dt.date:
    """The day the route is judged for: its own where it has one."""
    return route_input.date or today
