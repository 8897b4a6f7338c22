"""Offsets of Python and of Qt: Python counts characters, Qt counts UTF-16 units. No widgets."""

from __future__ import annotations


def to_qt(text: str, offset: int) -> int:
    """An offset in characters as Qt counts it: they differ only beyond the first 65,536 characters."""
    if text.isascii():
        return offset
    return len(text[:offset].encode("utf-16-le", "surrogatepass")) // 2


def from_qt(text: str, position: int) -> int:
    """A position of Qt as an offset in characters."""
    if text.isascii():
        return position
    return len(text.encode("utf-16-le", "surrogatepass")[: 2 * position].decode("utf-16-le", "ignore"))
