"""Where the messages of a pasted text begin and end, and into which fields each is cut. No field is read here."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, NamedTuple

from routecheck.model import Span

if TYPE_CHECKING:
    from collections.abc import Iterator

# ICAO Doc 4444 Appendix 3: an open bracket, three letters of the kind of message, perhaps numbers, a hyphen. Where the
# bracket was lost in copying, the letters begin a line.
_KINDS = "FPL|CHG|CNL|DLA|DEP|ARR|CPL|EST|CDN|ACP|RQP|RQS|SPL|ALR|RCF"
_OPENING = re.compile(rf"(?:\(|(?<![^\n])[ \t]*(?=FPL))({_KINDS})([A-Z0-9/]{{0,20}})\s*-")
_BRACKET = re.compile(r"[()]")
_UNCLOSED_END = re.compile(r"\n[ \t\r]*(?:\n|NNNN\b)")
"""Where a message without its closing bracket ends: at a blank line, or at the end of the transmission."""


class MessageText(NamedTuple):
    """One message: its kind, where it stands with its brackets, and where its fields stand."""

    kind: str
    span: Span
    opening: Span
    """The letters of the kind, with the numbers behind them."""
    fields: tuple[Span, ...]
    """The text between the hyphens, without blanks around it."""


def has_message(text: str) -> bool:
    """Whether a message begins somewhere in a text of capitals."""
    return bool(_OPENING.search(text))


def find_messages(text: str) -> list[MessageText]:
    """Every message of a text of capitals, in order."""
    openings = list(_OPENING.finditer(text))
    ends = [match.start() for match in openings[1:]] + [len(text)]
    return [_cut_message(text, opening, end) for opening, end in zip(openings, ends, strict=True)]


def _cut_message(text: str, opening: re.Match[str], most: int) -> MessageText:
    body = opening.end()
    end, close = _find_end(text, body, most)
    fields = tuple(_cut_fields(text, body, end))
    return MessageText(opening[1], Span(opening.start(), close), Span(opening.start(1), opening.end(2)), fields)


def _find_end(text: str, body: int, most: int) -> tuple[int, int]:
    """Where the last field ends, and where the message does: behind the bracket that closes it, if there is one."""
    depth = 1
    for match in _BRACKET.finditer(text, body, most):
        depth += 1 if match[0] == "(" else -1
        if not depth:
            return match.start(), match.end()
    stop = _UNCLOSED_END.search(text, body, most)
    end = max(body, len(text[: stop.start() if stop else most].rstrip()))
    return end, end


def _cut_fields(text: str, start: int, end: int) -> Iterator[Span]:
    for piece in text[start:end].split("-"):
        yield strip_span(text, Span(start, start + len(piece)))
        start += len(piece) + 1


def strip_span(text: str, span: Span) -> Span:
    """A span without the blanks at its ends; empty at its start where there is nothing else."""
    piece = text[span.start : span.end]
    stripped = piece.strip()
    start = span.start + (len(piece) - len(piece.lstrip()) if stripped else 0)
    return Span(start, start + len(stripped))
