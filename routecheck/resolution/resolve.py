"""Words to places: for every point the place chosen and those that lost, and how the route leads on from it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from routecheck.formatting import nm, short
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
from routecheck.navdata.coverage import kind_of_name
from routecheck.procedures.route_procedures import (
    RouteEnd,
    add_approach,
    approach_runway,
    departure_end,
    loaded_runways,
    runway_threshold,
    typed_runway,
)
from routecheck.procedures.wording import runway_ident
from routecheck.resolution import chain as chains
from routecheck.resolution.chain import Chain, PendingPoint
from routecheck.resolution.choose import NEAR_LINE_NM, OTHER_PIECE_NM, PlaceChoice, choose_places, drop_empty_junctions
from routecheck.resolution.connections import make_connection
from routecheck.resolution.coverage import chosen_places, covered_points, drop_far_namesakes, open_uncovered_airways
from routecheck.resolution.hints import station_hints
from routecheck.resolution.items import Aerodromes, Item, classify_word
from routecheck.resolution.stated_places import StatedPlaces
from routecheck.resolution.unlisted_aerodromes import find_unlisted_aerodrome

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Sequence

    from routecheck.model import Connection, ParsedRoute, RouteInput
    from routecheck.navdata.database import NavDatabase

_ROLES_BESIDE_PATH = {
    WordKind.CHANGE: WordRole.CHANGE,
    WordKind.RUNWAY: WordRole.RUNWAY,
    WordKind.RULES: WordRole.RULES,
    WordKind.CRUISE_CLIMB: WordRole.CRUISE_CLIMB,
    WordKind.TRUNCATION: WordRole.TRUNCATION,
    WordKind.EUROPEAN: WordRole.EUROPEAN,
}
_STATED = frozenset({WordKind.RUNWAY, WordKind.CHANGE})


def resolve(parsed: ParsedRoute, database: NavDatabase, date: dt.date) -> ResolvedRoute:
    """Find out where every word is. Never raises on what a user typed; what has no place says why."""
    first, last = _aerodrome_words(parsed, database)
    departure = _aerodrome_point(parsed.route_input.departure, first, parsed, database, "departure", date)
    destination = _aerodrome_point(parsed.route_input.destination, last, parsed, database, "destination", date)
    stated = parsed.route_input.approach.strip().upper()
    approach = database.procedure(destination.text, "APPROACH", stated) if stated else None
    of_approach = approach_runway(approach, database) if approach else ""
    runways = _stated_runways(parsed, first, last, of_approach)
    ends = Aerodromes(
        departure.text, destination.text, _sole_candidate(departure), _sole_candidate(destination), runways
    )
    items = _classify_words(parsed, (first, last), database, ends, date)
    chain = chains.build_chain(items, departure, destination, database)
    chain, choice = drop_empty_junctions(*drop_far_namesakes(chain, choose_places(chain), database))
    route_points = _route_points(chain, choice)
    connections = tuple(
        [make_connection(chain, route_points, index, ends, database) for index in range(len(chain.connections))]
    )
    connections = open_uncovered_airways(connections, route_points, database)
    connections = StatedPlaces(parsed).measure_straight(connections, route_points)
    connections = _open_where_unsaid(parsed, items, connections)
    if approach:
        route_points, connections = add_approach(
            route_points, connections, RouteEnd(ends.destination, runways[1]), approach, database
        )
    return ResolvedRoute(
        parsed,
        route_points=route_points,
        connections=connections,
        roles=_word_roles(parsed, items, first, last),
        sources=database.sources,
        runways=runways,
        thresholds=(
            runway_threshold(database, ends.departure, runways[0]),
            runway_threshold(database, ends.destination, runways[1]),
        ),
        other_approaches=database.procedure_names(ends.destination, "APPROACH")
        if stated and approach is None
        else None,
        runways_there=(
            loaded_runways(database, ends.departure, runways[0]),
            loaded_runways(database, ends.destination, runways[1]),
        ),
        departure_end=departure_end(database, ends.departure, runways[0]),
    )


def _classify_words(
    parsed: ParsedRoute,
    aerodromes: tuple[int | None, int | None],
    database: NavDatabase,
    ends: Aerodromes,
    date: dt.date,
) -> list[Item]:
    """The items of all words but the aerodromes at the ends of the text."""
    path = [i for i, word in enumerate(parsed.words) if i not in aerodromes and not _stands_beside(word)]
    direct = {i for i in path if parsed.words[i].kind is WordKind.DIRECT}
    between = {
        here
        for before, here, after in zip(path, path[1:], path[2:], strict=False)
        if direct.isdisjoint((before, after))
    }
    stated = StatedPlaces(parsed)
    classified = (
        stated.classify_word(word, index, database)
        or classify_word(word, index, database, ends, date, is_between=index in between)
        for index, word in enumerate(parsed.words)
        if index not in aerodromes
    )
    return [item for item in classified if item]


def _stands_beside(word: Word) -> bool:
    return word.kind in _ROLES_BESIDE_PATH


def _open_where_unsaid(
    parsed: ParsedRoute, items: Sequence[Item], connections: tuple[Connection, ...]
) -> tuple[Connection, ...]:
    """Make a gap where nothing says how it goes on: in a text without a route, and behind the T of one cut short."""
    if not items:
        return (replace(connections[0], via=Via.UNKNOWN, fault=NoRouteGiven()), *connections[1:])
    if parsed.words[-1].kind is WordKind.TRUNCATION:
        return (*connections[:-1], replace(connections[-1], via=Via.UNKNOWN, fault=RouteCutShort()))
    return connections


def _stated_runways(parsed: ParsedRoute, first: int | None, last: int | None, of_approach: str) -> tuple[str, str]:
    """The runway of the approach, else those stated beside the text, else typed in it."""
    route_input = parsed.route_input
    arriving = of_approach or route_input.destination_runway or typed_runway(parsed, last)
    return runway_ident(route_input.departure_runway or typed_runway(parsed, first)), runway_ident(arriving)


def _aerodrome_words(parsed: ParsedRoute, database: NavDatabase) -> tuple[int | None, int | None]:
    """Indices of the words at the ends of the text that are the aerodromes, where they are typed there."""
    words = parsed.words
    at_start = next((i for i, word in enumerate(words) if not _is_beside_path(word)), None)
    if at_start is None:
        return None, None
    at_end = next(i for i in range(len(words) - 1, -1, -1) if not _is_beside_path(words[i]))
    first = at_start if _is_aerodrome(words[at_start], parsed.route_input.departure, database) else None
    last = (
        at_end if at_end != first and _is_aerodrome(words[at_end], parsed.route_input.destination, database) else None
    )
    return first, last


def _is_beside_path(word: Word) -> bool:
    """Whether an aerodrome may stand before or behind it at an end of the text."""
    return word.kind in _STATED and (word.kind is WordKind.RUNWAY or not word.attached)


def _is_aerodrome(word: Word, given: str, database: NavDatabase) -> bool:
    """Whether the word is the aerodrome given beside the text, or one where none is given there."""
    if word.kind is not WordKind.NAME:
        return False
    if given.strip():
        return word.text == given.strip().upper()
    return len(word.text) == 4 and word.text.isalpha() and database.airport(word.text) is not None


def _aerodrome_point(
    given: str, word: int | None, parsed: ParsedRoute, database: NavDatabase, what: str, date: dt.date
) -> PendingPoint:
    ident = parsed.words[word].text if word is not None else given.strip().upper()
    place = database.airport(ident) if ident else None
    place = place or find_unlisted_aerodrome(ident, database, date)
    place = StatedPlaces(parsed).place_aerodrome(ident, place)
    if place:
        return PendingPoint(word, ident, (place,))
    why = f"{ident} is in neither the loaded data nor the list of the world's airports" if ident else f"no {what} given"
    return PendingPoint(word, ident, (), why=why, unknown=bool(ident))


def _sole_candidate(point: PendingPoint) -> Place | None:
    return point.candidates[0] if point.candidates else None


def _route_points(chain: Chain, choice: PlaceChoice) -> tuple[RoutePoint, ...]:
    places = chosen_places(chain, choice)
    covered = covered_points(chain.points, places, chain.database)
    hints = station_hints(chain.points, places, covered)
    return tuple([_route_point(chain, choice, i, covered[i], hints[i]) for i in range(len(chain.points))])


def _route_point(chain: Chain, choice: PlaceChoice, index: int, covered: bool, hint: Place | None) -> RoutePoint:
    point, pick = chain.points[index], choice.chosen[index]
    place = point.candidates[pick] if pick is not None else None
    text, why = point.text, point.why
    if point.namesake_nm is not None:
        why = f"another {text} is loaded, {nm(point.namesake_nm)} away"
    if place and place.kind is PlaceKind.COMPUTED:
        why = place.name or why
    elif place and point.implied:
        text = place.ident
    elif place is None and 0 < index < len(chain.points) - 1:  # an aerodrome's reason names it
        why = f"{short(text)}: {why}"
    if hint is not None:
        why += f"; an undated world list has a {hint.kind} of that name on the way"
    lost_choices = _lost_choices(chain, choice, index) if pick is not None and not point.implied else ()
    crossings = tuple([tuple([p.ident for p in group]) for group in point.crossings]) if point.crossings else ()
    sure = covered if place is None else chain.database.knows_area_of(kind_of_name(place.ident), place)
    return RoutePoint(
        point.word,
        text,
        place,
        why=why,
        implied=point.implied,
        lost_choices=lost_choices,
        covered=sure,
        unknown=point.unknown,
        hint=hint,
        namesake_nm=point.namesake_nm,
        joined_lines=point.joined_lines,
        crossings=crossings,
    )


def _lost_choices(chain: Chain, choice: PlaceChoice, index: int) -> tuple[LostChoice, ...]:
    point, pick = chain.points[index], choice.chosen[index]
    if len(point.candidates) < 2:
        return ()
    lost = [
        _lost_choice(chain, index, candidate, longer)
        for i, (candidate, longer) in enumerate(zip(point.candidates, choice.longer_nm[index], strict=True))
        if i != pick
    ]
    return tuple(sorted(lost, key=lambda choice: choice.longer_nm if choice.longer_nm is not None else float("inf")))


def _lost_choice(chain: Chain, index: int, candidate: Place, longer_nm: float) -> LostChoice:
    beside = [connection.name for connection in chain.connections[max(index - 1, 0) : index + 1] if connection.pieces]
    if longer_nm < NEAR_LINE_NM or not beside:
        return LostChoice(candidate, longer_nm, "makes the route longer")
    coded = " coded" if longer_nm < OTHER_PIECE_NM else ""
    return LostChoice(candidate, None, f"not{coded} on {' or '.join(beside)}")


def _word_roles(parsed: ParsedRoute, items: list[Item], first: int | None, last: int | None) -> tuple[WordRole, ...]:
    roles = [_ROLES_BESIDE_PATH.get(word.kind, WordRole.UNREAD) for word in parsed.words]
    for index, role in ((first, WordRole.DEPARTURE), (last, WordRole.DESTINATION)):
        if index is not None:
            roles[index] = role
    for item in items:
        if item.word is not None:
            roles[item.word] = item.role
    return tuple(roles)


def route_date(route_input: RouteInput, today: dt.date) -> dt.date:
    """The day the route is judged for: its own where it has one."""
    return route_input.date or today
