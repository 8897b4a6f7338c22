"""Weights and fuel as a reader sees them: each figure as stated and as computed, and what the reserve rule asks for."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from routecheck.checks.fuel_queries import find_reserve_need, fuel_at_take_off
from routecheck.entry_errors.figures import write_mass
from routecheck.formatting import count, listing
from routecheck.frozen_dataclass import dataclass
from routecheck.model import LOAD_NAMES, RESERVE_RULES, Load
from routecheck.performance.load_sums import describe_terms, load_sums
from routecheck.presentation.alternate_view import alternate_views

if TYPE_CHECKING:
    from routecheck.checks.fuel_queries import FuelSupply
    from routecheck.model import Route
    from routecheck.performance.load_sums import LoadSum
    from routecheck.performance.reserves import ReserveTerm

NOT_JUDGED = "That the sums come out does not say that fuel or weights are sufficient."


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadRow:
    """One figure: as stated, as the others make it, by how much it differs, and what it was made of; "" = not known."""

    name: str
    label: str
    stated: str = ""
    computed: str = ""
    differs: str = ""
    made_of: str = ""
    lacks: str = ""
    """The one figure without which it is not added up; "" = none lacks, or more than one."""
    is_off: bool = False


@dataclass(frozen=True, slots=True)
class ReserveView:
    """What a rule asks for at take-off, term by term, and what is on board then."""

    rule: str
    terms: tuple[ReserveTerm, ...]
    on_board: FuelSupply | None

    @property
    def needed(self) -> float:
        """The sum of all terms that are known."""
        return sum(term.amount for term in self.terms if term.amount is not None)

    @property
    def is_whole(self) -> bool:
        """Whether every term is known."""
        return all(term.amount is not None for term in self.terms)


def load_rows(load: Load | None) -> tuple[LoadRow, ...]:
    """Every figure in the order in which they are read out."""
    load = load or Load()
    sums = load_sums(load)
    return tuple(_make_row(name, load, sums.get(name)) for name in LOAD_NAMES)


def _make_row(name: str, load: Load, one: LoadSum | None) -> LoadRow:
    figure, label = load.get(name), LOAD_NAMES[name]
    stated = "" if figure is None else write_mass(figure)
    if one is None or not one.terms:
        return LoadRow(name=name, label=label, stated=stated)
    terms = describe_terms(one.terms, write_mass)
    if one.missing:
        lacking = listing([LOAD_NAMES[missing] for missing in one.missing])
        made_of = f"not added up: {lacking} not stated" + (f"; {terms} alone are more" if one.is_off else "")
        lacks = lacking if len(one.missing) == 1 else ""
        return LoadRow(name=name, label=label, stated=stated, made_of=made_of, lacks=lacks, is_off=one.is_off)
    differs = ""
    if one.difference is not None:
        sign = "+" if one.difference > 0 else "−"
        differs = f"{sign}{write_mass(abs(one.difference))}" if one.is_off else "0"
    return LoadRow(
        name=name,
        label=label,
        stated=stated,
        computed=write_mass(one.known),
        differs=differs,
        made_of=terms,
        is_off=one.is_off,
    )


def brief_load(load: Load | None) -> str:
    """Weights and fuel in one line: the figures that are read out most, and how many do not come out."""
    rows = [row for row in load_rows(load) if row.stated]
    if load is None or not rows:
        return "nothing stated"
    shown = {row.name: f"{row.label} {row.stated}" for row in rows}
    parts = [shown[name] for name in ("zero_fuel_weight", "take_off_weight", "block_fuel") if name in shown]
    off = sum(row.is_off for row in load_rows(load))
    unit = load.unit or "kg or lb not said"
    sums = [f"■ {count(off, 'figure does', 'figures do')} not come out"] if off else []
    return " · ".join([*sums, *(parts or [count(len(rows), "figure")]), unit])


def load_sentences(route: Route) -> list[str]:
    """What follows from weights and fuel, in sentences: the reserve by its rule, the alternates."""
    onward = [one.sentence for one in alternate_views(route)]
    return [*filter(None, [reserve_line(route)]), *onward, NOT_JUDGED]


def write_figure(figure: float, half: float) -> str:
    """A figure with the digits that it was stated to."""
    return f"{figure:,.{max(0, round(-math.log10(2.0 * half)))}f}" if half < 0.5 else write_mass(figure)


def reserve_view(route: Route) -> ReserveView | None:
    """What the rule chosen asks for; None where none is chosen."""
    load = route.route_input.load
    rule = RESERVE_RULES.get(load.reserve_rule) if load else None
    if load is None or rule is None:
        return None
    return ReserveView(rule.name, find_reserve_need(route, rule), fuel_at_take_off(load))


def reserve_line(route: Route) -> str:
    """The same in one sentence, with its arithmetic; "" where no rule is chosen."""
    view = reserve_view(route)
    if view is None:
        return ""
    unit = route.route_input.load.unit if route.route_input.load else ""
    parts = [
        f"{term.name} {write_mass(round(term.amount))}" if term.amount is not None else f"{term.name} not known"
        for term in view.terms
    ]
    least = "" if view.is_whole else "at least "
    on_board = f"; on board {write_mass(view.on_board.amount)} ({view.on_board.words})" if view.on_board else ""
    lacking = list(dict.fromkeys(term.lacks for term in view.terms if term.lacks))
    why = f" Not judged: {listing(lacking)}." if lacking else ""
    return (
        f"{view.rule} at take-off: {' + '.join(parts)} = {least}{write_mass(round(view.needed))} {unit}{on_board}.{why}"
    )


def load_lines(route: Route) -> list[str]:
    """Weights and fuel as lines of text: what is stated, each sum beside it; nothing where nothing is stated."""
    load = route.route_input.load
    if load is None:
        return []
    rows = [row for row in load_rows(load) if row.stated or row.computed]
    lines = [f"Weights and fuel, {load.unit or 'kg or lb not said'}:"]
    for row in rows:
        differs = f", differs {row.differs}" if row.is_off else ""
        sums = f"  computed {row.computed}{differs}" if row.computed else ""
        made_of = f"  ({row.made_of})" if row.made_of else ""
        lines.append(f"  {row.label}  {row.stated or 'not stated'}{sums}{made_of}")
    return [*lines, *filter(None, [reserve_line(route)]), NOT_JUDGED]
