"""How long a route text the window takes, and what it says of a longer one. No widgets."""

from __future__ import annotations

LONGEST_TEXT = 12_000
"""Characters (our choice, ten times the longest route): Qt needs seconds for one line of many."""


def describe_too_long(text: str) -> str:
    """Why a text is not shown in the window, and what takes it."""
    return (
        f"The text has {len(text):,} characters, the window takes a route of up to {LONGEST_TEXT:,}; "
        "“routecheck proof FILE” takes any."
    )
