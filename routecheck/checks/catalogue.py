"""What a check is: one frozen value in one file. No state, no list of checks by hand: `collect` finds them."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Iterable, Iterator
from dataclasses import KW_ONLY, field
from enum import StrEnum
from functools import cache
from typing import TYPE_CHECKING, Any

from routecheck import checks
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Finding, NotChecked, RouteInput, Weight
from routecheck.settings import Bound, Bounds

if TYPE_CHECKING:
    from collections.abc import Mapping

    from routecheck.model import Route


class Family(StrEnum):
    """The families of checks in the order of the catalogue. Each has a folder, named like the member."""

    READING = "Reading"
    NAMES = "Names"
    AIRWAYS = "Airways"
    PROCEDURES = "Procedures and runways"
    SHAPE = "Shape"
    LENGTH = "Leg length"
    ALTITUDES = "Altitudes"
    CLAIMS = "Claims and totals"
    LOAD = "Weights and fuel"
    DATA = "Data"
    KNOWN = "Known routes"


@dataclass(frozen=True, slots=True)
class Limit:
    """A number a check compares with, and the document it is from. `lowest` and `highest` bound the user's settings."""

    name: str
    default: float
    unit: str
    citation: str
    _: KW_ONLY
    lowest: float = field(default=0.0, kw_only=True)
    highest: float = field(default=float("inf"), kw_only=True)
    why: str = field(default="", kw_only=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """On how many published routes a check finds something by itself, with the limits as shipped: percent by weight."""

    wrong: float = 0.0
    doubtful: float = 0.0
    note: float = 0.0


PUBLISHED_ROUTES = (
    "4,480 published U.S. routes (FAA preferred routes, January 2023, as far as the data of cycle 2301 places them "
    "in full)"
)
"""The routes that `Measured` counts."""


class Limits:
    """The limits in force for one check: `limits[MAX_TURN]` is a float."""

    __slots__ = ("_values",)

    def __init__(self, limits: tuple[Limit, ...], changed: Mapping[str, float]) -> None:
        self._values = {limit.name: changed.get(limit.name, limit.default) for limit in limits}

    def __getitem__(self, limit: Limit) -> float:
        """The value in force."""
        return self._values[limit.name]


@dataclass(frozen=True, slots=True)
class Case:
    """An example: a route on the demo region. See `case`."""

    given: RouteInput
    """The route with « » around the words that must be flagged, and what stands beside it."""
    whole: bool = False
    """Whether the finding belongs to the route as a whole, so that it flags no word."""
    known: tuple[str, ...] = ()
    """Known routes to compare with, between the same aerodromes, or "XVOR XVDU: …" between others."""


def case(route: str, **given: Any) -> Case:
    """An example that sets more than the route: departure, destination, level, date, whatever a RouteInput has."""
    whole, known = given.pop("whole", False), tuple(given.pop("known", ()))
    return Case(RouteInput(route, **{"departure": "XVAL", "destination": "XVOR", **given}), whole, known)


CheckFunction = Callable[["Route", Limits], Iterator[Finding | NotChecked]]
Requirement = Callable[["Route"], str]
"""Answers in words what a route lacks, "" where it lacks nothing."""
Condition = Callable[["Route"], bool]
"""Answers whether a route has anything that a check looks at."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Check:
    """One check: everything its file says.

    The runner asks a check if `applies_to` finds something to look at; else it finds nothing. And it asks only if all
    of `requires` are met; else the check is not checked, for the reason that the first of them gives. Checks are
    compared by identity.
    """

    name: str
    weight: Weight
    family: Family
    sentence: str
    """When it speaks up, in one line."""
    explanation: str
    false_alarms: str
    """Where it is known to speak up without need."""
    function: CheckFunction
    limits: tuple[Limit, ...]
    measured: Measured | None
    citations: tuple[str, ...]
    defaults: Limits
    """The limits in force while nothing is changed."""
    applies_to: Condition | None
    requires: tuple[Requirement, ...]
    flagged: tuple[Case, ...]
    quiet: tuple[Case, ...]


def check(
    name: str,
    weight: Weight,
    *,
    family: Family,
    sentence: str,
    explanation: str,
    false_alarms: str,
    flagged: list[str | Case],
    quiet: list[str | Case],
    limits: list[Limit] | None = None,
    measured: Measured | None = None,
    citations: list[str] | None = None,
    applies_to: Condition | None = None,
    requires: tuple[Requirement, ...] = (),
) -> Callable[[CheckFunction], Check]:
    """Turn a function into a Check value. Registers nothing: `collect` picks the value up from its file."""

    def as_check(function: CheckFunction) -> Check:
        return Check(
            name=name,
            weight=weight,
            family=family,
            sentence=sentence,
            explanation=explanation,
            false_alarms=false_alarms,
            function=function,
            limits=tuple(limits or ()),
            measured=measured,
            citations=tuple(citations or ()),
            defaults=Limits(tuple(limits or ()), {}),
            applies_to=applies_to,
            requires=requires,
            flagged=tuple(c if isinstance(c, Case) else case(c) for c in flagged),
            quiet=tuple(c if isinstance(c, Case) else case(c) for c in quiet),
        )

    return as_check


def exceeds(value: float, limit: float, uncertainty: float = 0.0) -> bool:
    """Whether a value is beyond a limit for sure, given what it may be off by. The only comparison checks make."""
    return value - uncertainty > limit


@cache
def collect() -> tuple[Check, ...]:
    """Every check there is, by family and then by file name."""
    found: list[Check] = []
    for family in Family:
        package = importlib.import_module(f"{checks.__name__}.{family.name.lower()}")
        for info in sorted(pkgutil.iter_modules(package.__path__), key=lambda i: i.name):
            module = importlib.import_module(f"{package.__name__}.{info.name}")
            found.extend(value for value in vars(module).values() if isinstance(value, Check))
    return tuple(found)


def bounds(checks: Iterable[Check]) -> Bounds:
    """The bounds within which the user may set each limit of these checks."""
    return {
        check.name: {limit.name: Bound(limit.lowest, limit.highest, limit.unit) for limit in check.limits}
        for check in checks
    }
