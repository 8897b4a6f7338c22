"""What was pasted whole (a message, a table, a page), and what each stretch of it was taken for. Values only."""

from __future__ import annotations

from bisect import bisect_right
from enum import StrEnum
from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass
from routecheck.model.text import Span

if TYPE_CHECKING:
    from collections.abc import Sequence


class Use(StrEnum):
    """What became of a stretch of a pasted text."""

    USED = "used"
    NOT_USED = "not used"
    """Read, and no check has a use for it."""
    UNREAD = "not understood"
    AROUND = "around the plan"


@dataclass(frozen=True, slots=True)
class PastedPart:
    """A stretch of a pasted text with the name of what it is ("Item 10"). `why` says why it is not used."""

    span: Span
    name: str
    use: Use
    why: str = ""


@dataclass(frozen=True, slots=True)
class RoutePiece:
    """A stretch of the route text, from the offset `start` on, that stands in the pasted text at `span`."""

    start: int
    span: Span


@dataclass(frozen=True, slots=True)
class PastedColumn:
    """A column of a pasted table: the words over it, what it was taken for ("" = nothing), its cells in the first rows.

    `kind` is the name of a column as `--columns` has it. `is_chosen` = the user said so; else it was recognised.
    """

    head: str
    kind: str
    cells: tuple[str, ...]
    is_chosen: bool = False


@dataclass(frozen=True, slots=True)
class Pasted:
    """The whole text that a route was read from.

    Spans of words point into the route text; `find_span` finds the same words in the text as it was pasted. `parts` are
    in order and do not overlap: every character between them is a blank or one of the signs that part them. `columns`
    are those of a nav log, in the order of the table.
    """

    text: str
    pieces: tuple[RoutePiece, ...]
    parts: tuple[PastedPart, ...]
    columns: tuple[PastedColumn, ...] = ()

    def find_span(self, span: Span) -> Span | None:
        """Where a stretch of the route text stands in the pasted text; None where it stands there nowhere as one."""
        index = bisect_right(self.pieces, span.start, key=_start) - 1
        if index < 0:
            return None
        piece = self.pieces[index]
        shift = piece.span.start - piece.start
        found = Span(span.start + shift, span.end + shift)
        return found if found.end <= piece.span.end else None


def _start(piece: RoutePiece) -> int:
    return piece.start


def parts_of_use(parts: Sequence[PastedPart], *uses: Use) -> list[PastedPart]:
    """The parts that were put to one of these uses, in order."""
    return [part for part in parts if part.use in uses]
