"""Values as the text that stands for them in JSON: what a line has a hundred of, written without a detour.

The same bytes as `json.dumps` gives: in ASCII, without blanks, and never a figure that is no number.
"""

from __future__ import annotations

import json
from json.encoder import encode_basestring_ascii as quoted
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from routecheck.model import Span

__all__ = ["decimal", "encoded", "keyed", "listed", "quoted", "span", "spans", "strings"]

encoded = json.JSONEncoder(allow_nan=False, separators=(",", ":")).encode
"""Any plain value as JSON; raises ValueError for a figure that is no number."""
_DECIMALS = tuple(f"%.{digits}f" for digits in range(9))


def decimal(value: float | None, digits: int) -> str:
    """A figure rounded to so many decimals (0 to 8), as short as it can be; null where there is none."""
    if value is None:
        return "null"
    if not 1e-4 <= abs(value) < 1e6:
        return encoded(round(value, digits))  # 0, 1e-05, or no number at all
    text = _DECIMALS[digits] % value
    if text[-1] != "0":
        return text
    text = text.rstrip("0")
    return f"{text}0" if text[-1] == "." else text


def keyed(parts: Mapping[str, str]) -> str:
    """An object of what is JSON already, by plain keys."""
    return "{" + ",".join([f'"{key}":{text}' for key, text in parts.items()]) + "}"


def listed(parts: Iterable[str]) -> str:
    """A list of what is JSON already."""
    return "[" + ",".join(parts) + "]"


def strings(texts: Iterable[str]) -> str:
    """A list of texts."""
    return listed(map(quoted, texts))


def span(value: Span | None) -> str:
    """The first character and the one behind the last; null where there is none."""
    return f"[{value.start},{value.end}]" if value else "null"


def spans(values: Iterable[Span]) -> str:
    """A list of spans."""
    return listed(map(span, values))
