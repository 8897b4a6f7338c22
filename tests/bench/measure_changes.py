"""Entry errors beside the text, planted one a route in real routes that are in order, judged by the whole pipeline."""

import datetime as dt
import random
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from scores import Score

from routecheck.corrections.candidate import with_proposal
from routecheck.entry_errors.words import with_neighbours_swapped
from routecheck.model import (
    AltitudeWindow,
    Assessment,
    Connection,
    Finding,
    NotJoined,
    RouteInput,
    Via,
    Weight,
    WordKind,
)
from routecheck.navdata.database import NavDatabase
from routecheck.pipeline import assess
from routecheck.procedures.wording import branch_serves, runway_in_approach_name
from routecheck.settings import Settings
from routecheck.vertical.room import UNBOUNDED
from routecheck.vertical.windows import effective_bounds

DAY = dt.date(2023, 2, 1)
"""Within the cycle of the country file."""
SHEET, SPEED, LEVEL = "Medium jet", "N0450", "F350"
RUNWAY = "departure_runway", "destination_runway"


@dataclass(frozen=True)
class Planted:
    """An entry as meant and as typed, with the checks that may find it."""

    meant: RouteInput
    typed: RouteInput
    checks: tuple[str, ...]


# ---- routes in order


def prepared(route_input: RouteInput, database: NavDatabase, rng: random.Random) -> Assessment | None:
    """The route as it would be filed: level, sheet, runways that its procedures are for; None if it is not quiet."""
    filed = replace(route_input, speed=SPEED, level=LEVEL, aircraft_sheet=SHEET, off_block=DAY)
    bare = said(filed, database)
    connections = [connection for connection in bare.route.resolved.connections if connection.procedure]
    if not connections or any(
        isinstance(fault, NotJoined)
        for connection in connections
        if connection.procedure
        for fault in connection.procedure.faults
    ):
        return None
    for connection in connections:
        served = served_by(connection, bare, database)
        if served and connection.procedure_kind in ("SID", "STAR"):
            filed = replace(filed, **{RUNWAY[connection.procedure_kind == "STAR"]: rng.choice(served)})
    answer = said(filed, database)
    return None if heavy(answer) else answer


def served_by(connection: Connection, answer: Assessment, database: NavDatabase) -> list[str]:
    """The runways that a procedure is for; [] where it has no runway branches, or they are not loaded."""
    airport = answer.route.resolved.route_points[0 if connection.procedure_kind == "SID" else -1].text
    procedure = database.procedure(airport, connection.procedure_kind, connection.name)
    branches = [] if procedure is None else [*procedure.runways, *procedure.common]
    special = [branch for branch in branches if branch.ident.startswith("RW")]
    return [r.ident for r in database.runways(airport) if any(branch_serves(branch, r.ident) for branch in special)]


def said(route_input: RouteInput, database: NavDatabase) -> Assessment:
    """What the whole pipeline says."""
    return assess(route_input, database, Settings(), DAY)


def heavy(answer: Assessment) -> list[Finding]:
    """What is heavier than a Note."""
    return [finding for finding in answer.findings if finding.weight is not Weight.NOTE]


# ---- planting


def _sides(answer: Assessment) -> Iterator[tuple[Connection, str, str]]:
    """(link, field of its runway, airport) of the SID and the STAR with a runway stated."""
    for connection in answer.route.resolved.connections:
        if connection.procedure and connection.procedure_kind in ("SID", "STAR"):
            name = RUNWAY[connection.procedure_kind == "STAR"]
            if getattr(answer.route.route_input, name):
                yield (
                    connection,
                    name,
                    answer.route.resolved.route_points[0 if connection.procedure_kind == "SID" else -1].text,
                )


def _other_direction(ident: str) -> str:
    return f"{(int(ident[:2]) + 17) % 36 + 1:02d}{ {'L': 'R', 'R': 'L'}.get(ident[2:], ident[2:]) }"


def runway_not_served(answer: Assessment, database: NavDatabase, rng: random.Random, kind: str) -> Planted | None:
    """Another runway of the airport that the procedure is not for."""
    for connection, name, airport in _sides(answer):
        meant = getattr(answer.route.route_input, name)
        others = [r.ident for r in database.runways(airport) if r.ident not in served_by(connection, answer, database)]
        if kind == "other direction":
            others = [ident for ident in others if ident == _other_direction(meant)]
        if kind == "other letter":
            others = [ident for ident in others if ident[:2] == meant[:2]]
        if others:
            typed = replace(answer.route.route_input, **{name: rng.choice(others)})
            return Planted(answer.route.route_input, typed, ("runway-not-served",))
    return None


