"""What two people found in going through the rows of a route against another display. Values only."""

from __future__ import annotations

from routecheck.frozen_dataclass import dataclass


@dataclass(frozen=True, slots=True)
class ReadMark:
    """One row as it was read. `row` is what stood here, `shown` what the other display shows where it differs."""

    row: str
    is_same: bool
    shown: str = ""


@dataclass(frozen=True, slots=True)
class ReadAcross:
    """All rows that were read, in order; who read them (initials of both) and when, "" = it is not ended yet.

    `at` is a time in UTC, "2026-12-03T14:30:00Z".
    """

    marks: tuple[ReadMark, ...] = ()
    by: str = ""
    at: str = ""

    def find(self, row: str) -> ReadMark | None:
        """The mark of a row that reads so, or None: a row that reads otherwise by now has to be read again."""
        return next((mark for mark in self.marks if mark.row == row), None)
