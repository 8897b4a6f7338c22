"""The route file `.route.toml`, schema 1: reading to an entry, writing with the user's comments kept. No other form."""

from __future__ import annotations

import datetime as dt
import tomllib
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from routecheck.model import Role, RouteInput
from routecheck.reading import accepted, changed, claims, typed_fields
from routecheck.reading.rows import utc_day
from routecheck.reading.toml_merge import Kind, merged
from routecheck.settings.documents import dump_document

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping


SCHEMA = 1
_TEXTS = (
    "title",
    "departure",
    "departure_runway",
    "destination",
    "destination_runway",
    "approach",
    "speed",
    "level",
    "route",
    "aircraft_sheet",
)
_LATER = {
    "load": "weights and fuel; they are not checked in this version.",
}
"""Keys of the schema that this version keeps but does not use."""
_ROLES = {role.value: role for role in Role if role is not Role.NOT_SAID}


def read_route_file(text: str, name: str) -> RouteInput:
    """The entry of a route file. `unread` says why where there is none; what is not used stands in `remarks`."""
    try:
        document = tomllib.loads(text, parse_float=Decimal)
    except tomllib.TOMLDecodeError as error:
        return RouteInput("", name=name, unread=f"the route file is broken: {_said(error)}")
    except (ValueError, RecursionError):
        return RouteInput(
            "", name=name, unread="the route file is broken: a number or a list in it is out of all bounds"
        )
    if refused := _refusal(document):
        return RouteInput("", name=name, unread=refused)
    return _entry(document, name)


def write_route_file(route_input: RouteInput, existing_text: str | None = None) -> str:
    """The entry as a route file. With `existing_text` only the keys that changed are touched: all else stays.

    Raises ValueError, with a sentence for the user, where the existing text is no route file of this schema.
    """
    import tomlkit  # here, because only writing needs it

    before = read_route_file(existing_text, "") if existing_text is not None else RouteInput("")
    if existing_text is not None and before.unread and before.unread != _NO_ROUTE:
        raise ValueError(before.unread)
    document = tomlkit.parse(existing_text or f"schema = {SCHEMA}\n")
    raw = tomllib.loads(existing_text, parse_float=Decimal) if existing_text else {}
    for key, value in _changes(route_input, before).items():
        if key in _KINDS and not isinstance(value, str):
            value = merged(document.get(key), raw.get(key), value or (), _KINDS[key]) or None
        if value is None:
            document.pop(key, None)
        else:
            document[key] = value
    return dump_document(document)


# ---- reading


_NO_ROUTE = 'the route file has no route: route = "…" is the one key it must have; a direct flight is written DCT'


def _said(error: tomllib.TOMLDecodeError) -> str:
    text = str(error)
    return text[:1].lower() + text[1:]


def _refusal(document: Mapping[str, Any]) -> str:
    schema = document.get("schema", SCHEMA)
    if not isinstance(schema, int) or isinstance(schema, bool) or schema < 1:
        return f"the schema of a route file is a whole number, {SCHEMA} in this version"
    if schema > SCHEMA:
        return (
            f"this route file is of schema {schema}, from a later version of Routecheck; "
            f"this version reads schema {SCHEMA}"
        )
    route = document.get("route", "")
    if not isinstance(route, str):
        return f"the key route is {_kind(route)}, it must be text in quotation marks"
    return "" if route.strip() else _NO_ROUTE


def _entry(document: Mapping[str, Any], name: str) -> RouteInput:
    remarks: list[str] = []
    values: dict[str, Any] = {key: _text(document, key, remarks) for key in _TEXTS}
    for field, key, read in _OTHERS:
        if key in document:
            values[field] = read(document[key], remarks)
    unread = {
        field: text for field, key in _AS_TYPED if not values.get(field) and (text := _as_typed(document.get(key)))
    }
    remarks += [f"Not used: {said}" for key, said in _LATER.items() if key in document]
    remarks += [f"Not used: the unknown key “{key[:60]}”." for key in document if key not in _KNOWN]
    return RouteInput(
        **values, name="" if values["title"] else name, remarks=tuple(remarks), typed=tuple(unread.items())
    )


_AS_TYPED = (("date", "off_block"), ("wind", "wind"))
"""Values that are kept as typed where they cannot be read, and their keys."""


def _as_typed(value: object) -> str:
    return value.strip() if isinstance(value, str) else ""


def _text(document: Mapping[str, Any], key: str, remarks: list[str]) -> str:
    value = document.get(key, "")
    if isinstance(value, str):
        return value if key == "route" else value.strip()
    remarks.append(f"Not used: {key}; it is {_kind(value)}, but must be text in quotation marks.")
    return ""


