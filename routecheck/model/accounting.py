"""What of an input was not used: the kinds of thing an input is made of, and the value that names one of them."""

from __future__ import annotations

from enum import StrEnum

from routecheck.frozen_dataclass import dataclass


class InputKind(StrEnum):
    """The kinds of thing that an input is made of, as a reader sees them. Each is used, or named as not used."""

    CHARACTER = "character"
    WORD = "word"
    ROW = "row"
    COLUMN = "column"
    KEY = "key"
    FIELD = "field"
    CLAIM = "claim"
    WINDOW = "altitude window"
    WIND = "wind"
    ALTERNATE = "alternate"
    READ_ROW = "row read across"
    ACCEPTANCE = "acceptance"
    CHANGE = "change"
    ITEM = "item"
    TEXT = "text"
    FILE = "file"
    RECORD = "record"


@dataclass(frozen=True, slots=True)
class NotUsed:
    """One thing of the input that was not used.

    `name` is what the input calls it, `where` it stands in ("claim 2", "line 7"; "" = the input as a whole), and
    `because` says why, to follow a semicolon: no capital, no full stop.
    """

    what: InputKind
    name: str
    where: str
    because: str

    @property
    def sentence(self) -> str:
        """All of it: "Not used: date of line 7; “soon” is no date: write it as 2026-12-03."."""
        return f"Not used: {self.label}; {self.because}."

    @property
    def label(self) -> str:
        """It and where it stands: "date of line 7", "the key “levle” of claim 2"."""
        name = f"the {self.what} “{self.name}”" if self.what in _NAMED_BY_THE_USER else self.name
        return f"{name} of {self.where}" if self.where else name


_NAMED_BY_THE_USER = frozenset({InputKind.KEY, InputKind.COLUMN})
"""Kinds whose names are whatever somebody typed: they stand in quotation marks."""
