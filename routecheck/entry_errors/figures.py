"""What is likely to have gone wrong with a figure that must be another: its unit, its size, its digits, its place."""

from __future__ import annotations

from enum import IntEnum
from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass
from routecheck.model import KG_PER_UNIT

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

_LB_PER_KG = KG_PER_UNIT["kg"] / KG_PER_UNIT["lb"]
_EXACT = 0.001
"""A factor fits that is no farther off than this share and the rounding (our choice)."""
_MOST_ROUNDING = 0.02
"""With more of a figure open by rounding nothing is said of it: many factors would fit."""
_VOLUMES = {
    ("kg", "litres"): (0.69, 0.84),
    ("lb", "litres"): (1.52, 1.85),
    ("kg", "US gallons"): (2.61, 3.18),
    ("lb", "US gallons"): (5.76, 7.01),
}
"""How much a volume of fuel weighs: aviation gasoline from 0.69, Jet A-1 to 0.84 kg a litre (ASTM D910 and D1655, from
memory; the U.S. gallon is 3.785 litres)."""


class FigureError(IntEnum):
    """The kinds of it, most telling first."""

    UNIT = 1
    TEN = 2
    OTHER_FIGURE = 3
    DIGITS_SWAPPED = 4
    ONE_DIGIT = 5
    VOLUME = 6


@dataclass(frozen=True, slots=True)
class LikelyError:
    """What was probably meant by a figure, and how that came about, as the end of a sentence about it."""

    kind: FigureError
    words: str


def write_mass(amount: float) -> str:
    """A mass without its unit: "54,200", "84.5"."""
    return f"{amount:,.1f}".removesuffix(".0")


def explain_figure(
    stated: float,
    needed: float,
    rounding: float,
    *,
    unit: str = "",
    others: Mapping[str, float] | None = None,
    fuel: bool = False,
) -> LikelyError | None:
    """The most telling error that makes `stated` of `needed`; None where none does.

    `rounding` = what `needed` may be off by; `others` are the other figures of the plan by name.
    """
    if stated <= 0.0 or needed <= 0.0 or rounding > _MOST_ROUNDING * needed:
        return None
    found = [
        *_factors(stated, needed, rounding, unit),
        *_places(stated, needed, rounding, others or {}),
        *_digits(stated, needed, rounding),
    ]
    if fuel:
        found += _volumes(stated, needed, unit)
    return min(found, key=lambda one: one.kind, default=None)


def _factors(stated: float, needed: float, rounding: float, unit: str) -> Iterator[LikelyError]:
    for factor, right, wrong in ((_LB_PER_KG, "kg", "lb"), (1.0 / _LB_PER_KG, "lb", "kg")):
        if not _is_near(stated, needed * factor, rounding * factor):
            continue
        fits = f"{write_mass(round(stated / factor))} fits"
        if unit in ("", right):
            yield LikelyError(FigureError.UNIT, f"it is in {wrong}, not in {right}: {fits}")
        else:
            yield LikelyError(
                FigureError.UNIT, f"it was turned from {right} into {wrong}, and was in {wrong} before: {fits}"
            )
    for factor, words in ((10.0, "a digit too many"), (0.1, "a digit too few")):
        if _is_near(stated, needed * factor, rounding * factor):
            yield LikelyError(FigureError.TEN, f"it has {words}: {write_mass(stated / factor)} fits")


def _is_near(figure: float, other: float, rounding: float) -> bool:
    return abs(figure - other) <= rounding + _EXACT * other


def _places(stated: float, needed: float, rounding: float, others: Mapping[str, float]) -> Iterator[LikelyError]:
    for name, figure in others.items():
        if abs(figure - needed) <= rounding:
            yield LikelyError(FigureError.OTHER_FIGURE, f"{write_mass(figure)}, stated as {name}, fits")
        elif figure == stated:
            yield LikelyError(FigureError.OTHER_FIGURE, f"{name} stands in its place")


def _digits(stated: float, needed: float, rounding: float) -> Iterator[LikelyError]:
    digits = f"{stated:.0f}"
    for i in range(len(digits) - 1):
        swapped = float(digits[:i] + digits[i + 1] + digits[i] + digits[i + 2 :])
        if swapped != stated and abs(swapped - needed) <= rounding:
            yield LikelyError(FigureError.DIGITS_SWAPPED, f"two digits are exchanged: {write_mass(swapped)} fits")
    for i in range(len(digits)):
        place = 10.0 ** (len(digits) - 1 - i)
        steps = round((needed - stated) / place)
        changed = stated + steps * place
        if steps and 0 <= int(digits[i]) + steps <= 9 and abs(changed - needed) <= rounding and changed > 0.0:
            yield LikelyError(FigureError.ONE_DIGIT, f"one digit is another: {write_mass(changed)} fits")


def _volumes(stated: float, needed: float, unit: str) -> Iterator[LikelyError]:
    for (mass, volume), (least, most) in _VOLUMES.items():
        if mass == unit and stated * least <= needed <= stated * most:
            yield LikelyError(
                FigureError.VOLUME, f"{write_mass(stated)} {volume} of fuel weigh about that: it was stated in {volume}"
            )
