"""TOML documents with `schema = N`: read, brought up to this schema, written. What they mean is not known here."""

from __future__ import annotations

import math
import tomllib
from decimal import Decimal
from typing import TYPE_CHECKING

from routecheck.faults import UsageError, system_reason
from routecheck.files import read_bytes
from routecheck.settings.toml_parsing import Document, parse_toml

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from tomlkit import TOMLDocument


def read_document(text: str, steps: Sequence[Callable[[Document], Document]]) -> tuple[Document, str]:
    """The document at the schema of this version, and "" or why it is not used, worded to follow a colon.

    `steps[n - 1]` brings schema n to n + 1, so this version's schema is one more than there are steps.
    """
    document, fault = parse_toml(text)
    if fault:
        return {}, f"it is broken ({fault})"
    schema, current = document.get("schema", 1), len(steps) + 1
    if not isinstance(schema, int) or isinstance(schema, bool) or schema < 1:
        return {}, f"its schema must be a whole number, {current} in this version"
    if schema > current:
        return {}, f"it is of schema {schema}, from a later version of Routecheck; this version reads schema {current}"
    for step in steps[schema - 1 :]:
        document = step(document)
    return document, ""


def editable_document(existing_text: str | None, schema: int) -> TOMLDocument:
    """A document to change in place, with its comments and unknown keys; a new one where there is none yet.

    Raises UsageError like `parse_editable`.
    """
    try:
        document = parse_editable(existing_text or "")
    except ValueError as error:
        raise UsageError(str(error)) from None
    document["schema"] = schema
    return document


def parse_editable(text: str) -> TOMLDocument:
    """What `parse_toml` takes as a document to change in place. Raises ValueError where the editing library fails."""
    import tomlkit  # here, because only writing needs it

    try:
        return tomlkit.parse(text)
    except (ValueError, RecursionError, ArithmeticError) as error:
        raise ValueError(f"it cannot be changed in place ({type(error).__name__})") from None


def dump_document(document: TOMLDocument) -> str:
    """The document as text. Where tomlkit garbles it (dotted keys turned into tables do that) comments are given up."""
    import tomlkit  # here, because only writing needs it

    text, meant = tomlkit.dumps(document), document.unwrap()
    try:
        faithful = tomllib.loads(text) == meant
    except (ValueError, RecursionError):
        faithful = False
    return text if faithful else tomlkit.dumps(meant)


def finite_number(value: object) -> float | None:
    """A finite number; None for anything else, true and false included."""
    if isinstance(value, int | float | Decimal) and not isinstance(value, bool) and math.isfinite(value):
        return float(value)
    return None


def shortest_number(value: float) -> float | int:
    """A number as people write it: 20, not 20.0."""
    return int(value) if value == int(value) else value


def read_text_file(path: Path) -> tuple[str | None, str]:
    """The text of a file, None where there is none; and "" or why it cannot be read."""
    try:
        return read_bytes(path).decode("utf-8-sig"), ""
    except FileNotFoundError:
        return None, ""
    except UnicodeDecodeError:
        return None, "it is not text in UTF-8"
    except OSError as error:
        return None, f"it cannot be read ({system_reason(error)})"