def _role(value: object, remarks: list[str]) -> Role:
    if isinstance(value, str) and value in _ROLES:
        return _ROLES[value]
    remarks.append("Not used: role; it is one of “filed”, “cleared” and “entered”.")
    return Role.NOT_SAID


def _off_block(value: object, remarks: list[str]) -> dt.date | None:
    if isinstance(value, dt.datetime):
        if value.tzinfo is None:
            remarks.append("off_block has no time zone: taken as UTC.")
        return utc_day(value)
    if isinstance(value, dt.date):
        return value
    remarks.append(f"Not used: off_block; it is {_kind(value)}, but must be a time such as 2026-12-03T14:30:00Z.")
    return None


def _texts(key: str) -> Callable[[object, list[str]], tuple[str, ...]]:
    def read(value: object, remarks: list[str]) -> tuple[str, ...]:
        items = [value] if isinstance(value, str) else value
        if isinstance(items, list) and all(isinstance(item, str) for item in items):
            return tuple(items)
        remarks.append(f"Not used: {key}; it is {_kind(value)}, but must be a list of texts.")
        return ()

    return read


def _expect(value: object, remarks: list[str]) -> tuple[str, ...] | None:
    complaints: list[str] = []
    found = _texts("expect")(value, complaints)
    remarks += complaints
    return None if complaints else found


_OTHERS: tuple[tuple[str, str, Callable[[object, list[str]], Any]], ...] = (
    ("role", "role", _role),
    ("date", "off_block", _off_block),
    ("alternate", "alternate", _texts("alternate")),
    ("expect", "expect", _expect),
    ("claims", "claim", claims.read_claims),
    ("accepted", "accepted", accepted.read_accepted),
    ("changed", "changed", changed.read_changed),
    ("windows", "window", typed_fields.read_windows),
    ("wind", "wind", typed_fields.read_wind),
    ("isa_deviation_c", "isa_deviation_c", typed_fields.read_deviation),
)
_KNOWN = frozenset({"schema", *_TEXTS, *_LATER, *(key for _, key, _ in _OTHERS)})


def _kind(value: object) -> str:
    """What a TOML value is, in words."""
    if isinstance(value, bool):
        return "true or false"
    for kinds, said in (
        ((int, Decimal), "a number"),
        (str, "text"),
        (list, "a list"),
        (dict, "a table"),
        ((dt.date, dt.time), "a date or time"),
    ):
        if isinstance(value, kinds):
            return said
    return "something else"


# ---- writing


def _changes(route_input: RouteInput, before: RouteInput) -> dict[str, Any]:
    """What to set, and None for what to take out, where the entry differs from what the file said before."""
    new, old = _document(route_input), _document(before)
    return {key: value for key, value in new.items() if value != old[key]}


def _document(route_input: RouteInput) -> dict[str, Any]:
    """Every key in the order it is written; None where there is nothing to say."""
    ends = ("departure", "departure_runway", "destination", "destination_runway", "approach", "alternate")
    values: dict[str, Any] = {key: getattr(route_input, key) or None for key in _TEXTS}
    values["role"] = None if route_input.role is Role.NOT_SAID else route_input.role.value
    values["alternate"] = list(route_input.alternate) or None
    typed = dict(route_input.typed)
    values["off_block"] = route_input.date or typed.get("date")
    values["expect"] = None if route_input.expect is None else list(route_input.expect)
    values["claim"] = [claims.written(one) for one in route_input.claims] or None
    values["accepted"] = [accepted.written_accepted(one) for one in route_input.accepted] or None
    values["changed"] = [changed.written_change(one) for one in route_input.changed] or None
    values["window"] = [typed_fields.written_window(one) for one in route_input.windows] or None
    values["isa_deviation_c"] = (
        None if route_input.isa_deviation_c is None else typed_fields.plain(route_input.isa_deviation_c)
    )
    values["wind"] = typed_fields.written_wind(route_input.wind) or typed.get("wind")
    filed = ("off_block", "speed", "level", "route", "aircraft_sheet", "expect")
    order = ("title", "role", *ends, *filed, "wind", "isa_deviation_c", "claim", "window", "accepted", "changed")
    return {key: values[key] for key in order}


_KINDS = {
    "claim": Kind(("to",), claims.KNOWN, claims.read_claims),
    "accepted": Kind(("check", "words"), accepted.KNOWN, accepted.read_accepted),
    "changed": Kind(("old", "new"), changed.KNOWN, changed.read_changed),
    "window": Kind(("point",), typed_fields.OF_WINDOW, typed_fields.read_windows),
    "wind": Kind(("to", "level"), typed_fields.OF_WIND, typed_fields.read_wind),
}
