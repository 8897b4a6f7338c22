"""The line in the Margin that names the nearest known route, with the button that draws it dotted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QSizePolicy, QToolButton, QVBoxLayout

from routecheck.gui.theme import text_font
from routecheck.gui.widgets.labels import WrappingLabel
from routecheck.model import Proposal, Span
from routecheck.presentation.known_routes import nearest_sentence

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.gui.route_text.correction_actions import CorrectionActions
    from routecheck.model import Route

_DRAW, _TAKE_AWAY = "Draw it dotted", "Take it away"


class NearestKnownLine(QFrame):
    """Nothing where no known route leads between the same aerodromes."""

    def __init__(self, find_actions: Callable[[], CorrectionActions | None]) -> None:
        super().__init__()
        self._find_actions = find_actions
        self._as_known: Proposal | None = None
        self.label = WrappingLabel()
        self.label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        self.draw_button = QToolButton()
        self.draw_button.setText(_DRAW)
        self.draw_button.setToolTip("Show the known route in the Picture; the text stays as it is")
        self.draw_button.clicked.connect(self._toggle_drawing)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self.label)
        column.addWidget(self.draw_button, 0, Qt.AlignmentFlag.AlignLeft)
        self.hide()

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""
        for widget in (self.label, self.draw_button):
            widget.setFont(text_font(-1))

    def show_route(self, route: Route | None) -> None:
        """Show what is nearest to a route; None = there is no answer."""
        sentence = nearest_sentence(route.usage) if route else ""
        self.label.setText(sentence)
        self._as_known = _as_known_route(route) if route else None
        self.draw_button.setVisible(self._as_known is not None)
        self.setVisible(bool(sentence))
        self.refresh_trial()

    def refresh_trial(self) -> None:
        """Let the button say what it does next."""
        actions = self._find_actions()
        is_drawn = actions is not None and self._as_known is not None and actions.tried_proposal == self._as_known
        self.draw_button.setText(_TAKE_AWAY if is_drawn else _DRAW)

    def _toggle_drawing(self) -> None:
        actions = self._find_actions()
        if actions is not None and self._as_known is not None:
            actions.toggle_trial(self._as_known)
            self.refresh_trial()


def _as_known_route(route: Route) -> Proposal | None:
    """The route as the nearest known route has it, to be tried; None where the two do not differ."""
    nearest = route.usage.nearest if route.usage else None
    if nearest is None or not nearest.differences:
        return None
    whole = Span(0, len(route.route_input.route))
    return Proposal(whole, nearest.route, nearest.route, why="", clears=(), distance_nm=0.0)
