"""The route file `.route.toml`, schema 1, to a RouteInput and back. Writing keeps comments and unknown keys."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

from routecheck.model import RouteInput
from routecheck.reading.field_tables import read_fields, write_fields
from routecheck.reading.input_fields import INPUT_FIELDS
from routecheck.reading.input_format import InputFormat, read_whole
from routecheck.reading.reading_notes import ReadingNotes
from routecheck.reading.toml_merge import merge_tables
from routecheck.reading.toml_values import name_type
from routecheck.settings.documents import dump_document, parse_editable
from routecheck.settings.toml_parsing import parse_toml

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tomlkit import TOMLDocument

    from routecheck.reading.input_fields import InputField


SCHEMA = 1
_KNOWN = frozenset({"schema", *(field.file_key for field in INPUT_FIELDS)})
_NO_ROUTE = 'the route file has no route: route = "…" is the one key it must have; a direct flight is written DCT'


def read_route_file(text: str, name: str) -> RouteInput:
    """Read a route file. `unread` says why it holds no route; `not_used` names what of it is not used."""
    document, fault = _parse(text)
    if fault or not str(document.get("route", "")).strip():
        return RouteInput("", name=name, unread=fault or _NO_ROUTE)
    return _read_fields(document, name)


def write_route_file(route_input: RouteInput, existing_text: str | None = None) -> str:
    """Write a route file. With `existing_text` only the keys whose values changed are touched: all else stays.

    Raises ValueError, with a sentence for the user, where the existing text is no route file of this schema.
    """
    raw, fault = _parse(existing_text or "")
    if fault:
        raise ValueError(fault)
    document = parse_editable(existing_text or f"schema = {SCHEMA}\n")
    before = write_fields(_read_fields(raw, ""), INPUT_FIELDS)
    for field, value in write_fields(route_input, INPUT_FIELDS).items():
        if value != before[field]:
            _set_key(document, raw, field, value)
    return dump_document(document)


# ---- reading


def _parse(text: str) -> tuple[dict[str, Any], str]:
    """The document, and "" or why it is no route file of this schema. It may still lack its route."""
    document, fault = parse_toml(text)
    return document, f"the route file is broken: {fault}" if fault else _find_fault(document)


def _find_fault(document: Mapping[str, Any]) -> str:
    schema = document.get("schema", SCHEMA)
    if not isinstance(schema, int) or isinstance(schema, bool) or schema < 1:
        return f"the schema of a route file is a whole number, {SCHEMA} in this version"
    if schema > SCHEMA:
        return (
            f"this route file is of schema {schema}, from a later version of Routecheck; "
            f"this version reads schema {SCHEMA}"
        )
    route = document.get("route", "")
    return "" if isinstance(route, str) else f"the key route is {name_type(route)}, it must be text in quotation marks"


def _read_fields(document: Mapping[str, Any], name: str) -> RouteInput:
    notes = ReadingNotes()
    values = read_fields(document, INPUT_FIELDS, notes)
    notes.refuse_unknown_keys(document, _KNOWN)
    name = "" if values.get("title") else name
    return RouteInput(**values, name=name, remarks=tuple(notes.remarks), not_used=tuple(notes.not_used))


# ---- writing


def _set_key(document: TOMLDocument, raw: Mapping[str, Any], field: InputField, value: Any) -> None:
    key, kind = field.file_key, field.kind
    if kind.tables and not isinstance(value, str):

        def is_read(table: Mapping[str, object]) -> bool:
            return bool(kind.read_value([table], key, ReadingNotes()))

        value = merge_tables(document.get(key), raw.get(key), value or (), kind.tables, is_read) or None
    if value is None:
        document.pop(key, None)
    elif isinstance(value, dict) and isinstance(document.get(key), dict):
        _set_keys_of_table(document[key], value, kind.write_value(kind.read_value(raw[key], key, ReadingNotes())))
    else:
        document[key] = value


def _set_keys_of_table(table: Any, values: Mapping[str, object], before: Any) -> None:
    """Change the keys of a table that differ; comments and what was not understood stay."""
    for name in dict(before or {}).keys() - values.keys():
        table.pop(name, None)
    for name, value in values.items():
        if name not in table or value != dict(before or {}).get(name):
            table[name] = value


_OPENING_KEY = re.compile(r"^[ \t]*(?:route|schema)[ \t]*=", re.MULTILINE)

FORMAT = InputFormat(
    name="route-file",
    suffixes=(".toml",),
    looks_like=lambda head: bool(_OPENING_KEY.search(head)),
    read=read_whole(read_route_file),
)
