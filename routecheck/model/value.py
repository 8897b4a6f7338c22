"""How a value of the model is made: a dataclass with slots that nobody changes. No values live here."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar, dataclass_transform

T = TypeVar("T")


@dataclass_transform(frozen_default=True)
def value(cls: type[T]) -> type[T]:
    """A frozen dataclass with slots and a hash, of which a batch makes a hundred for every route.

    Frozen for mypy, which refuses every change, and not once more for the interpreter: that would ask of each field of
    each value whether it may be set, and made every value four times as slow to make (3 µs a leg).
    """
    return dataclass(slots=True, unsafe_hash=True)(cls)
