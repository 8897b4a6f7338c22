"""Which checks a route is put to. Routes are much alike, and a few plans serve for thousands of them."""

from __future__ import annotations

import logging
from dataclasses import dataclass
from functools import lru_cache, partial
from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Check, CheckFunction, Limits
from routecheck.model import Finding, NotChecked, Outcome

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.checks.catalogue import Need, Where
    from routecheck.model import Route

UNREAD_ROW = "unread-row"
"""The one check of what could not be read at all: there is nothing there for the others."""
_NOTHING_READ = "nothing of it could be read"
_LOG = logging.getLogger(__name__)

Asked = tuple[int, Check, CheckFunction]
"""A check that a route is put to: its place in the catalogue, the check, and how it is asked."""


@dataclass(frozen=True, slots=True)
class Plan:
    """The checks that a route is put to; what the others come to, and all outcomes as they are if nothing is said."""

    asked: tuple[Asked, ...]
    not_checked: tuple[tuple[int, NotChecked], ...]
    outcomes: tuple[tuple[str, Outcome], ...]


def plan_for(route: Route, checks: tuple[Check, ...]) -> Plan:
    """The plan for a route, by what the checks ask of it beforehand."""
    if route.route_input.unread:
        return _plan_of_unread(checks)
    try:
        return _plan(checks, tuple([ground(route) for ground in _grounds(checks)]))
    except Exception:
        _LOG.exception("what the checks ask for could not be told")
        return _plan_of_each(checks)


@lru_cache(maxsize=64)
def _grounds(checks: tuple[Check, ...]) -> tuple[Where | Need, ...]:
    """What these checks ask before they are put to a route, each question once."""
    return tuple(dict.fromkeys(ground for check in checks for ground in (check.applies_to, *check.requires) if ground))


@lru_cache(maxsize=1024)
def _plan(checks: tuple[Check, ...], answers: tuple[bool | str, ...]) -> Plan:
    """The plan for all routes of which `_grounds` are answered so."""
    told = dict(zip(_grounds(checks), answers, strict=True))
    there = [check.applies_to is None or bool(told[check.applies_to]) for check in checks]
    lacking = [next((str(told[need]) for need in check.requires if told[need]), "") for check in checks]
    return _planned(checks, there, lacking)


@lru_cache(maxsize=64)
def _plan_of_unread(checks: tuple[Check, ...]) -> Plan:
    """For a row of which nothing could be read: one check says so, and the others have nothing to look at."""
    return _planned(checks, [True] * len(checks), ["" if c.name == UNREAD_ROW else _NOTHING_READ for c in checks])


@lru_cache(maxsize=64)
def _plan_of_each(checks: tuple[Check, ...]) -> Plan:
    """Where a question raised: each check asks its own again within its fence, and it brings nobody else down."""
    plan = _planned(checks, [True] * len(checks), [""] * len(checks))
    return Plan(tuple((place, c, partial(_by_itself, c)) for place, c, _ in plan.asked), (), plan.outcomes)


def _by_itself(check: Check, route: Route, limits: Limits) -> Iterator[Finding | NotChecked]:
    """What a check says if nobody has asked beforehand: the meaning of `where` and `needs`."""
    if check.applies_to and not check.applies_to(route):
        return
    lacking = next(filter(None, (need(route) for need in check.requires)), "")
    if lacking:
        yield NotChecked((), lacking)
    else:
        yield from check.function(route, limits)


def _planned(checks: Sequence[Check], there: Sequence[bool], lacking: Sequence[str]) -> Plan:
    """The plan where for every check is known whether there is anything to look at, and what it lacks."""
    each = list(zip(range(len(checks)), checks, there, lacking, strict=True))
    return Plan(
        tuple((place, c, c.function) for place, c, here, why in each if here and not why),
        tuple((place, NotChecked((), why, c.name)) for place, c, here, why in each if here and why),
        tuple((c.name, Outcome.NOT_CHECKED if here and why else Outcome.NOTHING_FOUND) for _, c, here, why in each),
    )
