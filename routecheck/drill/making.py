"""Makes a drill: errors planted in routes that are in order, some left clean. The same seed gives the same drill."""

from __future__ import annotations

import datetime as dt
import random
from dataclasses import field, replace
from typing import TYPE_CHECKING

from routecheck.drill.case_forms import write_forms
from routecheck.drill.cases import DrillCase, clean_case, planted_case
from routecheck.drill.difficulty import DIFFICULTIES, USUAL_DIFFICULTY
from routecheck.drill.error_kinds import CLEAN, ERROR_KINDS
from routecheck.drill.planters import POSITION_KINDS, plant, with_position
from routecheck.drill.position_forms import HALF_DEGREE, with_minutes
from routecheck.drill.truth import find_error
from routecheck.formatting import count
from routecheck.frozen_dataclass import dataclass
from routecheck.model import RouteInput, Weight
from routecheck.pipeline import assess, assess_many
from routecheck.presentation.verdict import is_fully_checked
from routecheck.reading.route_text import read_route
from routecheck.settings import Settings

if TYPE_CHECKING:
    from collections.abc import Callable, Container, Iterable, Mapping, Sequence

    from routecheck.drill.planters import Planted
    from routecheck.model import Assessment
    from routecheck.navdata.database import NavDatabase

CLEAN_SHARE = 0.2
"""Of the routes of a drill so many have no error, unless the mix says otherwise (our choice)."""
_ODD_SHARE = 0.5
"""So many of the clean ones are taken from those that look odd and are right, where there are such routes."""
_ODD_RATIO, _ODD_AMONG = 1.1, 4
"""A route looks odd that is so many times its direct line, and among the longest of so many (our choice)."""
_EASY_NM, _HARD_NM = 100.0, 40.0
"""How much an error adds at least where it is easy to see, and at most where it is hard."""
_COARSE_KINDS = frozenset(
    {
        "letter to an unknown name",
        "point repeated",
        "airway number",
        "procedure number",
        "position hemisphere",
        "latitude and longitude exchanged",
        "ends exchanged",
    }
)
"""Kinds that break a rule or lead far away wherever they are planted, or stand out in the entry alone."""
_COARSE_SHARE = 0.25
_TRIES, _ROUNDS = 60, 3
"""So many plantings are tried for one of the difficulty that is asked for, in few routes in as many rounds at most."""
_REPORT_EVERY = 64
"""Routes from one report to the next."""
_Rank = tuple[bool, bool, float]
_Shown = tuple[str, str, str]
"""Departure, route, destination: no two routes of a drill are the same in these."""


@dataclass(frozen=True, slots=True)
class DrillSource:
    """What a drill is made of: the instructor's own cases, and routes in order to plant errors in."""

    own: Sequence[DrillCase]
    usable: Sequence[Assessment]
    given: int
    """How many routes there were, those too that are not in order or not checked in full."""

    @property
    def left_out(self) -> str:
        """How many of the routes are used, in a sentence; "" where all are."""
        used = f"Of {count(self.given, 'route')} {len(self.usable):,} are used: different, in order, checked in full."
        return used if len(self.usable) < self.given else ""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrillOrder:
    """What is asked for. `mix` weighs kinds by name, "clean" among them; {} = all alike with a fifth clean."""

    seed: int
    count: int = 20
    difficulty: int = USUAL_DIFFICULTY
    mix: Mapping[str, float] = field(default_factory=dict)


def training_day(database: NavDatabase, day: dt.date | None = None) -> dt.date:
    """The day of the flights: one that is asked for, else the day on which the data begins to hold.

    What is trained is the routes, not the date; and a seed gives the same drill on any day.
    """
    begins = [source.effective for source in database.sources if source.effective]
    return day or (max(begins) if begins else dt.datetime.now(dt.UTC).date())


def usable_routes(
    routes: Iterable[RouteInput],
    database: NavDatabase,
    settings: Settings,
    day: dt.date,
    report: Callable[[int, int], None] = lambda _done, _of: None,
) -> list[Assessment]:
    """The routes that are in order and checked in full, as a drill shows them: nothing else may be called clean.

    `report` is told now and then how many of them are done; it may raise to stop.
    """
    plain = dict.fromkeys(_as_shown(one) for one in routes)
    usable = []
    for done, one in enumerate(assess_many(plain, database, settings, day)):
        if done % _REPORT_EVERY == 0:
            report(done, len(plain))
        if _is_in_order(one):
            usable.append(one)
    return usable


def make_drill(order: DrillOrder, source: DrillSource, database: NavDatabase, day: dt.date) -> list[DrillCase]:
    """Make the cases in the order in which they are shown, the instructor's own first.

    There are fewer than asked for where the routes offer no more.
    """
    wanted = max(order.count - len(source.own), 0)
    made = _make_cases(replace(order, count=wanted), source.usable, database) if source.usable else []
    cases = [replace(case, name=f"route-{n:02d}") for n, case in enumerate([*source.own, *made], start=1)]
    return write_forms(cases, order.difficulty, database, day)


def _make_cases(order: DrillOrder, usable: Sequence[Assessment], database: NavDatabase) -> list[DrillCase]:
    rng = random.Random(order.seed)
    kinds, cases = _choose_kinds(order, rng), dict[_Shown, DrillCase]()
    for kind in kinds:
        others = [other for other in dict.fromkeys(kinds) if other != kind]
        for tried in (kind, *rng.sample(others, len(others))):
            if case := _make_case(tried, order.difficulty, usable, database, rng, cases):
                cases[case.departure, case.route, case.destination] = case
                break
    return list(cases.values())


