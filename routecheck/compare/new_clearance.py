"""Puts a clearance into the route in hand: "direct X, then as filed" becomes a whole route. Nothing is guessed.

What a clearance does not say is said: where the rest goes on, what is kept, what is gone. Where it cannot be known
where the rest begins, there is no new route, and why.
"""

from __future__ import annotations

import re
from dataclasses import KW_ONLY, replace
from typing import TYPE_CHECKING, Any, NamedTuple

from routecheck.formatting import listing, quote
from routecheck.frozen_dataclass import dataclass
from routecheck.model import InputKind, NotUsed, Role, Use, WordKind, WordRole
from routecheck.reading.clearances.clearance import read_clearance

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route, RouteInput
    from routecheck.reading.clearances.clearance import Clearance

_PROCEDURE = re.compile(r"[A-Z]{2,6}\d[A-Z]?")
_SIDS = frozenset({WordRole.SID})
_STARS = frozenset({WordRole.STAR})
_NOTHING = "no phrase of a clearance is in it: written as it is said, “cleared direct TOVIK, then as filed”"


@dataclass(frozen=True, slots=True)
class NewClearance:
    """The route in hand with a clearance put into it; `fault` says why there is none.

    `version` has the role cleared, and the version before as its other one. `notes` say what was put where and what
    was kept without being said, `unread` are the stretches of the clearance that are no phrases of one.
    """

    version: RouteInput | None
    _: KW_ONLY
    fault: str = ""
    notes: tuple[str, ...] = ()
    unread: tuple[str, ...] = ()


class _Rest(NamedTuple):
    """Where the route in hand goes on behind a point: the text from there on."""

    text: str
    start: int


def put_in_clearance(route: Route, text: str) -> NewClearance:
    """Read a clearance and put it into a route."""
    found = read_clearance(text)
    unread = tuple(
        " ".join(text[part.span.start : part.span.end].strip(" ,.;").split())
        for part in found.parts
        if part.use in (Use.AROUND, Use.UNREAD)
    )
    if not (found.route or found.is_rest_as_filed or _says_something_beside(found)):
        return NewClearance(None, fault=_NOTHING, unread=unread)
    words, fault, notes = _write_route(route, found)
    if fault:
        return NewClearance(None, fault=fault, unread=unread)
    before = replace(route.route_input, other=None)
    changes, said = _values_beside(before, found)
    words, level_notes = _write_level(words, found.level, route)
    if found.level and not level_notes and found.level != before.level:
        changes["level"] = found.level
        said.append(f"Level: {found.level}{f' in place of {before.level}' if before.level else ''}.")
    lost = [NotUsed(InputKind.TEXT, quote(one, 60), "the clearance", "it was not read") for one in unread if one]
    version = replace(
        before,
        route=words,
        role=Role.CLEARED,
        other=before,
        pasted=None,
        not_used=(*before.not_used, *lost),
        **changes,
    )
    return NewClearance(version, notes=(*notes, *level_notes, *said), unread=unread)


def _says_something_beside(found: Clearance) -> bool:
    return bool(
        found.level or found.windows or found.departure_runway or found.destination_runway or found.first_altitude
    )


def _write_route(route: Route, found: Clearance) -> tuple[str, str, list[str]]:
    """The new route text, why there is none, and what has to be said of it."""
    text = route.route_input.route
    words = found.route.split()
    if not words:
        return text, "", []
    sid, star = _word_of_role(route, _SIDS), _word_of_role(route, _STARS)
    if len(words) == 1 and _PROCEDURE.fullmatch(words[0]) and words[0] != sid:
        return _change_procedure(route, words[0])
    rest = _find_rest(route, words[-1])
    if rest is None and found.is_rest_as_filed:
        return "", f"{words[-1]} is not on the route in hand: it cannot be known where the rest as filed begins", []
    opening, notes = _write_opening(route, words)
    if rest is None:
        ends = f" to {found.destination}" if found.destination else ""
        notes.append(f"The route as cleared ends at {words[-1]}{ends}: nothing is kept of what was filed behind it.")
        return " ".join((*opening, *words)), "", notes
    if not found.is_rest_as_filed:
        notes.append(f"What follows {words[-1]} was not said: it is kept as it was.")
    if gone := _name_gone(route, rest, words, sid, star):
        notes.append(f"No longer on the route: {listing(gone)}.")
    return " ".join((*opening, *words, rest.text)).strip(), "", notes


def _word_of_role(route: Route, roles: frozenset[WordRole]) -> str:
    pairs = zip(route.parsed.words, route.resolved.roles, strict=True)
    return next((word.text for word, role in pairs if role in roles), "")


