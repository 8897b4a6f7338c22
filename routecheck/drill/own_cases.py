"""An instructor's own cases: the `[[case]]` tables of a drill.toml."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import tomlkit

from routecheck.drill.cases import BESIDE, LEAVE_OUT, DrillCase
from routecheck.drill.error_kinds import CLEAN, ERROR_KINDS
from routecheck.faults import UsageError
from routecheck.formatting import listing

if TYPE_CHECKING:
    from collections.abc import Sequence

_TEXTS = "departure", "destination", "route", "word", "kind", "correction", "sentence", *BESIDE


def read_own_cases(text: str, name: str) -> list[DrillCase]:
    """Read the cases of a file. Raises UsageError with what is wrong."""
    try:
        tables = tomlkit.parse(text).unwrap().get("case", [])
    except ValueError as error:
        raise UsageError(f"{name} is no TOML: {error}") from None
    if not isinstance(tables, list):
        raise UsageError(f"{name}: cases are tables named [[case]]")
    return [_read_own_case(table, f"{name}, case {number}") for number, table in enumerate(tables, start=1)]


def _read_own_case(table: object, where: str) -> DrillCase:
    if not isinstance(table, dict) or not all(isinstance(table.get(key, ""), str) for key in _TEXTS):
        raise UsageError(f"{where}: its values are texts in quotation marks")
    if unknown := [key for key in table if key not in _TEXTS]:
        raise UsageError(f"{where}: a case has no {listing(unknown, 'or')}; it has {listing(_TEXTS)}")
    found = {key: " ".join(table.get(key, "").split()) for key in _TEXTS}
    if not found["route"]:
        raise UsageError(f"{where}: it has no route")
    kind = found["kind"] or CLEAN
    if kind not in (*ERROR_KINDS, CLEAN):
        raise UsageError(f"{where}: “{kind}” is no kind of entry error; there is {listing([*ERROR_KINDS, CLEAN])}")
    shown = [*filter(None, (found["departure"], *found["route"].split(), found["destination"]))]
    case = DrillCase(
        name="",
        departure=found["departure"],
        destination=found["destination"],
        route=found["route"],
        level=found["level"],
        departure_runway=found["departure_runway"],
        destination_runway=found["destination_runway"],
        sentence=found["sentence"],
    )
    if kind == CLEAN:
        return replace(case, meant=" ".join(shown), looks_odd=True)
    words = found["word"].split()
    start = _find_words(words, shown)
    if start is None:
        raise UsageError(f"{where}: “{found['word']}” is no word of its route")
    end = start + len(words)
    correction = [] if found["correction"].casefold() in ("", LEAVE_OUT) else found["correction"].split()
    return replace(
        case,
        kind=kind,
        words=tuple(words),
        beside=(*shown[max(start - 1, 0) : start], *shown[end : end + 1]),
        correction=" ".join(correction) or LEAVE_OUT,
        meant=" ".join((*shown[:start], *correction, *shown[end:])),
    )


def _find_words(words: Sequence[str], shown: Sequence[str]) -> int | None:
    """Where these words stand one behind the other; None where they do not, or where there are none."""
    starts = range(len(shown) - len(words) + 1) if words else ()
    return next((start for start in starts if list(shown[start : start + len(words)]) == list(words)), None)