def _make_case(
    kind: str,
    difficulty: int,
    usable: Sequence[Assessment],
    database: NavDatabase,
    rng: random.Random,
    taken: Container[_Shown],
) -> DrillCase | None:
    """A case of that kind that is not among those that are taken."""
    if kind != CLEAN:
        planted = _plant(kind, difficulty, usable, database, rng, taken)
        return planted_case("", planted) if planted else None
    left = [one for one in usable if _identify(one.route.route_input) not in taken]
    odd_ones = _find_odd(usable)
    odd = [one for one in left if _identify(one.route.route_input) in odd_ones]
    if not left:
        return None
    chosen = rng.choice(odd if odd and rng.random() < _ODD_SHARE else left).route.route_input
    return clean_case("", chosen, looks_odd=_identify(chosen) in odd_ones)


def _choose_kinds(order: DrillOrder, rng: random.Random) -> list[str]:
    """As many kinds as routes are wanted: every kind about as often as it is weighed, in random order."""
    mix = dict(order.mix) or _usual_mix(order.difficulty)
    names, whole = list(mix), sum(mix.values())
    kinds = [name for name in names for _ in range(int(order.count * mix[name] / whole))]
    kinds += rng.choices(names, [mix[name] for name in names], k=order.count - len(kinds))
    rng.shuffle(kinds)
    return kinds


def _usual_mix(difficulty: int) -> dict[str, float]:
    """All kinds alike and a fifth clean; where errors are to be small, those that never are stand back."""
    coarse = _COARSE_SHARE if difficulty == max(DIFFICULTIES) else 1.0
    kinds = {name: coarse if name in _COARSE_KINDS else 1.0 for name in ERROR_KINDS}
    return {**kinds, CLEAN: CLEAN_SHARE / (1.0 - CLEAN_SHARE) * sum(kinds.values())}


def _plant(
    kind: str,
    difficulty: int,
    usable: Sequence[Assessment],
    database: NavDatabase,
    rng: random.Random,
    taken: Container[_Shown],
) -> Planted | None:
    """Plant an error of that kind and difficulty in one of the routes, of another where none is to be had."""
    best: tuple[_Rank, Planted] | None = None
    tried = rng.sample(list(usable), min(len(usable), _TRIES))
    for chosen in (tried * _ROUNDS)[:_TRIES]:
        route_input, day = chosen.route.route_input, chosen.route.date
        if kind == HALF_DEGREE:
            route_input = with_minutes(route_input) or with_position(route_input, database, day, rng) or route_input
        elif kind in POSITION_KINDS:
            route_input = with_position(route_input, database, day, rng) or route_input
        planted = plant(kind, route_input, database, day, rng)
        if not planted or _identify(planted.route_input) in taken:
            continue
        rank = _rank(planted, difficulty, database, day)
        if best is None or rank < best[0]:
            best = rank, planted
        if not best[0][0]:
            break
    return best[1] if best else None


def _rank(planted: Planted, difficulty: int, database: NavDatabase, day: dt.date) -> _Rank:
    """Whether it does not suit the difficulty; then how far it is from doing so, the nearest first.

    Below 3 the tool finds it in the route alone; at 3 it may take the clearance.
    """
    added = abs(planted.added_nm)
    if difficulty == max(DIFFICULTIES):
        return planted.breaks or added > _HARD_NM, planted.breaks, added
    is_large = difficulty > 1 or planted.breaks or added >= _EASY_NM
    is_found = find_error(planted_case("", planted), assess(planted.route_input, database, Settings(), day)) is not None
    return not (is_found and is_large), not is_found, -added


def _identify(route_input: RouteInput) -> _Shown:
    return route_input.departure, route_input.route, route_input.destination


def _as_shown(route_input: RouteInput) -> RouteInput:
    """The route with what a drill shows of it: its words with single blanks, its ends, runways and level."""
    words: list[str] = []
    for word in read_route(route_input).words:
        if word.attached and words:
            words[-1] += f"/{word.text}"
        else:
            words.append(word.text)
    return RouteInput(
        " ".join(words),
        route_input.departure,
        route_input.destination,
        level=route_input.level,
        departure_runway=route_input.departure_runway,
        destination_runway=route_input.destination_runway,
    )


def _is_in_order(assessment: Assessment) -> bool:
    heaviest = assessment.heaviest()
    return heaviest not in (Weight.WRONG, Weight.DOUBTFUL) and is_fully_checked(assessment)


def _find_odd(usable: Sequence[Assessment]) -> frozenset[_Shown]:
    """Of the routes those that are longest for their direct line, and much longer than that."""
    ratios = {_identify(one.route.route_input): _detour_ratio(one) for one in usable}
    least = max(sorted(ratios.values())[-(len(ratios) // _ODD_AMONG or 1)], _ODD_RATIO)
    return frozenset(shown for shown, ratio in ratios.items() if ratio >= least)


def _detour_ratio(assessment: Assessment) -> float:
    totals = assessment.route.totals
    return totals.least_nm / totals.direct_nm if totals.direct_nm else 1.0
