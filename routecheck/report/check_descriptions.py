"""Describes the checks in words from the values in their own files: for `resources/checks.json` and the README."""

from __future__ import annotations

from dataclasses import fields
from typing import TYPE_CHECKING, Any

from routecheck.checks.catalogue import PUBLISHED_ROUTES
from routecheck.checks.causes import EXPLAINED_BY
from routecheck.citations import cite
from routecheck.formatting import listing, quote
from routecheck.model import AircraftSheet, RouteInput, Weight
from routecheck.presentation.verdict import WEIGHT_NAMES
from routecheck.reading.input_fields import INPUT_FIELDS

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.checks.catalogue import Case, Check, Limit, Measured

_MOST_KNOWN = 2
"""So many known routes of an example are written out."""
_SHOWN = frozenset({"route", "departure", "destination"})
"""What every example shows."""


def describe_check(check: Check) -> dict[str, Any]:
    """Everything a check says about itself, as plain texts and figures."""
    return {
        "name": check.name,
        "family": check.family,
        "at_most": WEIGHT_NAMES[check.weight],
        "sentence": check.sentence,
        "explanation": check.explanation,
        "false_alarms": check.false_alarms,
        "measured": _describe_measured(check.measured) if check.measured else "",
        "limits": [_describe_limit(limit) for limit in check.limits],
        "rests_on": [str(cite(key)) for key in check.citations],
        "explained_by": list(EXPLAINED_BY.get(check.name, ())),
        "flagged": [_describe_case(case) for case in check.flagged],
        "quiet": [_describe_case(case) for case in check.quiet],
    }


def tabulate_checks(checks: Sequence[Check]) -> str:
    """The catalogue as a Markdown table, as the README has it."""
    rows = ["| family | check | at most | speaks up when |", "| --- | --- | --- | --- |"]
    rows += [f"| {c.family} | `{c.name}` | {WEIGHT_NAMES[c.weight]} | {c.sentence.rstrip('.')} |" for c in checks]
    return "\n".join(rows) + "\n"


def _describe_measured(measured: Measured) -> str:
    shares = {Weight.WRONG: measured.wrong, Weight.DOUBTFUL: measured.doubtful, Weight.NOTE: measured.note}
    found = [f"{WEIGHT_NAMES[weight]} on {percent:g} %" for weight, percent in shares.items() if percent]
    return f"Measured by itself, with these limits: {listing(found) or 'found on none'} of {PUBLISHED_ROUTES}."


def _describe_limit(limit: Limit) -> dict[str, Any]:
    return {
        "name": limit.name,
        "default": limit.default,
        "unit": limit.unit,
        "citation": str(cite(limit.citation)),
        "why": limit.why,
    }


def _describe_case(case: Case) -> dict[str, str]:
    given = case.given
    ends = f"{given.departure or '?'} to {given.destination or '?'}"
    ends = ends if given.departure or given.destination else "no aerodromes"
    more = [f"{len(case.known) - _MOST_KNOWN} more"] if len(case.known) > _MOST_KNOWN else []
    known = [f"known routes {listing([*case.known[:_MOST_KNOWN], *more])}"] if case.known else []
    return {"route": given.route or "(no text)", "beside": ", ".join((ends, *_values_beside(given), *known))}


def _values_beside(given: RouteInput) -> Iterator[str]:
    """What else an example gives beside its route, a text each."""
    nothing = RouteInput("")
    for field in INPUT_FIELDS:
        value = getattr(given, field.name)
        if field.name in _SHOWN or value == getattr(nothing, field.name):
            continue
        name = (field.noun or field.file_key).replace("_", " ")
        if field.kind.has_line:
            yield f"{name} {field.kind.write_text(value)}"
        else:
            yield from (f"{name} {_write_table(table)}" for table in _tables(field.kind.write_value(value)))
    yield from (f"{name} {quote(text)}" for name, text in given.typed)
    if given.sheet is not None:
        yield f"Aircraft sheet with {_write_sheet(given.sheet)}"
    if given.unread:
        yield given.unread


def _tables(value: object) -> Sequence[object]:
    return value if isinstance(value, (list, tuple)) else (value,)


def _write_table(table: object) -> str:
    """A table of a route file in one line: "point PIKAR low ft 5000"."""
    if not isinstance(table, dict):
        return str(table)
    pairs = ((key.replace("_", " "), value) for key, value in table.items())
    return " ".join(f"{key} {value:g}" if isinstance(value, float) else f"{key} {value}" for key, value in pairs)


def _write_sheet(sheet: AircraftSheet) -> str:
    nothing = AircraftSheet(sheet.name)
    given = {one.name: getattr(sheet, one.name) for one in fields(sheet)}
    return _write_table({name: value for name, value in given.items() if value != getattr(nothing, name)})
