"""What the user may change. Which limits exist is said by the checks; this module only holds the changed values."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping


@dataclass(frozen=True, slots=True)
class Settings:
    """`limits[check][limit]` holds the changed value of a limit; what is absent keeps its default."""

    limits: Mapping[str, Mapping[str, float]] = field(default_factory=dict)


class UsageError(Exception):
    """The command was called in a way it cannot follow; the text is for the user."""


class DataError(Exception):
    """A file of our data cannot be used: which, where and why."""

    def __init__(self, file: str, line: int | None, why: str) -> None:
        self.file, self.line, self.why = file, line, why
        super().__init__(f"{file}, line {line}: {why}" if line else f"{file}: {why}")
