"""Figures with the digits they were written to: how far rounding alone may move them, and how they are written."""

from __future__ import annotations

import math
from decimal import Decimal
from typing import TYPE_CHECKING

from routecheck.model import half_digit
from routecheck.reading.toml_values import simplify_number

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping


def measure_half_digit(value: object) -> float:
    """Half of the last digit written: 0.05 of 31.5, 0.5 of 31. Numbers with a point must come as Decimal."""
    if isinstance(value, Decimal):
        return 0.5 * 10.0 ** int(value.as_tuple().exponent)
    return 0.5


def find_halves(table: Mapping[str, object], figures: Mapping[str, float | None]) -> Iterator[tuple[str, float]]:
    """Half of the last digit of each figure whose value alone does not show it: 0.05 of 64.0."""
    for name, figure in figures.items():
        if figure is not None and (half := measure_half_digit(table[name])) != half_digit(figure):
            yield name, half


def write_figure(figure: float, halves: tuple[tuple[str, float], ...], name: str) -> object:
    """A TOML number with the digits that the figure was stated to."""
    half = dict(halves).get(name)
    return simplify_number(figure) if half is None else write_digits(figure, half)


def write_digits(figure: float, half: float) -> object:
    """A TOML number whose last digit says how exact it is; an integer where that was a whole number."""
    import tomlkit  # here, because only writing needs it

    least = max(0, round(-math.log10(2 * half))) if half else 1
    exact = -int(Decimal(repr(figure)).normalize().as_tuple().exponent)
    return tomlkit.value(f"{figure:.{max(least, exact, 0)}f}")


def measure_decimals(text: str) -> int:
    """How many digits stand behind the decimal point of a number as it is written; 0 where it is none."""
    _, point, digits = text.strip().partition(".")
    return min(len(digits), 12) if point and digits.isdigit() else 0
