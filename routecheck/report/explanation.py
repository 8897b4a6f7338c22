"""The checks in words, from the catalogue in `resources/checks.json`. Imports no check: it is there to be quick."""

from __future__ import annotations

import json
import os
from itertools import groupby
from textwrap import TextWrapper
from typing import TYPE_CHECKING, Any

from routecheck import resources

if TYPE_CHECKING:
    from collections.abc import Sequence

    CheckEntry = dict[str, Any]

_WIDTH = 100


def read_catalogue() -> dict[str, CheckEntry]:
    """What is said of every check, by its name, in the order of the catalogue. A test holds it against the checks."""
    with open(os.path.join(resources.__path__[0], "checks.json"), encoding="utf-8") as file:  # noqa: PTH118, PTH123
        return {entry["name"]: entry for entry in json.load(file)}


def list_checks(entries: Sequence[CheckEntry]) -> str:
    """The names of checks by family, each with the sentence that says when it speaks up."""
    width = max(len(entry["name"]) for entry in entries)
    lines = []
    for family, members in groupby(entries, key=lambda entry: entry["family"]):
        lines += ["", family]
        lines += [f"  {entry['name'].ljust(width)}  {entry['sentence']}" for entry in members]
    return "\n".join(lines).strip() + "\n"


def explain_check(entry: CheckEntry, width: int = _WIDTH) -> str:
    """Everything a check says about itself."""
    wrapper = TextWrapper(width, break_on_hyphens=False)
    parts = [
        f"{entry['name']}, {entry['family']}, at most {entry['at_most']}",
        wrapper.fill(entry["sentence"]),
        wrapper.fill(entry["explanation"]),
        wrapper.fill(f"Known false alarms: {entry['false_alarms']}"),
        wrapper.fill(entry["measured"]),
        _write_section("Limits", [_write_limit(limit) for limit in entry["limits"]]),
        _write_section("Rests on", entry["rests_on"]),
        _write_section("Steps aside for", wrapper.wrap(", ".join(entry["explained_by"]))),
        _write_section("Speaks up (« » = the words flagged)", [_write_case(case) for case in entry["flagged"]]),
        _write_section("Stays quiet", [_write_case(case) for case in entry["quiet"]]),
    ]
    return "\n\n".join(filter(None, parts)) + "\n"


def _write_section(title: str, lines: Sequence[str]) -> str:
    return f"{title}:\n" + "\n".join(f"  {line}" for line in lines) if lines else ""


def _write_limit(limit: dict[str, Any]) -> str:
    unit = "" if limit["unit"] in ("", "°") else " "
    why = f"; {limit['why']}" if limit["why"] else ""
    return f"{limit['name']} = {limit['default']:g}{unit}{limit['unit']} ({limit['citation']}{why})"


def _write_case(case: dict[str, str]) -> str:
    return f"{case['route']}   [{case['beside']}]"
