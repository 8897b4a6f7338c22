"""What came of the planted errors of one kind, as a row of a table. No planting and no judging lives here."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any


@dataclass
class Score:
    """Counts of one kind. `to_look_at` holds the cases that somebody should read."""

    planted: int = 0
    flagged: int = 0
    first: int = 0
    three: int = 0
    silent: int = 0
    wrong: int = 0
    to_look_at: list[Any] = field(default_factory=list)

    def add(self, other: Score) -> None:
        """Count what another score counts too."""
        for name in ("planted", "flagged", "first", "three", "silent", "wrong"):
            setattr(self, name, getattr(self, name) + getattr(other, name))
        self.to_look_at += other.to_look_at

    def row(self, name: str, width: int = 34) -> str:
        """A row of the table; shares of those flagged, but the first."""
        parts = (self.first, self.three, self.silent, self.wrong)
        shares = [self.flagged / max(self.planted, 1), *(part / max(self.flagged, 1) for part in parts)]
        return f"{name:{width}s} {self.planted:5d}  " + "  ".join(f"{share:7.1%}" for share in shares)
