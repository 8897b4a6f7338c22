"""Text and pictures for pages."""

from __future__ import annotations

import base64
from html import escape


def make_safe(text: str) -> str:
    """Text that no browser takes for markup, without unseen characters that turn or hide what stands beside them."""
    return escape("".join(char if char.isprintable() else "�" for char in text))


def make_picture(png: bytes, title: str, width_px: int) -> str:
    """A picture that is part of the page, so wide."""
    source = f"data:image/png;base64,{base64.b64encode(png).decode('ascii')}"
    return f'<p><img src="{source}" alt="{escape(title)}" width="{width_px}"></p>\n'