def _change_procedure(route: Route, name: str) -> tuple[str, str, list[str]]:
    """Another SID or STAR in the place of the one that is there: by its name, or by where it begins or ends."""
    roles = (WordRole.SID, WordRole.STAR)
    there = [(word, role) for word, role in zip(route.parsed.words, route.resolved.roles, strict=True) if role in roles]
    same_stem = [one for one in there if _stem(one[0].text) == _stem(name)]
    chosen = same_stem[0] if same_stem else next((one for one in there if one[1] is WordRole.SID), None)
    text = route.route_input.route
    if chosen is None:
        return f"{name} {text}".strip(), "", [f"{name} is put before the first word: no SID was there."]
    word, role = chosen
    changed = f"{text[: word.span.start]}{name}{text[word.span.end :]}"
    return changed, "", [f"{role.value} {name} in place of {word.text}."]


def _stem(name: str) -> str:
    return re.sub(r"\d.*", "", name)


def _write_opening(route: Route, words: list[str]) -> tuple[list[str], list[str]]:
    """What stands before the words of the clearance: speed and level, the SID that is not replaced, with its end."""
    parsed, roles = route.parsed.words, route.resolved.roles
    opening = [word.text for word in parsed[:1] if word.kind is WordKind.CHANGE]
    index = next((i for i, role in enumerate(roles) if role is WordRole.SID), None)
    if index is None or _PROCEDURE.fullmatch(words[0]):
        how = "" if _PROCEDURE.fullmatch(words[0]) else f"Direct from {route.points[0].text} to {words[0]}."
        return opening, [how] if how else []
    opening.append(parsed[index].text)
    follows = parsed[index + 1 : index + 2]
    if follows and roles[index + 1] is WordRole.POINT and follows[0].text != words[0]:
        opening += [follows[0].text, "DCT"]
        return opening, [f"{parsed[index].text} is kept to {follows[0].text}, then direct {words[0]}."]
    return opening, [f"{parsed[index].text} is kept, then {words[0]}."]


def _find_rest(route: Route, name: str) -> _Rest | None:
    """What follows a point that the route goes by, also inside an airway or a STAR; None where it does not."""
    text = route.route_input.route
    for index in range(len(route.points) - 1, 0, -1):
        point = route.points[index]
        if point.text != name or point.span is None:
            continue
        word = next((word for word in route.parsed.words if word.span == point.span), None)
        is_named = word is not None and word.text == name
        start = point.span.end if is_named else point.span.start
        return _Rest(text[start:].strip(), point.span.start)
    return None


def _name_gone(route: Route, rest: _Rest, words: list[str], sid: str, star: str) -> list[str]:
    """The points of the text that are left out."""
    kept = {*words, sid, star}
    pairs = list(zip(route.parsed.words, route.resolved.roles, strict=True))
    follows_sid = {pairs[i + 1][0].text for i, (_, role) in enumerate(pairs[:-1]) if role is WordRole.SID}
    points = (WordRole.POINT, WordRole.POSITION, WordRole.RADIAL_DISTANCE)
    return [
        word.text
        for word, role in pairs
        if role in points and word.span.start < rest.start and word.text not in kept | follows_sid
    ]


def _values_beside(before: RouteInput, found: Clearance) -> tuple[dict[str, Any], list[str]]:
    """What a clearance says beside the route, by the name of its field, and in sentences what is changed by it."""
    said = (
        ("destination", found.destination),
        ("departure_runway", found.departure_runway),
        ("destination_runway", found.destination_runway),
        ("first_altitude", found.first_altitude),
    )
    changes: dict[str, Any] = {name: value for name, value in said if value and value != getattr(before, name)}
    if found.windows:
        points = {window.point for window in found.windows}
        changes["windows"] = (*(one for one in before.windows if one.point not in points), *found.windows)
    sentences = [
        f"{name.replace('_', ' ').capitalize()}: {value}." for name, value in changes.items() if name != "windows"
    ]
    if found.windows:
        sentences.append(f"Altitude windows as cleared at {listing([window.point for window in found.windows])}.")
    return changes, sentences


def _write_level(text: str, level: str, route: Route) -> tuple[str, list[str]]:
    """The text with the level as cleared, where its first word gives one. Else the field beside it holds the level."""
    first = route.parsed.words[0] if route.parsed.words else None
    if not level or first is None or first.kind is not WordKind.CHANGE or not text.upper().startswith(first.text):
        return text, []
    return f"{first.speed}{level}{text[len(first.text) :]}", [f"Level: {level} in place of {first.level}."]


def describe_unread(new: NewClearance) -> str:
    """What of a clearance was not read, as a sentence; "" where all was."""
    words = [quote(one, 60) for one in new.unread if one]
    return f"Not read: {listing(words)}. Look at it yourself." if words else ""


def sentences_of(new: NewClearance) -> Iterator[str]:
    """All that is to be said of a clearance put in, or not put in."""
    if new.fault:
        yield f"{new.fault[:1].upper()}{new.fault[1:]}."
    yield from new.notes
    if unread := describe_unread(new):
        yield unread
