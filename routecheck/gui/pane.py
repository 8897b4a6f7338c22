"""What the window asks of every pane. A new pane is its own module, and its line and place in the window."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from routecheck.gui.theme import Theme
    from routecheck.model import Assessment


NOT_CHECKED_YET = "Not checked yet"
"""What stands in place of every verdict while there is no answer about the input in hand."""


class Pane:
    """A part of the window, mixed into its widget. A pane overrides what concerns it; all else does nothing."""

    go_to: tuple[str, str] | None = None
    """Text and keys of the action that moves the keyboard here; None = there is no such action."""

    def take_focus(self) -> None:
        """Let the keyboard move here, unfolded where need be."""

    def refresh_font(self) -> None:
        """Take the system's text size (again)."""

    def set_theme(self, theme: Theme) -> None:
        """Use other colours."""

    def show_outdated(self) -> None:
        """Let no verdict stand: the answer that is shown is no longer about the input in hand."""

    def show_nothing(self, why: str) -> None:
        """Show nothing of any answer, for when there is none about the route in hand, and why."""

    def show_trial(self, then: Assessment | None) -> None:
        """Show what a tried correction would change; None = nothing is tried."""