def runway_unknown(answer: Assessment, database: NavDatabase, rng: random.Random, kind: str) -> Planted | None:
    """A runway that the airport has not, one entry error off or two."""
    for _, name, airport in _sides(answer):
        meant = getattr(answer.route.route_input, name)
        there = {r.ident for r in database.runways(airport)}
        if kind == "digits swapped":
            others = [meant[1] + meant[0] + meant[2:]]
        elif kind == "one digit":
            digits = {f"{a}{meant[1]}" for a in "0123"} | {f"{meant[0]}{b}" for b in "0123456789"}
            others = [text + meant[2:] for text in sorted(digits) if 1 <= int(text) <= 36]
        elif kind == "both digits":
            numbers = [f"{number:02d}" for number in range(1, 37)]
            others = [n + meant[2:] for n in numbers if n[0] != meant[0] and n[1] != meant[1] and n != meant[1::-1]]
        elif kind == "one digit and the letter":
            digits = {f"{a}{meant[1]}" for a in "0123"} | {f"{meant[0]}{b}" for b in "0123456789"}
            letters = [letter for letter in ("L", "C", "R", "") if letter != meant[2:]]
            others = [
                text + letter for text in sorted(digits - {meant[:2]}) for letter in letters if 1 <= int(text) <= 36
            ]
        else:
            others = [meant[:2] + letter for letter in "LCR"]
        others = [ident for ident in others if not any(one.startswith(ident) for one in there) and ident != meant]
        if others:
            typed = replace(answer.route.route_input, **{name: rng.choice(others)})
            return Planted(answer.route.route_input, typed, ("runway-unknown",))
    return None


def approach(answer: Assessment, database: NavDatabase, rng: random.Random, kind: str) -> Planted | None:
    """An approach that the destination has not: another letter, two digits swapped, or both."""
    route_input, airport = answer.route.route_input, answer.route.resolved.route_points[-1].text
    there = database.procedure_names(airport, "APPROACH")
    meant = [
        name
        for name in there
        if route_input.destination_runway and runway_in_approach_name(name) == route_input.destination_runway
    ]
    if not meant:
        return None
    name = rng.choice(meant)
    letter = name[0] if kind == "digits swapped" else rng.choice("ILRVDNSXQ".replace(name[0], ""))
    typed = letter + (name[1:] if kind == "other letter" else name[2] + name[1] + name[3:])
    if typed in there:
        return None
    with_it = replace(route_input, approach=name)
    return (
        None
        if heavy(said(with_it, database))
        else Planted(with_it, replace(route_input, approach=typed), ("unknown-procedure",))
    )


def transition(answer: Assessment, database: NavDatabase, rng: random.Random, kind: str) -> Planted | None:
    """The point beside a SID or STAR replaced by a transition of another procedure there."""
    resolved, route_input = answer.route.resolved, answer.route.route_input
    for index, connection in enumerate(resolved.connections):
        if not connection.procedure or connection.procedure_kind not in ("SID", "STAR"):
            continue
        joint = index + 1 if connection.procedure_kind == "SID" else index
        beyond = (
            resolved.connections[joint if connection.procedure_kind == "SID" else joint - 1]
            if 0 < joint < len(resolved.connections)
            else None
        )
        word = resolved.route_points[joint].word
        if beyond is None or word is None or (kind == "by airway") != (beyond.via is Via.AIRWAY):
            continue
        airport = resolved.route_points[0 if connection.procedure_kind == "SID" else -1].text
        own, name = database.transitions(airport, connection.name), resolved.parsed.words[word]
        if name.text not in own or len(own) < 2 or name.kind is not WordKind.NAME:
            continue
        others = {
            ident
            for other in database.procedure_names(airport, connection.procedure_kind)
            if other != connection.name
            for ident in database.transitions(airport, other)
        } - own
        if others:
            text = (
                route_input.route[: name.span.start] + rng.choice(sorted(others)) + route_input.route[name.span.end :]
            )
            return Planted(
                route_input, replace(route_input, route=text), ("join-gap", "off-airway", "best-edit", "unknown-name")
            )
    return None


WINDOW_CHECKS = (
    "window-error", "window-upside-down", "windows-conflict", "climb-in-arrival", "descent-in-departure", "steep"
)  # fmt: skip


def window(answer: Assessment, database: NavDatabase, rng: random.Random, kind: str) -> Planted | None:
    """One window as coded, typed a tenth, ten times, with two digits swapped, or with its bounds exchanged.

    "over the coded" types just that one beside the data's; "nothing coded" has all of them typed and the procedure's
    points in the route instead of its name.
    """
    how, _, where = kind.partition(", ")
    route_input, points = answer.route.route_input, answer.route.points
    coded = {points[i].text: effective_bounds(found) for i, found in enumerate(answer.route.windows) if found}
    coded = {name: bounds for name, bounds in coded.items() if bounds != UNBOUNDED}
    names = [point.text for point in points]
    usable = [name for name in coded if names.count(name) == 1]
    if not usable:
        return None
    name = rng.choice(usable)
    meant = {name: AltitudeWindow(name, *coded[name])}
    if where == "nothing coded":
        route_input = _spelled_out(answer)
        meant = {one: AltitudeWindow(one, *coded[one]) for one in usable}
    others = _mistyped(meant[name], how)
    if not others:
        return None
    windows = {**meant, name: rng.choice(others)}
    typed, right = (replace(route_input, windows=tuple(w.values())) for w in (windows, meant))
    return None if heavy(said(right, database)) else Planted(right, typed, WINDOW_CHECKS)


