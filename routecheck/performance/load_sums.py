"""The sums that weights and fuel of a plan must keep, each as stated and as computed. No judging here.

A figure that is not stated is missing, never nothing: a sum that lacks one has no result.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from routecheck.frozen_dataclass import dataclass
from routecheck.model import LOAD_NAMES

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from routecheck.model import Load

_DUST = 1e-6
"""Binary fractions add up to a little more or less than the decimal ones that were written."""


@dataclass(frozen=True, slots=True)
class Term:
    """One figure of a sum with its sign, and half of its last digit. `is_stated`: else it is itself computed."""

    name: str
    amount: float
    half: float
    sign: float = 1.0
    is_stated: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadSum:
    """What a figure must be by others of the plan. `missing` are the names of those that are not stated."""

    name: str
    terms: tuple[Term, ...]
    missing: tuple[str, ...]
    stated: float | None
    half: float
    only_added: bool = True
    """Whether nothing is taken off in it, known or not."""

    @property
    def known(self) -> float:
        """The sum of all terms that are known."""
        return sum(term.sign * term.amount for term in self.terms)

    @property
    def computed(self) -> float | None:
        """What the figure must be; None where a figure is missing."""
        return None if self.missing else self.known

    @property
    def rounding(self) -> float:
        """What rounding alone may explain: half of the last digit of every figure, that of the result included."""
        return self.half + sum(term.half for term in self.terms) + _DUST

    @property
    def difference(self) -> float | None:
        """By how much the figure as stated is more than the sum; None where one of the two is not known."""
        return None if self.stated is None or self.computed is None else self.stated - self.computed

    @property
    def excess(self) -> float:
        """By how much the known terms alone are more than the figure as stated; 0 where they are not.

        Nothing that is missing is less than zero, so that this holds whatever it may be.
        """
        return max(self.known - self.stated, 0.0) if self.stated is not None and self.only_added else 0.0

    @property
    def is_off(self) -> bool:
        """Whether the plan's own figures contradict one another beyond their rounding."""
        off = self.excess if self.difference is None else abs(self.difference)
        return off > self.rounding


WEIGHT_SUMS = ("payload", "zero_fuel_weight", "take_off_weight", "landing_weight")
FUEL_SUMS = ("block_fuel", "landing_fuel")
_FUEL_PARTS = ("taxi_fuel", "trip_fuel", "contingency_fuel", "alternate_fuel", "final_reserve_fuel", "extra_fuel")


def load_sums(load: Load) -> dict[str, LoadSum]:
    """Every sum by the name of the figure that it makes; each comes behind those whose result goes into it.

    Each goes on from a figure as it is stated; from one that is off itself as it is computed, where that comes out: one
    wrong figure puts no more than its own sums out.
    """
    sums = _chain(load)
    off = [name for name, one in sums.items() if one.is_off and one.computed is not None]
    for number, name in enumerate(off[1:], start=1):
        nothing: dict[str, Any] = dict.fromkeys(off[:number])
        of_computed = _chain(replace(load, **nothing))[name]
        sums[name] = sums[name] if of_computed.is_off else of_computed
    return sums


def _chain(load: Load) -> dict[str, LoadSum]:
    sums: dict[str, LoadSum] = {}
    payload = _product(load), _figure_or_sum(load, "baggage", {})
    lacking = tuple(one for one in ("passengers", "passenger_weight", "baggage") if load.get(one) is None)
    sums["payload"] = _sum(load, "payload", payload, lacking)
    sums["block_fuel"] = _sum_of(load, "block_fuel", _FUEL_PARTS, {})
    sums["landing_fuel"] = _sum_of(load, "landing_fuel", ("block_fuel", "-taxi_fuel", "-trip_fuel"), sums)
    wanted = ("basic_operating_weight", *(("crew_weight",) if load.crew_weight is not None else ()), "payload")
    sums["zero_fuel_weight"] = _sum_of(load, "zero_fuel_weight", wanted, sums)
    sums["take_off_weight"] = _sum_of(load, "take_off_weight", ("zero_fuel_weight", "block_fuel", "-taxi_fuel"), sums)
    sums["landing_weight"] = _sum_of(load, "landing_weight", ("take_off_weight", "-trip_fuel"), sums)
    return sums


def describe_terms(terms: tuple[Term, ...], write: Callable[[float], str]) -> str:
    """The terms of a sum in words: "ZFW 54,200 + block fuel 9,100 − taxi fuel 200"."""
    parts = [f"{'+' if term.sign > 0 else '−'} {name_term(term.name)} {write(term.amount)}" for term in terms]
    return " ".join(parts).removeprefix("+ ")


def name_term(name: str) -> str:
    """What a term is called: passengers are there with their weight."""
    return "passengers weighing" if name == "passengers" else LOAD_NAMES[name]


def is_stated(one: LoadSum) -> bool:
    """Whether there is anything to compare: a figure as stated, and at least one that goes into it."""
    return one.stated is not None and bool(one.terms)


def _product(load: Load) -> Term | None:
    """The passengers at their weight."""
    number, each = load.passengers, load.passenger_weight
    return (
        None
        if number is None or each is None
        else Term("passengers", number * each, number * load.half("passenger_weight"))
    )


def _figure_or_sum(load: Load, name: str, sums: dict[str, LoadSum], sign: float = 1.0) -> Term | None:
    """A figure as it is stated, else as a sum makes it."""
    stated = load.get(name)
    if stated is not None:
        return Term(name, stated, load.half(name), sign)
    one = sums.get(name)
    if one is None or one.computed is None:
        return None
    return Term(name, one.computed, sum(term.half for term in one.terms), sign, is_stated=False)


def _sum_of(load: Load, name: str, names: tuple[str, ...], sums: dict[str, LoadSum]) -> LoadSum:
    signs = [(one.removeprefix("-"), -1.0 if one.startswith("-") else 1.0) for one in names]
    terms = {one: _figure_or_sum(load, one, sums, sign) for one, sign in signs}
    missing = tuple(one for one, term in terms.items() if term is None)
    return _sum(load, name, tuple(terms.values()), missing, only_added=all(sign > 0.0 for _, sign in signs))


def _sum(
    load: Load, name: str, terms: tuple[Term | None, ...], missing: tuple[str, ...], *, only_added: bool = True
) -> LoadSum:
    known = tuple(term for term in terms if term is not None)
    stated = load.get(name)
    half = 0.0 if stated is None else load.half(name)
    return LoadSum(name=name, terms=known, missing=missing, stated=stated, half=half, only_added=only_added)


def sums_in_order(load: Load, names: tuple[str, ...]) -> Iterator[LoadSum]:
    """The sums of these figures that have anything to compare."""
    sums = load_sums(load)
    return (sums[name] for name in names if is_stated(sums[name]))
