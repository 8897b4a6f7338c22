"""Makes a drill: errors planted in routes that are in order, some left clean. The same seed gives the same drill."""

from __future__ import annotations

import random
from dataclasses import field
from typing import TYPE_CHECKING

from routecheck.drill.cases import clean_case, planted_case
from routecheck.drill.error_kinds import CLEAN, ERROR_KINDS
from routecheck.drill.planters import POSITION_KINDS, plant, with_position
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Weight
from routecheck.pipeline import assess_many
from routecheck.presentation.verdict import is_fully_checked

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterable, Mapping, Sequence

    from routecheck.drill.cases import DrillCase
    from routecheck.drill.planters import Planted
    from routecheck.model import Assessment, RouteInput
    from routecheck.navdata.database import NavDatabase
    from routecheck.settings import Settings

CLEAN_SHARE = 0.2
"""Of the routes of a drill so many have no error, unless the mix says otherwise (our choice)."""
_ODD_SHARE = 0.5
"""So many of the clean ones are taken from those that stray most from the direct line: they look odd and are right."""
_EASY_NM, _HARD_NM = 100.0, 40.0
"""How much an error adds at least where it is easy to see, and at most where it is hard."""
_TRIES = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class DrillOrder:
    """What is asked for. `mix` weighs kinds by name, "clean" among them; {} = all alike with a fifth clean."""

    seed: int
    count: int = 20
    difficulty: int = 2
    mix: Mapping[str, float] = field(default_factory=dict)


def usable_routes(
    routes: Iterable[RouteInput], database: NavDatabase, settings: Settings, today: dt.date
) -> list[Assessment]:
    """The routes that are in order and checked in full: nothing else may be called clean."""
    return [one for one in assess_many(routes, database, settings, today) if _is_in_order(one)]


def make_drill(order: DrillOrder, usable: Sequence[Assessment], database: NavDatabase) -> list[DrillCase]:
    """Make the cases, in the order in which they are shown; fewer than asked for where the routes offer no more."""
    rng = random.Random(order.seed)
    kinds = _choose_kinds(order, rng)
    by_oddness = sorted(usable, key=_detour_ratio, reverse=True)
    cases: list[DrillCase] = []
    for kind in kinds:
        name = f"route-{len(cases) + 1:02d}"
        if kind == CLEAN:
            is_odd = rng.random() < _ODD_SHARE
            chosen = rng.choice(by_oddness[: max(len(usable) // 4, 1)] if is_odd else list(usable))
            cases.append(clean_case(name, chosen.route.route_input, looks_odd=is_odd))
        elif planted := _plant(kind, order.difficulty, usable, database, rng):
            cases.append(planted_case(name, planted))
    return cases


def _choose_kinds(order: DrillOrder, rng: random.Random) -> list[str]:
    """As many kinds as routes are wanted: every kind about as often as it is weighed, in random order."""
    share = CLEAN_SHARE / (1.0 - CLEAN_SHARE) * len(ERROR_KINDS)
    mix = dict(order.mix) or {**dict.fromkeys(ERROR_KINDS, 1.0), CLEAN: share}
    names, whole = list(mix), sum(mix.values())
    kinds = [name for name in names for _ in range(int(order.count * mix[name] / whole))]
    kinds += rng.choices(names, [mix[name] for name in names], k=order.count - len(kinds))
    rng.shuffle(kinds)
    return kinds


def _plant(
    kind: str, difficulty: int, usable: Sequence[Assessment], database: NavDatabase, rng: random.Random
) -> Planted | None:
    """Plant an error of that kind and difficulty in one of the routes, of another where none is to be had."""
    spare = None
    for chosen in (rng.choice(usable) for _ in range(_TRIES)):
        route_input, day = chosen.route.route_input, chosen.route.date
        if kind in POSITION_KINDS:
            route_input = with_position(route_input, database, day, rng) or route_input
        planted = plant(kind, route_input, database, day, rng)
        if planted and _suits(planted, difficulty):
            return planted
        spare = spare or planted
    return spare


def _suits(planted: Planted, difficulty: int) -> bool:
    added = abs(planted.added_nm)
    if difficulty == 1:
        return planted.breaks or added >= _EASY_NM
    return difficulty == 2 or (not planted.breaks and added <= _HARD_NM)


def _is_in_order(assessment: Assessment) -> bool:
    heaviest = assessment.heaviest()
    return heaviest not in (Weight.WRONG, Weight.DOUBTFUL) and is_fully_checked(assessment)


def _detour_ratio(assessment: Assessment) -> float:
    totals = assessment.route.totals
    return totals.distance_nm / totals.direct_nm if totals.direct_nm else 1.0
