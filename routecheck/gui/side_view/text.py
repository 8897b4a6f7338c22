"""What a text in the Side view is, and how large. Where it stands is found in labels and window_labels."""

from __future__ import annotations

from dataclasses import KW_ONLY
from enum import Enum
from functools import lru_cache
from typing import TYPE_CHECKING

from PySide6.QtGui import QFont, QFontMetricsF

from routecheck.frozen_dataclass import dataclass
from routecheck.gui.theme import text_font

if TYPE_CHECKING:
    from routecheck.model import Weight

Rect = tuple[float, float, float, float]
LEAST_LINES = 6
"""So many lines of text high the drawing is at least."""
HALF_BRACKET, SERIF = 6.0, 4.0
"""Half the width of a bracket, and how far its corners reach."""


class SideKind(Enum):
    """What a text is, and by that its font and ink."""

    NAME = "name"
    PICKED = "picked name"
    MINOR = "minor name"
    VALUE = "value of a window"
    PICKED_VALUE = "picked value"
    LEVEL = "filed level"
    MINIMUM = "minimum"
    GAP = "gap"
    GROUND = "elevation"

    @property
    def font(self) -> QFont:
        """The font of such a text."""
        smaller = -1.0 if self in (SideKind.NAME, SideKind.PICKED, SideKind.MINOR) else -1.5
        return text_font(smaller, bold=self in (SideKind.PICKED, SideKind.PICKED_VALUE))


@dataclass(frozen=True, slots=True)
class SideText:
    """A text in its rectangle; `leader` = a line from (x, y) to (x, y) to what it belongs to, None = it stands there.

    `point` is the point it belongs to, -1 = none; `weight` that of the bracket.
    """

    rect: Rect
    text: str
    _: KW_ONLY
    kind: SideKind
    point: int = -1
    weight: Weight | None = None
    leader: Rect | None = None


def line_height(kind: SideKind = SideKind.NAME) -> float:
    """How high a line of such texts is."""
    return _metrics(kind).height()


def text_width(text: str, kind: SideKind) -> float:
    """How wide a text of that kind is."""
    return _metrics(kind).horizontalAdvance(text)


def forget_side_text_sizes() -> None:
    """Measure texts anew: the system's text size may be another."""
    _metrics.cache_clear()


@lru_cache(maxsize=len(SideKind))
def _metrics(kind: SideKind) -> QFontMetricsF:
    return QFontMetricsF(kind.font)
