"""Digits as they are mistyped. No heights and no levels here."""

from __future__ import annotations


def swapped(digits: str) -> list[str]:
    """The texts in which two neighbouring digits, not alike, stand the other way round."""
    pairs = (i for i in range(len(digits) - 1) if digits[i] != digits[i + 1])
    return [digits[:i] + digits[i + 1] + digits[i] + digits[i + 2 :] for i in pairs]
