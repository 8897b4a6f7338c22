"""Text for pages."""

from __future__ import annotations

from html import escape


def make_safe(text: str) -> str:
    """Text that no browser takes for markup, without unseen characters that turn or hide what stands beside them."""
    return escape("".join(char if char.isprintable() else "�" for char in text))
