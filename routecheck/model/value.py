"""How a value is made: a frozen dataclass with slots and a hash. No values live here."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar, dataclass_transform

T = TypeVar("T")


@dataclass_transform(frozen_default=True)
def value(cls: type[T]) -> type[T]:
    """Make a class a frozen dataclass."""
    return dataclass(frozen=True, slots=True)(cls)
