"""The ends of the text or those beside it, one for the other, where they differ. Nothing is tried here."""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING

from routecheck.checks.text_ends import differing_ends
from routecheck.corrections.candidate import Candidate, Question
from routecheck.model import FieldChange, Span

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.checks.text_ends import TextEnd
    from routecheck.model import RouteInput

_BY_TEXT, _BY_FIELDS = 0.0, 0.4
"""What is left beside the text from another flight is likelier than a text with the ends of another: our choice."""
_MOST_OWNERS = 3
_SIDES = (("departure", ("departure_runway",)), ("destination", ("destination_runway", "approach")))
"""An end of the flight, and what belongs to the aerodrome there and goes with it."""


def agreed_ends(question: Question) -> Iterator[Candidate]:
    """The aerodromes of the text in the fields, and those of the fields in the text."""
    ends = differing_ends(question.route)
    idents = [end.idents[:_MOST_OWNERS] if end else ("",) for end in ends]
    for chosen in product(*idents):
        beside = tuple(_changes_beside(question.route_input, chosen))
        yield Candidate("as the text says", _BY_TEXT, beside=beside)
    if all(end is None or not end.procedure for end in ends):
        yield _ends_of_fields(question.route_input.route, ends)


def _changes_beside(route_input: RouteInput, chosen: tuple[str, ...]) -> Iterator[FieldChange]:
    for ident, (field, more) in zip(chosen, _SIDES, strict=True):
        if ident:
            yield FieldChange(field, getattr(route_input, field), ident)
            for name in more:
                if old := getattr(route_input, name):
                    yield FieldChange(name, old, "")


def _ends_of_fields(text: str, ends: tuple[TextEnd | None, TextEnd | None]) -> Candidate:
    """The text with the aerodromes beside it at its ends, from the first that differs to the last."""
    differing = [(end.spans[0], end.given) for end in ends if end]
    start, end = differing[0][0].start, differing[-1][0].end
    new = differing[0][1]
    if len(differing) > 1:
        new += text[differing[0][0].end : differing[-1][0].start] + differing[-1][1]
    return Candidate("as the fields say", _BY_FIELDS, Span(start, end), new)
