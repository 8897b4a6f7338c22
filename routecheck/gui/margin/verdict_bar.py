"""The bar beside the verdict, coloured by its weight. The words beside it say the same."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QWidget

from routecheck.presentation.verdict import Verdict

if TYPE_CHECKING:
    from PySide6.QtGui import QPaintEvent

    from routecheck.gui.theme import Theme
    from routecheck.presentation.headline import Headline

_WIDTH = 5


class VerdictBar(QWidget):
    """The colour of Wrong or Doubtful, that of the route where it is in order, grey where something was lost."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._headline: Headline | None = None
        self.setFixedWidth(_WIDTH)

    @property
    def colour(self) -> str:
        """The colour it has now."""
        theme, over = self._theme, self._headline
        weights = {Verdict.WRONG: theme.wrong, Verdict.DOUBTFUL: theme.doubtful}
        if over is None:
            return theme.line
        return weights.get(over.verdict) or (theme.route if over.is_in_order else theme.line)

    def set_theme(self, theme: Theme) -> None:
        """Use other colours."""
        self._theme = theme
        self.update()

    def show_verdict(self, over: Headline | None) -> None:
        """Show the verdict of a headline; None = there is none."""
        self._headline = over
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802
        """Fill the bar."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(self.colour))
        painter.end()