def _mistyped(window: AltitudeWindow, how: str) -> list[AltitudeWindow]:
    bounds = (window.low_ft, window.high_ft)
    if how == "bounds exchanged":
        return [] if bounds[0] == bounds[1] else [AltitudeWindow(window.point, *bounds[::-1])]
    if how == "two digits swapped":
        return _swaps(window)
    factor = 10.0 if how == "ten times" else 0.1
    return [AltitudeWindow(window.point, *(None if feet is None else feet * factor for feet in bounds))]


def _swaps(window: AltitudeWindow) -> list[AltitudeWindow]:
    """Two digits of one bound swapped, of both where they are one and the same."""
    low, high = window.low_ft, window.high_ft
    found = []
    for feet in sorted({low, high} - {None}):
        for text in with_neighbours_swapped(f"{feet:.0f}"):
            if text[0] != "0":
                changed = [float(text) if bound == feet else bound for bound in (low, high)]
                found.append(AltitudeWindow(window.point, *changed))
    return found


def _spelled_out(answer: Assessment) -> RouteInput:
    """The route with every point of its procedures typed, and none of their names."""
    names = [point.text for point in answer.route.points[1:-1]]
    route_input = answer.route.route_input
    return replace(route_input, route=" DCT ".join(names), departure_runway="", destination_runway="", approach="")


def level(answer: Assessment, database: NavDatabase, rng: random.Random, kind: str) -> Planted | None:
    """The level with two digits swapped, a tenth or ten times; typed in the text or beside it."""
    how, _, where = kind.partition(", ")
    meant = rng.choice(["F310", "F320", "F330", "F340", "F350", "F360", "F370", "F380"])
    digits = meant[1:]
    others = with_neighbours_swapped(digits) if how == "two digits swapped" else [f"0{digits[:-1]}"]
    typed = "F" + rng.choice(others)
    bare = replace(answer.route.route_input, level="", speed="")
    if where == "in the text":
        right, wrong = (replace(bare, route=f"{SPEED}{filed} {bare.route}") for filed in (meant, typed))
    else:
        right, wrong = (replace(bare, speed=SPEED, level=filed) for filed in (meant, typed))
    checks = ("above-ceiling", "level-size", "level-unknown", "level-never-reached")
    return None if heavy(said(right, database)) else Planted(right, wrong, checks)


Planter = Callable[[Assessment, NavDatabase, random.Random, str], Planted | None]
KINDS: list[tuple[str, Planter, str]] = [
    ("runway not served", runway_not_served, "other direction"),
    ("runway not served", runway_not_served, "other letter"),
    ("runway not served", runway_not_served, "any other"),
    ("runway unknown", runway_unknown, "digits swapped"),
    ("runway unknown", runway_unknown, "one digit"),
    ("runway unknown", runway_unknown, "other letter"),
    ("runway unknown", runway_unknown, "both digits"),
    ("runway unknown", runway_unknown, "one digit and the letter"),
    ("approach", approach, "other letter"),
    ("approach", approach, "digits swapped"),
    ("approach", approach, "other letter and digits swapped"),
    ("transition", transition, "by airway"),
    ("transition", transition, "direct"),
    *(
        ("window", window, f"{how}, {where}")
        for where in ("over the coded", "nothing coded")
        for how in ("a tenth", "ten times", "two digits swapped", "bounds exchanged")
    ),
    ("level", level, "two digits swapped, in the text"),
    ("level", level, "two digits swapped, beside it"),
]


# ---- judging


def judged(score: Score, planted: Planted, database: NavDatabase) -> None:
    """Assess what was typed and count what is offered under the findings that are about the error."""
    found = [finding for finding in heavy(said(planted.typed, database)) if finding.check in planted.checks]
    found.sort(key=lambda finding: not finding.likely_intended)
    offers = found[0].likely_intended if found else ()
    right = [_same(with_proposal(planted.typed, proposal), planted.meant) for proposal in offers]
    score.planted += 1
    score.flagged += bool(found)
    score.first += right[:1] == [True]
    score.three += any(right)
    score.silent += bool(found) and not offers
    score.wrong += bool(offers) and not any(right)
    if found and right[:1] != [True]:
        score.to_look_at.append(planted)


def _same(one: RouteInput, other: RouteInput) -> bool:
    return replace(one, windows=()) == replace(other, windows=()) and set(one.windows) == set(other.windows)


def measured(routes: list[RouteInput], database: NavDatabase, cases: int, seed: int = 1) -> dict[str, Score]:
    """Errors of each kind in so many routes of those in order."""
    rng = random.Random(seed)
    answers = [a for e in rng.sample(routes, len(routes)) if (a := prepared(e, database, rng))][: cases * 4]
    table = {}
    for name, plant, kind in KINDS:
        score = table[f"{name}: {kind}"] = Score()
        tried: Counter[str] = Counter()
        for answer in answers:
            if score.planted >= cases:
                break
            if planted := plant(answer, database, rng, kind):
                tried[planted.typed.route] += 1
                judged(score, planted, database)
    return table
