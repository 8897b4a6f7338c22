"""Check unlike-known."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limit, Limits, case, check, exceeds
from routecheck.checks.route_queries import spans_of_words
from routecheck.checks.usage_queries import lacking_known_routes
from routecheck.citations import OWN_CHOICE
from routecheck.formatting import listing
from routecheck.model import Fact, Finding, NotChecked, Weight, WordKind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import KnownUsage, Route, WordUsage

BOTH_UNSEEN = Limit(
    "both_unseen_routes",
    4.0,
    "known routes",
    OWN_CHOICE,
    highest=1_000_000.0,
    why="known routes that join the words beside by another word, where none joins this one to either of them",
)
ONE_UNSEEN = Limit(
    "one_unseen_routes",
    8.0,
    "known routes",
    OWN_CHOICE,
    highest=1_000_000.0,
    why="the same, where known routes join this word to one of them and none to the other",
)
MOST_NAMED = 3
_ENDS = ("XVOR", "XVMA", "XVDU", "XVKE", "XVSU")
_KNOWN = [f"XVAL {end}: LENDU UM12 TOVIK {after}" for end in _ENDS for after in ("SARNO", "ORO")]
_MORE = [f"XVAL {end}: VAL UM12 TOVIK ORO" for end in _ENDS]


@check(
    "unlike-known",
    Weight.DOUBTFUL,
    family=Family.KNOWN,
    sentence="A word joins two others that known routes join by another word, and never by this one.",
    explanation=(
        "Known routes are collections of routes that you trust. In them the words are counted in pairs and in threes: "
        "capitals, without DCT, speeds and levels, a procedure without its number. A word is Doubtful where known "
        "routes have another word between the same two and none has this one, and none has it beside one of the two "
        "at all; a Note where the word is an airway or a procedure that the data joins to both. A typed position is "
        "not counted. That a route is new does not make it wrong. A Note where known routes begin at the departure "
        "and end at the destination, but none leads from one to the other. "
        "Where one does, the nearest is named with what differs."
    ),
    false_alarms="a new way between old points; a list that is short, or of other flights.",
    limits=[BOTH_UNSEEN, ONE_UNSEEN],
    requires=(lacking_known_routes,),
    flagged=[
        case("LENDU UM12 «RULPO» SARNO", known=_KNOWN),
        case("LENDU UM12 «PIKAR» ORO", known=[*_KNOWN, *_MORE, "PIKAR ORO"]),
        case(
            "LENDU UM12 DUL",
            destination="XVDU",
            whole=True,
            known=["XVAL XVOR: LENDU UM12 TOVIK", "XVMA XVDU: MAV DCT DUL"],
        ),
    ],
    quiet=[
        case("LENDU UM12 DUL", destination="XVDU", known=["XVAL XVOR: LENDU UM12 TOVIK"]),
        case("LENDU UM12 TOVIK SARNO", known=_KNOWN),
        case("LENDU UM12 RULPO NILAK", known=_KNOWN),
        case("LENDU UM12 RULPO SARNO", known=_KNOWN[:-2]),
        case("LENDU UM12 PIKAR ORO", known=[*_KNOWN, *_MORE[:3], "PIKAR ORO"]),
        case("LENDU UM12 31S004E SARNO", known=_KNOWN),
        "LENDU UM12 RULPO SARNO",
    ],
)
def unlike_known(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    usage = route.usage
    if usage is None:
        return
    for word in usage.words:
        if _is_unlike(word, limit) and route.parsed.words[word.word].kind is not WordKind.RADIAL_DISTANCE:
            yield _finding(route, word)
    if not usage.between and usage.knows_ends:
        yield _no_known_route(route, usage)


def _is_unlike(word: WordUsage, limit: Limits) -> bool:
    if not word.is_counted or word.through or (word.behind and word.ahead):
        return False
    return exceeds(word.otherwise, limit[ONE_UNSEEN if word.behind or word.ahead else BOTH_UNSEEN])


def _finding(route: Route, word: WordUsage) -> Finding:
    text = route.parsed.words[word.word].text
    first = word.others[0]
    message = f"{text}: no known route has it between {word.before} and {word.after}. {first.text}: {first.clause}."
    facts = (
        *(Fact(f"known routes with {other.text} there", other.routes) for other in word.others[:MOST_NAMED]),
        Fact(f"known routes with {text} behind {word.before}", word.behind),
        Fact(f"known routes with {text} before {word.after}", word.ahead),
        *_collections(route),
    )
    weight = Weight.NOTE if _is_sound_way(route, word.word) else Weight.DOUBTFUL
    return Finding(spans_of_words(route, word.word), message, weight, facts, points=_points(route, word))


def _is_sound_way(route: Route, word: int) -> bool:
    """Whether a word is an airway or a procedure that joins the words beside it in the data: there are often two."""
    ways = [one for one in route.resolved.connections if word in one.words]
    return any((one.segments or one.procedure) and not one.is_blocked for one in ways)


def _points(route: Route, word: WordUsage) -> tuple[int, ...]:
    """The point that the word names; none of an airway or procedure."""
    numbers = {number for number, one in enumerate(route.resolved.route_points) if one.word == word.word}
    return tuple(place for place, point in enumerate(route.points) if point.route_point in numbers)


def _collections(route: Route) -> tuple[Fact, ...]:
    return (Fact("collection", listing(route.usage.collections)),) if route.usage else ()


def _no_known_route(route: Route, usage: KnownUsage) -> Finding:
    departure, destination = route.points[0].text, route.points[-1].text
    message = f"No known route leads from {departure} to {destination}."
    return Finding((), message, Weight.NOTE, (Fact("collection", listing(usage.collections)),))
