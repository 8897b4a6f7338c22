"""Values of a route as a table of TOML, field by field: a whole route file, or a version inside one."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from routecheck.model import RouteInput
from routecheck.reading.field_kinds import FieldKind
from routecheck.reading.reading_notes import ReadingNotes
from routecheck.reading.toml_values import are_tables, name_type

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from routecheck.reading.input_fields import InputField


def read_fields(document: Mapping[str, Any], fields: Sequence[InputField], notes: ReadingNotes) -> dict[str, Any]:
    """The values of a RouteInput that a table gives. What is typed and cannot be read stands in `typed`."""
    values: dict[str, Any] = {"route": ""}
    typed: list[tuple[str, str]] = []
    for field in fields:
        if field.file_key not in document:
            continue
        raw = document[field.file_key]
        with notes.fence(field.file_key):
            values[field.name] = field.kind.read_value(raw, field.file_key, notes)
        if field.kind.is_typed and not values.get(field.name) and isinstance(raw, str) and raw.strip():
            typed.append((field.name, raw.strip()))
    return {**values, "typed": tuple(typed)}


def write_fields(route_input: RouteInput, fields: Sequence[InputField]) -> dict[InputField, Any]:
    """What stands under each key, plain values before tables; None where there is nothing to say."""
    typed = dict(route_input.typed)
    values: dict[InputField, Any] = {}
    for field in fields:
        value = field.kind.write_value(getattr(route_input, field.name))
        values[field] = typed.get(field.name) if value is None else value
    return dict(sorted(values.items(), key=lambda item: _rank(item[1])))


def make_version_kind(fields: Sequence[InputField]) -> FieldKind:
    """Make the kind of another version of the route: a table with these fields."""
    known = frozenset(field.file_key for field in fields)

    def read_value(value: object, key: str, notes: ReadingNotes) -> RouteInput | None:
        if not isinstance(value, dict):
            notes.refuse(key, f"it is {name_type(value)}, but must be a table headed [{key}]")
            return None
        own = ReadingNotes()
        values = read_fields(value, fields, own)
        own.refuse_unknown_keys(value, known)
        for one in own.not_used:
            where = f"{one.where} of {key}" if one.where else key
            notes.refuse(one.name, one.because, where=where, what=one.what)
        notes.remarks.extend(own.remarks)
        if str(values["route"]).strip():
            return RouteInput(**values)
        notes.refuse(key, "it has no route")
        return None

    def write_value(version: RouteInput | None) -> dict[str, Any] | None:
        if version is None:
            return None
        return {f.file_key: value for f, value in write_fields(version, fields).items() if value is not None}

    def restore(values: Mapping[str, Any]) -> RouteInput:
        given = {f.name: f.kind.restore(values[f.name]) for f in fields if values.get(f.name) is not None}
        return RouteInput(**{"route": "", **given}, typed=tuple((str(n), str(t)) for n, t in values.get("typed", ())))

    return FieldKind(read_value=read_value, write_value=write_value, restore=restore)


def _rank(value: object) -> int:
    """Where a value may stand in a document of TOML: tables behind all else, those of tables last."""
    return 2 if isinstance(value, dict) and any(are_tables(one) for one in value.values()) else are_tables(value)
