"""What a reader sees of a text that was pasted whole: a line about it, and how each stretch is shown. No Qt."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.formatting import count
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Use, parts_of_use

if TYPE_CHECKING:
    from routecheck.model import Pasted, Span

_MOST_CHARACTERS = 50_000
"""No more is shown (our choice): a plan is shorter, a wrong file is not."""
_MOST_MARKED = 1_000
"""No more stretches are greyed, nor underlined (our choice): Qt lays a line out anew for each of them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PastedView:
    """The line over a pasted text, the text, and its stretches that are greyed or underlined; `notes` say why."""

    title: str
    text: str
    greyed: tuple[Span, ...]
    underlined: tuple[Span, ...]
    notes: tuple[tuple[Span, str], ...]
    plan_begins: int
    """Where the first stretch stands that was used; 0 where there is none."""
    is_worth_opening: bool
    """Whether something in it was not understood, or stands around the plan."""


def view_pasted(pasted: Pasted) -> PastedView:
    """How a pasted text is shown."""
    shown = pasted.text[:_MOST_CHARACTERS].replace("\r", " ")  # Qt drops it, and offsets would shift
    parts = [part for part in pasted.parts if part.span.end <= len(shown)]
    unread, around = parts_of_use(pasted.parts, Use.UNREAD), parts_of_use(pasted.parts, Use.AROUND)
    counts = [f"{count(len(pasted.text.splitlines()), 'line')} pasted"]
    counts += [f"{count(len(unread), 'part')} not understood"] if unread else []
    counts += [f"{count(len(around), 'line')} around the plan not used"] if around else []
    greyed, underlined = parts_of_use(parts, Use.NOT_USED, Use.AROUND), parts_of_use(parts, Use.UNREAD)
    cut = "" if len(shown) == len(pasted.text) else f"; the first {len(shown):,} characters are shown"
    cut += f"; the first {_MOST_MARKED:,} are marked" if max(len(greyed), len(underlined)) > _MOST_MARKED else ""
    return PastedView(
        title=f"{', '.join(counts)}{cut}",
        text=shown,
        greyed=tuple(part.span for part in greyed[:_MOST_MARKED]),
        underlined=tuple(part.span for part in underlined[:_MOST_MARKED]),
        notes=tuple((part.span, f"{part.name}: {part.why or part.use}") for part in parts),
        plan_begins=next((part.span.start for part in parts_of_use(parts, Use.USED)), 0),
        is_worth_opening=bool(unread or around),
    )
